// SPDX-License-Identifier: BSD-3-Clause
#include "sim/stations/band_film.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace hoopfield {
namespace {

std::array<double, face_count> tension_of(const SlicePart& part, const StationMoment& m) {
  const LoadStack::Slice& slice = (*m.slices)[part.slice];
  if (part.is_whole || m.patches == nullptr) return slice.tension;
  std::array<double, face_count> tension{};
  for (std::size_t i = 0; i < slice.film.size; ++i)
    tension[slice.face[i]] += section_in(part, slice, i, m.patches) * slice.nominal[i];
  return tension;
}

}  // namespace

std::vector<SlicePart> slice_parts(double slice_height, std::size_t slice_count, double low, double high) {
  constexpr double touch = 1e-9;  // of a slice: less than that of a slice counts as none of it, or as all of it
  const auto last = static_cast<double>(slice_count) - 1.0;
  const auto from = static_cast<std::size_t>(std::clamp(std::floor(low / slice_height + touch), 0.0, last));
  const auto to =
      std::max(from, static_cast<std::size_t>(std::clamp(std::ceil(high / slice_height - touch) - 1.0, 0.0, last)));
  std::vector<SlicePart> parts;
  for (std::size_t s = from; s <= to; ++s) {
    const double bottom = static_cast<double>(s) * slice_height, top = static_cast<double>(s + 1) * slice_height;
    const bool is_whole = low <= bottom + touch * slice_height && high >= top - touch * slice_height;
    parts.push_back({s, std::max(low, bottom), std::min(high, top), is_whole});
  }
  return parts;
}

double section_in(const SlicePart& part, const LoadStack::Slice& slice, std::size_t element,
                  const std::vector<LaidPatch>* patches) {
  if (part.is_whole || patches == nullptr) return slice.weight[element];
  const LaidPatch& laid = (*patches)[slice.patch[element]];
  return laid.section_per_width * covered_fraction(laid.patch, part.low, part.high);
}

std::pair<double, double> band_ends(double load_height, double height, double band) {
  return {std::clamp(height - 0.5 * band, 0.0, load_height), std::clamp(height + 0.5 * band, 0.0, load_height)};
}

double BandTension::mean_of_faces() const {
  return std::accumulate(mean.begin(), mean.end(), 0.0) / static_cast<double>(face_count);
}

BandTension band_tension(const StationMoment& m, double height, double band) {
  const double slice_height = m.setup->slice_height;
  const auto [low, high] = band_ends(slice_height * static_cast<double>(m.slices->size()), height, band);
  BandTension out;
  std::vector<SlicePart> parts = slice_parts(slice_height, m.slices->size(), low, high);
  if (!(high > low)) parts = {{parts.front().slice, 0.0, 1.0, true}};
  double length = 0.0;
  for (const SlicePart& part : parts) {
    const std::array<double, face_count> tension = tension_of(part, m);
    for (std::size_t f = 0; f < face_count; ++f) out.mean[f] += tension[f] * (part.high - part.low);
    length += part.high - part.low;
  }
  for (double& mean : out.mean) mean /= length;
  return out;
}

}  // namespace hoopfield
