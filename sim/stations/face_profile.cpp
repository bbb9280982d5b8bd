// SPDX-License-Identifier: BSD-3-Clause
#include "sim/stations/face_profile.hpp"

#include "sim/stations/band_film.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace hoopfield {
namespace {

constexpr double touch = 1e-8;  // m: edges no further apart are one, or rounding would make gaps of them

/// Film whose edges run through a slice. They are straight along the face, so the share of its length that film covers
/// at a height needs no area.
class PartOfSlice {
 public:
  PartOfSlice(const Patch& patch, double tension)
      : tension_(tension),
        edges_{patch.edge_begin, patch.edge_end, patch.edge_begin + patch.width, patch.edge_end + patch.width} {
    lowest_ = std::min(edges_[0], edges_[1]);
    per_rise_ = 1.0 / std::max(std::abs(edges_[1] - edges_[0]), 1e-12);
  }
  [[nodiscard]] const std::array<double, 4>& edges() const { return edges_; }
  [[nodiscard]] double at(double height) const {
    return tension_ * (share_below(height) - share_below(height - (edges_[2] - edges_[0])));
  }

 private:
  /// Share of the lower edge that lies below a height.
  [[nodiscard]] double share_below(double height) const { return std::clamp((height - lowest_) * per_rise_, 0.0, 1.0); }
  double tension_;  // N/m where it covers all of the face
  std::array<double, 4> edges_;
  double lowest_, per_rise_;
};

/// Film of one face in a slice: what covers all of it, and what does not.
struct SliceFilm {
  double whole = 0.0;  // N/m
  std::vector<PartOfSlice> parts;

  SliceFilm(const LoadStack::Slice& slice, std::size_t face, const std::vector<LaidPatch>& patches) {
    for (std::size_t i = 0; i < slice.film.size; ++i) {
      if (slice.face[i] != face) continue;
      const LaidPatch& laid = patches[slice.patch[i]];
      if (slice.weight[i] >= laid.section_per_width * (1.0 - 1e-12))
        whole += slice.weight[i] * slice.nominal[i];
      else
        parts.emplace_back(laid.patch, laid.section_per_width * slice.nominal[i]);
    }
  }
  [[nodiscard]] std::vector<double> edges_between(double low, double high) const {
    std::vector<double> edges;
    edges.reserve(1 + 4 * parts.size());
    for (const PartOfSlice& part : parts)
      for (const double edge : part.edges())
        if (edge > low && edge < high) edges.push_back(edge);
    edges.push_back(high);
    std::sort(edges.begin(), edges.end());
    return edges;
  }
  [[nodiscard]] double at(double height) const {
    double sum = whole;
    for (const PartOfSlice& part : parts) sum += part.at(height);
    return sum;
  }
};

}  // namespace

FaceProfile::FaceProfile(const StationMoment& m, std::size_t face, double low, double high) {
  if (!(high > low)) return;
  for (const SlicePart& part : slice_parts(m.setup->slice_height, m.slices->size(), low, high))
    add_slice(m, face, part.slice, part.low, part.high);
}

void FaceProfile::add_slice(const StationMoment& m, std::size_t face, std::size_t s, double low, double high) {
  const LoadStack::Slice& slice = (*m.slices)[s];
  const double mean = slice.tension[face];
  if (m.patches == nullptr || slice.film.size == 0) {
    pieces_.push_back({s, low, high, mean, mean, mean});
    return;
  }
  const SliceFilm film(slice, face, *m.patches);
  for (const double edge : film.edges_between(low, high)) {
    if (edge - low <= touch) continue;
    // The straight line through two heights inside the piece, for at its ends the profile may jump.
    const double first = film.at(0.75 * low + 0.25 * edge), second = film.at(0.25 * low + 0.75 * edge);
    pieces_.push_back(
        {s, low, edge, std::max(1.5 * first - 0.5 * second, 0.0), std::max(1.5 * second - 0.5 * first, 0.0), mean});
    low = edge;
  }
}

double FaceProfile::least() const {
  double least = pieces_.empty() ? 0.0 : std::numeric_limits<double>::infinity();
  for (const Piece& piece : pieces_) least = std::min({least, piece.at_low, piece.at_high});
  return least;
}

double FaceProfile::force_between(double low, double high) const {
  double force = 0.0;
  for (const Piece& piece : pieces_) {
    const double from = std::max(low, piece.low), to = std::min(high, piece.high);
    if (to > from) force += 0.5 * (piece.at(from) + piece.at(to)) * (to - from);
  }
  return force;
}

std::size_t FaceProfile::piece_above(double height, std::size_t from) const {
  while (from + 1 < pieces_.size() && pieces_[from].high <= height + touch) ++from;
  return from;
}

FaceProfile::Band FaceProfile::least_band(double low, double high, double height) const {
  if (!(high - low > touch) || pieces_.empty()) return {0.0, 0.5 * (low + high)};
  height = std::clamp(height, touch, high - low);
  double force = force_between(low, low + height), least = force, at = low;  // N, of the band from `from` up
  const auto take = [&](double here, double from) {
    if (here < least - 1e-12 * least) least = here, at = from;
  };
  std::size_t bottom = 0, top = 0;
  for (double from = low; from < high - height - touch;) {
    bottom = piece_above(from, bottom), top = piece_above(from + height, top);
    const Piece &leaves = pieces_[bottom], &enters = pieces_[top];
    const double length = std::max(touch, std::min({leaves.high, enters.high - height, high - height}) - from);
    const double before = enters.at(from + height) - leaves.at(from);
    const double after = enters.at(from + height + length) - leaves.at(from + length);
    if (before < 0.0 && after > 0.0) {  // least inside: there as much enters as leaves
      const double inside = length * before / (before - after);
      take(force + 0.5 * before * inside, from + inside);
    }
    force += 0.5 * (before + after) * length;
    from += length;
    take(force, from);
  }
  return {std::max(least, 0.0) / height, at + 0.5 * height};
}

FaceProfile FaceProfile::with(const std::vector<double>& slice_tension) const {
  FaceProfile other = *this;
  for (Piece& piece : other.pieces_) {
    const double mean = slice_tension[piece.slice], before = piece.slice_tension;
    piece.at_low = before > 0.0 ? piece.at_low * mean / before : mean;
    piece.at_high = before > 0.0 ? piece.at_high * mean / before : mean;
    piece.slice_tension = mean;
  }
  return other;
}

double FaceProfile::least_ratio(const std::vector<double>& slice_tension) const {
  double least = std::numeric_limits<double>::infinity();
  for (const Piece& piece : pieces_)
    if (piece.slice_tension > 0.0) least = std::min(least, slice_tension[piece.slice] / piece.slice_tension);
  return least;
}

}  // namespace hoopfield
