// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What the stations show at one moment.
#pragma once

#include "sim/base/faces.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace hoopfield {

struct StationFace {
  double hoop_tension = 0.0;  ///< N/m, mean over the band
  double film_layers = 0.0;
  double strand_force = 0.0;  ///< N, pull test without tent factor
  double pull_force = 0.0;    ///< N, with tent factor
};

struct StationResult {
  double height = 0.0;                        ///< m
  double hoop_tension = 0.0;                  ///< N/m, mean of faces
  double band_tension = 0.0;                  ///< N, hoop tension times band height
  double pull_force = 0.0;                    ///< N, least over faces
  double strand_force = 0.0;                  ///< N, of the face with the least pull force
  double pull_force_film_stretch_share = 0.0;  ///< share of that pull force that is due to stretching the film further
  double tent_factor = 0.0;                   ///< of that face
  double film_layers = 0.0;                   ///< mean of faces
  double film_layers_min = 0.0, film_layers_max = 0.0;  ///< over the start phase of the carriage
  std::array<StationFace, face_count> faces;
};

struct ContainmentResult {
  std::array<StationResult, 3> stations;  ///< top, middle, bottom
  double least_hoop_tension = 0.0;        ///< N/m, least over height and faces where film is laid
  double least_height = 0.0;              ///< m
  std::size_t least_face = 0;
};

/// Hoop tension of the weakest station, N/m.
[[nodiscard]] inline double least_of_stations(const ContainmentResult& containment) {
  double least = containment.stations[0].hoop_tension;
  for (const StationResult& station : containment.stations) least = std::min(least, station.hoop_tension);
  return least;
}

}  // namespace hoopfield
