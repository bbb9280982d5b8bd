// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film from the roll to the load: draw, dwell on the second roller, release, creep in the span.
#pragma once

#include "models/film/film_law.hpp"
#include "sim/film_path/film_path_result.hpp"

#include <optional>

namespace hoopfield {

/// Inputs in SI units.
struct FilmPathInput {
  const FilmLaw* law = nullptr;
  double roll_width = 0.0;      ///< w0, m
  double roll_thickness = 0.0;  ///< t0, m
  double density = 0.0;         ///< kg/m^3
  double heat_capacity = 0.0;   ///< J/kg/K; 0 = no heat of drawing
  double entropic_share = 1.0;
  double draw_ratio = 1.0;                ///< >= 1
  double roller_gap = 0.05;               ///< m
  double roller_arc = 0.1;                ///< m
  double internal_path = 0.5;             ///< m
  double mean_span = 1.0;                 ///< m
  double span_force = 0.0;                ///< N; with `stretch_on_load` only where the search for the force starts
  std::optional<double> stretch_on_load;  ///< when the delivery feeds a length: the stretch that lays it, > 0
  double take_up_speed = 0.0;             ///< m/s, mean speed of film on to the load: omega perimeter/(2 pi)
  double width_exponent = 0.0;            ///< n_d in the gap
  std::optional<double> width_on_load;    ///< m; when given, n_d is found from it
  double temperature = 296.15;            ///< K, of film and surroundings
};

/// What leaves the film path: numbers for the result and the state every patch starts from.
struct FilmPath {
  FilmPathResult result;
  double width_exponent = 0.0;  ///< n_d used
  WidthMode mode;               ///< free mode after the draw
  double width_factor = 1.0;    ///< W: width = roll width * W * l^-1/2
  double span_force = 0.0;      ///< N, under which the film is laid
  FilmState entry;              ///< at the exit of roller 2, free mode, still at the draw ratio
  FilmState laid;               ///< at lay-down under the span force
};

/// Chain of physics sections 1 and 2:
/// - draw at force P1 in the gap; roller speed from take-up, `v1 = take_up_speed / l_load`, solved together with
///   the draw until v1 l_load changes by less than 1e-9; what follows is computed from that v1;
/// - dwell for roller_arc/(ratio v1) at l = ratio in gap mode, at the temperature of the surroundings (the heat of
///   drawing acts in the gap only);
/// - release: m = c = 1, every e_k kept, width `w_2 = r^-n exp(-(1/2-n) sum(E e)/sum(E))`, free width on increments;
/// - elastic unloading (or loading) to the span force, creep at it on the way to the load: a point of the film passes
/// at
///   v1 l, so it arrives after T with `int_0^T v1 l dt = internal_path + mean_span`.
/// A delivery that feeds a length instead of holding a force fixes `l_load`, hence v1; the span force is then the one
/// under which film reaches the load with that stretch.
/// Throws SolverError when the film cannot carry the force, OutOfRange when the measured width fits no exponent 0..0.5.
/// Pinned by tests/unit/film_state_test.cpp and tests/consistency (SciPy).
[[nodiscard]] FilmPath solve_film_path(const FilmPathInput& input);

/// Film that has crept on its way to the load.
struct CreptFilm {
  FilmState film;
  double time = 0.0;  ///< s from the roller to the load
};

/// Drawn film after an elastic jump to the nominal stress at which it arrives at the load with a wanted stretch (see
/// creep_along). `nominal_guess` > 0 starts the search. Throws SolverError when only slack film is so short, or the
/// film cannot be stretched so far.
[[nodiscard]] CreptFilm creep_to_stretch(const FilmLaw& law, const FilmState& drawn, double stretch,
                                         double nominal_guess, double time_as_laid, const WidthMode& mode,
                                         double temperature, double tolerance);

}  // namespace hoopfield
