// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Virtual tests of a film strip: the curve, the numbers read off it, and how both are shown.
#pragma once

#include "bindings/cli/display_units.hpp"
#include "models/film/description.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hoopfield::cli {

enum class FilmTestKind { tensile, relaxation };

/// SI units.
struct FilmTest {
  FilmTestKind kind = FilmTestKind::tensile;
  double rate = 1.0;                ///< 1/s, speed of the grips over the starting length, > 0
  double stretch = 3.0;             ///< strain to go to, > 0
  double width_exponent = 0.5;      ///< n, 0..0.5
  double temperature = 296.15;      ///< K
  double hold = 3600.0;             ///< s, relaxation only, > 0
  std::optional<double> thickness;  ///< m, on the roll
};

struct FilmCurvePoint {
  double time = 0.0;     ///< s since the start of stretching
  double stretch = 1.0;  ///< length over starting length
  double stress = 0.0;   ///< nominal, Pa
};

/// What a laboratory would write under the curve. Absent where the curve has no such point.
struct FilmNumbers {
  double initial_modulus = 0.0;        ///< Pa, secant from 0 to 1 % strain
  std::optional<double> yield_stress;  ///< Pa, first maximum of nominal stress
  std::optional<double> yield_strain;
  double end_stress = 0.0;                ///< Pa, nominal, at the end of stretching
  double end_stiffness = 0.0;             ///< d ln stress / d ln stretch at the end of stretching
  std::optional<double> kept;             ///< share of end_stress left after the hold
  std::optional<double> loss_per_decade;  ///< share of end_stress lost in the last decade of time
};

struct FilmCurve {
  std::vector<FilmCurvePoint> points;
  FilmNumbers numbers;
};

/// Times of a hold a person asks for: 0.1 s to 30 days, ending with `hold`. s.
[[nodiscard]] std::vector<double> round_hold_times(double hold);

/// Throws OutOfRange for a test nobody can make.
void check_film_test(const FilmTest& test);

/// Throws SolverError when the film cannot be stretched so far, Interrupted on Ctrl-C.
[[nodiscard]] FilmCurve run_film_test(const FilmDescription& film, const FilmTest& test);

[[nodiscard]] std::string film_curve_text(const FilmDescription& film, const FilmTest& test, const FilmCurve& curve,
                                          UnitStyle units);
[[nodiscard]] std::string film_curve_json(const FilmDescription& film, const FilmTest& test, const FilmCurve& curve);
/// Columns stretch_percent, stress_MPa, time_s; `# key: value` lines above say how the test was made.
[[nodiscard]] std::string film_curve_csv(const FilmDescription& film, const FilmTest& test, const FilmCurve& curve);

}  // namespace hoopfield::cli
