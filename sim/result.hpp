// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a prediction returns: plain arrays and numbers in SI units, no file or library types.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

/// Faces seen from above, counter-clockwise: front (+x, spans the width), left (+y, spans the length), back, right.
inline constexpr std::array<const char*, 4> face_names = {"front", "left", "back", "right"};
inline constexpr std::size_t face_count = 4;
enum Face : std::size_t { front = 0, left = 1, back = 2, right = 3 };

/// Strands on the left and right face run along the length (direction 0), those on front and back along the width (1).
constexpr std::size_t direction_of(std::size_t face) { return face == left || face == right ? 0 : 1; }

inline constexpr std::array<const char*, 3> station_names = {"top", "middle", "bottom"};

/// Dense row-major array with named use; `data.size() == product of shape`.
struct Field {
  std::vector<std::size_t> shape;
  std::vector<double> data;
  void resize(std::vector<std::size_t> new_shape, double value) {
    shape = std::move(new_shape);
    std::size_t n = 1;
    for (const std::size_t s : shape) n *= s;
    data.assign(n, value);
  }
  [[nodiscard]] double& at(std::size_t i, std::size_t j) { return data[i * shape[1] + j]; }
  [[nodiscard]] double at(std::size_t i, std::size_t j) const { return data[i * shape[1] + j]; }
  [[nodiscard]] double& at(std::size_t i, std::size_t j, std::size_t k) {
    return data[(i * shape[1] + j) * shape[2] + k];
  }
  [[nodiscard]] double at(std::size_t i, std::size_t j, std::size_t k) const {
    return data[(i * shape[1] + j) * shape[2] + k];
  }
};

/// Roll to load: what the film goes through before it is laid.
struct FilmPathResult {
  double prestretch_force = 0.0;      ///< N, constant along the gap
  double prestretch_power = 0.0;      ///< W, mechanical power put into the film in the gap
  double draw_temperature_rise = 0.0;  ///< K at the end of the gap, adiabatic
  double film_temperature = 0.0;      ///< K at the end of the gap
  double roller_speed_1 = 0.0;        ///< m/s
  double roller_speed_2 = 0.0;        ///< m/s
  double dwell_time = 0.0;            ///< s on roller 2
  double residence_time = 0.0;        ///< s from roller 2 to the load
  double stretch_in_gap = 1.0;        ///< draw ratio
  double stretch_on_load = 1.0;       ///< length on the load over length on the roll
  double laid_width = 0.0;            ///< m
  double laid_thickness = 0.0;        ///< m
  double stiffness_over_force = 0.0;  ///< EA/N = d ln N / d ln l of the laid film, elastic
  double gap_sharpness = 0.0;         ///< least l/|dl/dx| in the gap over the roll thickness
  std::vector<double> gap_position, gap_stretch, gap_temperature;  ///< profile along the gap (m, -, K)
};

/// Force in the span over one settled turn, and what each face received; with control "constant" all equal the set force.
struct SpanResult {
  double force_set = 0.0, force_mean = 0.0, force_min = 0.0, force_max = 0.0;  ///< N
  double laid_fraction = 0.0;  ///< mean force kept by the film at the end of wrapping over the set force
  std::vector<double> angle, force, take_up_speed;  ///< rad, N, m/s over one settled turn
  std::vector<double> face_turn = {};               ///< per face laid: turns since the start
  std::vector<std::size_t> face = {};               ///< per face laid
  std::vector<double> face_force = {};              ///< per face laid: force that face keeps, N
};

struct PatternResult {
  double turns = 0.0;
  double pitch = 0.0;       ///< m
  double overlap = 0.0;     ///< fraction of the laid width
  double gap = 0.0;         ///< m, greatest bare height between turns; 0 when closed
  double speed_up = 0.0;    ///< m/s
  double speed_down = 0.0;  ///< m/s
  double cycle_time = 0.0;  ///< s of rotation
  double uncovered_top = 0.0, uncovered_bottom = 0.0;  ///< m of load height without film
};

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

struct LoadResult {
  double closing_along_length = 0.0;  ///< m, greatest over the height at the end of wrapping
  double closing_along_width = 0.0;   ///< m
  double corner_force = 0.0;          ///< N/m, greatest line force on an edge at the end of wrapping
  double corner_pressure = 0.0;       ///< Pa, corner force over the arc of the corner radius
};

struct FilmUse {
  double length_on_roll = 0.0;  ///< m
  double mass = 0.0;            ///< kg
};

struct Sensitivity {
  double end = 0.0, after_storage = 0.0;  ///< d ln(containment) / d ln(force)
};

/// One assumed input and what its stated range does to the least station's hoop tension after storage.
struct UnknownInput {
  std::string key;
  std::string low_text, high_text, value_text;  ///< with units, as a user writes them
  double containment_low = 0.0, containment_high = 0.0;  ///< N/m, at the two ends of the range
  double effect = 0.0;                                   ///< (greatest - least) / nominal
  std::string how_to_measure;
  bool failed = false;  ///< an end of the range could not be computed
  std::string message;
};

struct TargetResult {
  std::string station, quantity, at;
  double wanted = 0.0, predicted = 0.0;
  bool met = false;
};

struct Warning {
  std::string code;      ///< stable, e.g. "bare-gap"
  std::string severity;  ///< "note", "caution" or "danger"
  std::string key;       ///< the input it is about; may be empty
  std::string text;
};

struct SolverCounters {
  std::size_t steps = 0, rejected = 0, iterations = 0, branch_updates = 0;
  std::size_t corner_slips = 0;  ///< times that film slipped round corners after lay-down
};

struct Result {
  std::string version;
  std::vector<double> time;    ///< s, 0 = end of wrapping; first entry 0
  std::vector<double> height;  ///< m, slice centres
  std::vector<double> turn;    ///< 1, 2, ... finished turns
  Field hoop_tension;          ///< (time, face, height) N/m
  Field film_layers;           ///< (face, height)
  Field hoop_tension_buildup;  ///< (turn, face, height) N/m
  Field layer_tension;         ///< (film_layer, face, height) N/m at time 0; NaN where there is no such layer
  Field closing_along_length;  ///< (time, height) m
  Field closing_along_width;   ///< (time, height) m
  std::vector<double> temperature;  ///< K at each time
  FilmPathResult film_path;
  SpanResult span;
  PatternResult pattern;
  ContainmentResult end, after_storage;
  LoadResult load;
  FilmUse film;
  std::optional<Sensitivity> sensitivity;
  std::vector<UnknownInput> assumed;  ///< ranked, largest effect first; empty until ranked
  std::vector<TargetResult> targets;
  std::vector<Warning> warnings;
  double force_balance_error = 0.0;  ///< greatest relative residual of closing force against film force
  SolverCounters counters;
};

}  // namespace hoopfield
