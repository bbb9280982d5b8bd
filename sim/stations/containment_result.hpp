// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What the stations show at one moment.
#pragma once

#include "sim/base/faces.hpp"
#include "sim/base/members.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace hoopfield {

struct StationFace {
  double hoop_tension = 0.0;  ///< N/m, mean over the band
  double film_layers = 0.0;
  double strand_force = 0.0;  ///< N, pull test without tent factor
  double pull_force = 0.0;    ///< N, with tent factor

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("hoop_tension", s.hoop_tension);
    visit("film_layers", s.film_layers);
    visit("strand_force", s.strand_force);
    visit("pull_force", s.pull_force);
  }
};

struct StationResult {
  double height = 0.0;                         ///< m
  double time = 0.0;                           ///< s since the end of wrapping
  double temperature = 0.0;                    ///< K, of the film then
  double hoop_tension = 0.0;                   ///< N/m, mean of faces
  double band_tension = 0.0;                   ///< N, hoop tension times band height
  double band_least_tension = 0.0;             ///< N/m, least over faces and single heights in the band
  double pull_force = 0.0;                     ///< N, least over faces
  double strand_force = 0.0;                   ///< N, of the face with the least pull force
  double pull_force_film_stretch_share = 0.0;  ///< share of that pull force that is due to stretching the film further
  double tent_factor = 0.0;                    ///< of that face
  double film_layers = 0.0;                    ///< mean of faces
  double film_layers_min = 0.0, film_layers_max = 0.0;  ///< over the start phase of the carriage
  std::array<StationFace, face_count> faces;

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("height", s.height);
    visit("time", s.time);
    visit("temperature", s.temperature);
    visit("hoop_tension", s.hoop_tension);
    visit("band_tension", s.band_tension);
    visit("band_least_tension", s.band_least_tension);
    visit("pull_force", s.pull_force);
    visit("strand_force", s.strand_force);
    visit("pull_force_film_stretch_share", s.pull_force_film_stretch_share);
    visit("tent_factor", s.tent_factor);
    visit("film_layers", s.film_layers);
    visit("film_layers_min", s.film_layers_min);
    visit("film_layers_max", s.film_layers_max);
    visit("faces", s.faces);
  }
};

struct ContainmentResult {
  std::array<StationResult, 3> stations;  ///< top, middle, bottom
  double least_hoop_tension = 0.0;        ///< N/m, of the band of film that holds least: why a band, LeastBandSearch
  double least_height = 0.0;              ///< m, its middle
  std::size_t least_face = 0;

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("stations", s.stations);
    visit("least.hoop_tension", s.least_hoop_tension);
    visit("least.height", s.least_height);
    visit("least.face", FaceNames{s.least_face});
  }
};

/// Hoop tension of the weakest station, N/m.
[[nodiscard]] inline double least_of_stations(const ContainmentResult& containment) {
  double least = containment.stations[0].hoop_tension;
  for (const StationResult& station : containment.stations) least = std::min(least, station.hoop_tension);
  return least;
}

}  // namespace hoopfield
