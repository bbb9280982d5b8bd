// SPDX-License-Identifier: BSD-3-Clause
#include "sim/stations/containment.hpp"

#include "sim/stations/band_film.hpp"
#include "sim/stations/least_band.hpp"
#include "sim/stations/pull_test.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield {
namespace {

/// Film layers on a face, mean over the height from `low` to `high`.
double mean_layers(const std::vector<LaidPatch>& patches, std::size_t face, double low, double high) {
  double layers = 0.0;
  for (const LaidPatch& laid : patches)
    if (laid.patch.face == face) layers += covered_fraction(laid.patch, low, high);
  return layers;
}

/// The same where a band has no height or the film's edges are not known: slice by slice.
double slice_layers(const StationMoment& m, std::size_t face, double height, double band) {
  std::vector<double> values;
  for (std::size_t s = 0; s < m.slices->size(); ++s) values.push_back(m.film_layers->at(face, s));
  return band_mean(values, m.setup->slice_height, height, band);
}

/// Least hoop tension of any face at any height of a band; one of no height reads the slice it stands in.
double least_within(const StationMoment& m, double low, double high) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t f = 0; f < face_count; ++f) {
    const auto slice = std::min(static_cast<std::size_t>(low / m.setup->slice_height), m.slices->size() - 1);
    least = std::min(least, high > low ? FaceProfile(m, f, low, high).least() : (*m.slices)[slice].tension[f]);
  }
  return least;
}

void pull_faces(const StationsInput& in, const StationMoment& m, StationResult& station) {
  station.pull_force = std::numeric_limits<double>::infinity();
  for (std::size_t f = 0; f < face_count; ++f) {
    PullTest test;
    test.height = station.height;
    test.face_length = direction_of(f) == 0 ? m.setup->length : m.setup->width;
    test.corner_distance = in.corner_distance.value_or(0.5 * test.face_length);
    test.plate_radius = 0.5 * in.plate_diameter;
    test.pull_distance = in.pull_distance;
    test.pull_rate = in.pull_rate;
    const PullReading reading = pull_test(test, *m.setup, *m.slices, f, m.path_factor, m.temperature, m.patches);
    const auto [lower_edge, upper_edge] = m.film_edges[f];
    const double formula =
        tent_factor({reading.stiffness_over_force, test.face_length, test.plate_radius, test.pull_distance,
                     upper_edge - station.height, station.height - lower_edge, in.slit});
    const double factor = in.tent_factor.value_or(1.0 + in.tent_share * (formula - 1.0));
    StationFace& face = station.faces[f];
    face.strand_force = reading.strand_force;
    face.pull_force = factor * reading.strand_force;
    if (face.pull_force < station.pull_force) {
      station.pull_force = face.pull_force;
      station.strand_force = reading.strand_force;
      station.tent_factor = factor;
      station.pull_force_film_stretch_share =
          reading.strand_force > 0.0 ? 1.0 - reading.resting_force / reading.strand_force : 0.0;
    }
  }
}

}  // namespace

double band_mean(const std::vector<double>& value, double slice_height, double height, double band) {
  const double total = slice_height * static_cast<double>(value.size());
  const auto [low, high] = band_ends(total, height, band);
  if (!(high > low)) {  // a band of no height reads the slice it stands in
    const auto s =
        static_cast<std::size_t>(std::clamp(height / slice_height, 0.0, static_cast<double>(value.size()) - 1.0));
    return value[s];
  }
  double sum = 0.0;
  for (std::size_t s = 0; s < value.size(); ++s) {
    const double from = std::max(low, static_cast<double>(s) * slice_height);
    const double to = std::min(high, static_cast<double>(s + 1) * slice_height);
    if (to > from) sum += value[s] * (to - from);
  }
  return sum / (high - low);
}

StationResult station_at(const ResolvedScenario& resolved, const StationMoment& m, std::size_t which) {
  const StationsInput& in = resolved.inputs.stations;
  StationResult station;
  station.height = resolved.station_heights()[which];
  station.time = m.time;
  station.temperature = m.temperature;
  const BandTension tension = band_tension(m, station.height, in.band_height);
  const auto [low, high] =
      band_ends(m.setup->slice_height * static_cast<double>(m.slices->size()), station.height, in.band_height);
  station.hoop_tension = tension.mean_of_faces();
  station.band_least_tension = least_within(m, low, high);
  for (std::size_t f = 0; f < face_count; ++f) {
    StationFace& face = station.faces[f];
    face.hoop_tension = tension.mean[f];
    face.film_layers = m.patches != nullptr && high > low ? mean_layers(*m.patches, f, low, high)
                                                          : slice_layers(m, f, station.height, in.band_height);
    station.film_layers += face.film_layers / static_cast<double>(face_count);
  }
  station.band_tension = station.hoop_tension * in.band_height;
  pull_faces(in, m, station);
  return station;
}

std::pair<double, double> station_reach(const ResolvedScenario& resolved, std::size_t station) {
  const StationsInput& in = resolved.inputs.stations;
  const double half = 0.5 * std::max(in.band_height, in.plate_diameter), height = resolved.station_heights()[station];
  return {height - half, height + half};
}

ContainmentResult containment(const ResolvedScenario& resolved, const StationMoment& m) {
  ContainmentResult result;
  for (std::size_t i = 0; i < result.stations.size(); ++i) result.stations[i] = station_at(resolved, m, i);
  const LeastBand least = LeastBandSearch(m, resolved.inputs.stations.band_height).least();
  result.least_hoop_tension = least.hoop_tension;
  result.least_height = least.height;
  result.least_face = least.face;
  return result;
}

}  // namespace hoopfield
