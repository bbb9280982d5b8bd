// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The numbers behind the pictures of a report, read off a result.
#pragma once

#include "models/pattern/pattern.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <array>
#include <string>
#include <vector>

namespace hoopfield {

/// Hoop tension at one station, mean of the faces over the band, N/m.
struct StationFigure {
  std::vector<double> over_time;   ///< at each time of the result
  std::vector<double> over_turns;  ///< when each turn is finished
  std::vector<double> as_laid;  ///< what the film laid so far carried at lay-down; the difference is what it lost since
};

/// One film layer in the band of the middle station, counted from the load outward.
struct LayerFigure {
  double as_laid = 0.0;  ///< N/m at lay-down, where the layer covers the load
  double at_end = 0.0;   ///< N/m at the end of wrapping
};

/// Film pulled at a constant rate from the roll's state, free width.
struct FilmCurveFigure {
  double rate = 0.0;            ///< 1/s, of the starting length
  double temperature = 0.0;     ///< K
  std::vector<double> stretch;  ///< length over length on the roll
  std::vector<double> force;    ///< N, whole roll width
};

/// A place in the film's life: stretch and the force of the whole width there.
struct WorkingPoint {
  const char* name = "";  ///< "prestretch", "on_load", "after_storage"
  double stretch = 1.0;
  double stretch_low = 1.0, stretch_high = 1.0;  ///< range over the layers at the middle station
  double force = 0.0;                            ///< N
};

/// Film laid in one part of the wrap.
struct ZoneFigure {
  const char* name = "";  ///< "bottom turns", ...
  double turns = 0.0;
  double mass = 0.0;       ///< kg
  double above_top = 0.0;  ///< kg of it above the top edge of the load
};

/// What a title says about a picture, computed from the same numbers.
struct ReportFindings {
  std::size_t weakest_station = 0;                   ///< least hoop tension after storage
  double weakest_change = 0.0;                       ///< hoop tension there after storage over end of wrapping, minus 1
  std::size_t strongest_face = 0, weakest_face = 0;  ///< by mean over the height after storage
  double strongest_face_mean = 0.0, weakest_face_mean = 0.0;  ///< N/m
  double face_difference = 0.0;                               ///< weakest over strongest mean, minus 1
  std::size_t least_place_best_face = 0;                      ///< holds most in the band that holds least after storage
  double least_place_best = 0.0;                              ///< N/m, on that face in that band
  double least_place_more = 0.0;                              ///< over the least hoop tension there, minus 1
  double build_up_loss = 0.0;  ///< share lost at the middle station by the end of wrapping
  double span_swing =
      0.0;  ///< greatest distance of the span force from the set force over a settled turn, over the set force
  std::size_t largest_zone = 0;
  double largest_zone_share = 0.0;
  double stretch_given_back = 0.0;  ///< pre-stretch less stretch on the load, strain
};

struct ReportFigures {
  std::array<StationFigure, 3> stations;  ///< top, middle, bottom
  std::vector<LayerFigure> layers;
  std::vector<FilmCurveFigure> film_curves;
  std::vector<WorkingPoint> working_points;
  std::vector<ZoneFigure> zones;  ///< masses add up to the film mass of the load
  double film_stiffness = 0.0;    ///< N per strain of the whole width as laid, elastic
  ReportFindings findings;
};

/// Names of the zones, in the order of PatternZone, then what is neither on a face nor in a turn.
inline constexpr std::array<const char*, pattern_zone_count + 1> zone_names = {
    "bottom turns", "climb", "top turns", "descent", "last turn", "corners, cut end"};

/// Numbers of the pictures for one prediction. Plans the wrap again (milliseconds). Throws what predict() throws.
[[nodiscard]] ReportFigures report_figures(const Scenario& scenario, const Result& result);

}  // namespace hoopfield
