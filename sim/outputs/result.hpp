// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a prediction returns: plain arrays and numbers in SI units, no file or library types.
#pragma once

#include "sim/base/faces.hpp"
#include "sim/base/warning.hpp"
#include "sim/buildup/load_result.hpp"
#include "sim/buildup/solver_counters.hpp"
#include "sim/film_path/film_path_result.hpp"
#include "sim/outputs/band_result.hpp"
#include "sim/stations/containment_result.hpp"
#include "sim/winding/span_result.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

struct PatternResult {
  double turns = 0.0;
  double pitch = 0.0;                                  ///< m
  double overlap = 0.0;                                ///< fraction of the laid width
  double gap = 0.0;                                    ///< m, greatest bare height between turns; 0 when closed
  double speed_up = 0.0;                               ///< m/s
  double speed_down = 0.0;                             ///< m/s
  double rotation_time = 0.0;                          ///< s of rotation
  double uncovered_top = 0.0, uncovered_bottom = 0.0;  ///< m of load height without film

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("turns", s.turns);
    visit("pitch", s.pitch);
    visit("overlap", s.overlap);
    visit("gap", s.gap);
    visit("speed_up", s.speed_up);
    visit("speed_down", s.speed_down);
    visit("rotation_time", s.rotation_time);
    visit("uncovered_top", s.uncovered_top);
    visit("uncovered_bottom", s.uncovered_bottom);
  }
};

struct FilmUse {
  double length_on_roll = 0.0;  ///< m
  double mass = 0.0;            ///< kg

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("length_on_roll", s.length_on_roll);
    visit("mass", s.mass);
  }
};

struct Sensitivity {
  double end = 0.0, after_storage = 0.0;  ///< d ln(containment) / d ln(force)

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("end", s.end);
    visit("after_storage", s.after_storage);
  }
};

/// One unknown input and what its range (5 % to 95 %) does to containment and to the quantity of the target.
struct UnknownInput {
  std::string key;                                       ///< "film.file" for the numbers of the film together
  std::string origin;                                    ///< "assumed", "given", "measured", "fitted"
  bool group = false;                                    ///< several numbers moved together
  std::string low_text, high_text, value_text;           ///< with units, as a user writes them
  double containment_low = 0.0, containment_high = 0.0;  ///< N/m, least station after storage, at the ends of the range
  std::string quantity, at, station;                     ///< of the target; station "" = the least one
  double low = 0.0, high = 0.0;                          ///< that quantity at the ends of the range, SI
  double effect = 0.0;                                   ///< (greatest - least) / nominal of it
  std::optional<double> share, r_squared;                ///< of the band's variance by regression, and how good that is
  std::optional<double> known_low, known_high;           ///< its band if this input were known, SI
  std::string how_to_measure, caution;                   ///< what can hurt whoever measures it so; may be empty
  bool failed = false;                                   ///< an end of the range could not be computed
  std::string message;

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("key", s.key);
    visit("origin", s.origin);
    visit("group", s.group);
    visit("low_text", s.low_text);
    visit("high_text", s.high_text);
    visit("value_text", s.value_text);
    visit("containment_low", s.containment_low);
    visit("containment_high", s.containment_high);
    visit("quantity", s.quantity);
    visit("at", s.at);
    visit("station", s.station);
    visit("low", s.low);
    visit("high", s.high);
    visit("effect", s.effect);
    visit("share", s.share);
    visit("r_squared", s.r_squared);
    visit("known_low", s.known_low);
    visit("known_high", s.known_high);
    visit("how_to_measure", s.how_to_measure);
    visit("caution", s.caution);
    visit("failed", s.failed);
    visit("message", s.message);
  }
};

struct TargetResult {
  std::string station, quantity, at;
  double wanted = 0.0, predicted = 0.0;
  bool met = false;                         ///< by probability where there is one, else by the predicted value
  std::optional<double> probability;        ///< share of draws that reach it; film that breaks or runs away does not
  std::optional<double> probability_error;  ///< standard error of that share

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("station", s.station);
    visit("quantity", s.quantity);
    visit("at", s.at);
    visit("wanted", s.wanted);
    visit("predicted", s.predicted);
    visit("met", s.met);
    visit("probability", s.probability);
    visit("probability_error", s.probability_error);
  }
};

struct Result {
  std::string version;
  std::vector<double> time;         ///< s, 0 = end of wrapping; first entry 0
  std::vector<double> height;       ///< m, slice centres
  std::vector<double> turn;         ///< 1, 2, ... finished turns
  Field hoop_tension;               ///< (time, face, height) N/m
  Field film_layers;                ///< (face, height)
  Field film_stiffness;             ///< (face, height) EA in N/m, after storage, at the rate of a blow
  Field hoop_tension_buildup;       ///< (turn, face, height) N/m
  Field layer_tension;              ///< (film_layer, face, height) N/m at time 0; NaN where there is no such layer
  Field closing_along_length;       ///< (time, height) m
  Field closing_along_width;        ///< (time, height) m
  std::vector<double> temperature;  ///< K at each time
  FilmPathResult film_path;
  SpanResult span;
  PatternResult pattern;
  ContainmentResult end, after_storage;
  ContainmentResult weakest;  ///< each station at the time between the two at which its hoop tension is least
  LoadResult load;
  FilmUse film;
  std::optional<Sensitivity> sensitivity;
  std::vector<UnknownInput> assumed;  ///< unknown inputs, ranked, largest effect first; empty until ranked
  std::vector<UnknownIndex> indices;  ///< largest total first; empty until asked for
  std::optional<BandResult> band;     ///< draws over everything uncertain; absent until drawn
  std::vector<TargetResult> targets;
  std::vector<Warning> warnings;
  double force_balance_error = 0.0;  ///< greatest relative residual of closing force against film force
  SolverCounters counters;

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("version", s.version);
    visit("time", s.time);
    visit("height", s.height);
    visit("turn", s.turn);
    visit("hoop_tension", s.hoop_tension);
    visit("film_layers", s.film_layers);
    visit("film_stiffness", s.film_stiffness);
    visit("hoop_tension_buildup", s.hoop_tension_buildup);
    visit("layer_tension", s.layer_tension);
    visit("closing_along_length", s.closing_along_length);
    visit("closing_along_width", s.closing_along_width);
    visit("temperature", s.temperature);
    visit("film_path", s.film_path);
    visit("span", s.span);
    visit("pattern", s.pattern);
    visit("end", s.end);
    visit("weakest", s.weakest);
    visit("after_storage", s.after_storage);
    visit("load", s.load);
    visit("film", s.film);
    visit("sensitivity", s.sensitivity);
    visit("assumed", s.assumed);
    visit("indices", s.indices);
    visit("band", s.band);
    visit("targets", s.targets);
    visit("warnings", s.warnings);
    visit("force_balance_error", s.force_balance_error);
    visit("counters", s.counters);
  }
};

}  // namespace hoopfield
