// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Virtual tests of a film strip between two grips, in the style of laboratory tests; every number is an input and no
/// compliance with any standard is claimed. The numbers read off a curve stand in derived_numbers.hpp.
#pragma once

#include "models/film/description.hpp"
#include "sim/base/observer.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

/// - tensile: pulled at constant grip speed to `stretch`.
/// - relaxation: then held there for `hold`.
/// - recovery: pulled, held for `release_hold`, let back at the same speed until the force is gone, then free for
/// `wait`.
/// - cycle: pulled to `stretch` and let back until the force is gone, `cycles` times.
/// - creep: pulled until the nominal stress is `creep_stress`, which then acts for `hold`.
enum class FilmTestKind { tensile, relaxation, recovery, cycle, creep };

[[nodiscard]] const char* film_test_name(FilmTestKind kind);
[[nodiscard]] std::optional<FilmTestKind> film_test_kind(const std::string& name);

/// How films are tested and compared where nobody says otherwise: speed of the grips over the starting length (1/s) and
/// strain on the load. The command and Python have the same.
inline constexpr double usual_rate = 1.0, usual_stretch = 2.5;

/// SI units. Initial strain rate = crosshead speed over grip separation (ASTM D882: 500 mm/min on 50 mm is 0.167 1/s).
struct FilmTest {
  FilmTestKind kind = FilmTestKind::tensile;
  double rate = usual_rate;         ///< 1/s, speed of the grips over the starting length, > 0
  double stretch = usual_stretch;   ///< strain to go to, > 0
  double width_exponent = 0.5;      ///< n, 0..0.5: width goes with stretch^-n
  double temperature = 296.15;      ///< K
  double hold = 3600.0;             ///< s, relaxation and creep, > 0
  double release_hold = 60.0;       ///< s, recovery: held at `stretch` before the release, >= 0
  double wait = 86400.0;            ///< s, recovery: free after the release, > 0
  int cycles = 3;                   ///< cycle, 1..100
  double creep_stress = 0.0;        ///< Pa, nominal, creep only, > 0
  bool draw_heat = false;           ///< work done on the film heats it (no heat lost; needs thermal.heat_capacity)
  std::optional<double> thickness;  ///< m, on the roll; only for showing forces
};

enum class FilmPhase : unsigned char { stretching, holding, releasing, free };

struct FilmCurvePoint {
  double time = 0.0;     ///< s since the start of stretching
  double stretch = 1.0;  ///< length over starting length
  double stress = 0.0;   ///< nominal, Pa
  FilmPhase phase = FilmPhase::stretching;
  double temperature = 0.0;  ///< K
};

/// What a laboratory would write under the curve. Absent where the curve has no such point.
struct FilmNumbers {
  std::optional<double> secant_modulus;  ///< Pa, secant from 0 to 1 % strain
  std::optional<double> yield_stress;    ///< Pa, first maximum of nominal stress
  std::optional<double> yield_strain;
  std::optional<double> end_stress;        ///< Pa, nominal, at the end of the first stretching
  std::optional<double> end_stiffness;     ///< d ln stress / d ln stretch at the end of the first stretching
  std::optional<double> kept;              ///< share of end_stress left after the hold
  std::optional<double> loss_per_decade;   ///< share of end_stress lost in the last decade of time
  std::optional<double> release_stretch;   ///< strain when the force is first gone (recovery, cycle)
  std::optional<double> permanent_set;     ///< strain after the wait, of the starting length (recovery)
  std::optional<double> permanent_share;   ///< the same over the strain reached: 1 - elastic recovery
  std::optional<double> elastic_recovery;  ///< share of the strain reached that is gone after the wait
  std::optional<double> work_lost_first;   ///< 1 - work given back / work done, first cycle
  std::optional<double> work_lost_last;    ///< the same, last cycle
  std::optional<double> peak_kept;         ///< stress at the top of the last cycle over that of the first
  std::optional<double> creep_start;       ///< strain when the creep stress is reached
  std::optional<double> creep_strain;      ///< strain added while it acts
};

struct FilmCurve {
  std::vector<FilmCurvePoint> points;
  FilmNumbers numbers;
  std::size_t loaded = 0;  ///< index of the last point of the first stretching
};

/// One test of a series and its curve.
struct TestedFilm {
  FilmTest test;
  FilmCurve curve;
};

/// Times of a hold a person asks for: 0.1 s to 30 days, ending with `hold`. s.
[[nodiscard]] std::vector<double> round_hold_times(double hold);

/// Throws OutOfRange for a test nobody can make; the key names the option.
void check_film_test(const FilmTest& test);

/// Throws SolverError when the film cannot be stretched so far, Interrupted when the observer asks for it.
[[nodiscard]] FilmCurve run_film_test(const FilmDescription& film, const FilmTest& test, Observer* observer = nullptr);

}  // namespace hoopfield
