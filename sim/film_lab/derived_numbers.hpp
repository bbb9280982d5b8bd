// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The numbers films are compared by. Each is defined by the formula of its declaration ("film_numbers.…" in
/// models/parameter_film_numbers.cpp; `hoopfield explain film_numbers`), and computed here by virtual tests.
#pragma once

#include "models/film/description.hpp"
#include "models/parameter.hpp"
#include "sim/base/observer.hpp"
#include "sim/film_lab/film_test.hpp"

#include <optional>
#include <vector>

namespace hoopfield {

/// How the virtual tests behind the numbers are made. SI.
struct DerivedSettings {
  double rate = usual_rate;           ///< 1/s, grip speed over starting length
  double stretch = usual_stretch;     ///< strain on the load
  double width_exponent = 0.5;        ///< n, 0..0.5
  std::optional<double> temperature;  ///< K; the film's reference when left out
};

/// SI; absent where the film cannot be stretched so far, has no knee, or the film file has no break stretch.
struct DerivedNumbers {
  std::optional<double> secant_modulus;             ///< Pa
  std::optional<double> knee_stress;                ///< Pa
  std::optional<double> stress_at_100;              ///< Pa; force = stress x width x thickness on the roll
  std::optional<double> stress_at_200;              ///< Pa
  std::optional<double> stress_at_250;              ///< Pa
  std::optional<double> stress_at_300;              ///< Pa
  std::optional<double> hardening_slope;            ///< Pa
  std::optional<double> work_to_draw;               ///< J/m^3
  std::optional<double> unloading_stiffness;        ///< Pa
  std::optional<double> held_stiffness_over_force;  ///< -
  std::optional<double> kept_1_min;                 ///< share
  std::optional<double> kept_1_h;
  std::optional<double> kept_24_h;
  std::optional<double> kept_30_d;
  std::optional<double> permanent_set;  ///< strain of the starting length
  std::optional<double> break_stretch;  ///< strain
};

struct DerivedField {
  const Parameter* parameter;  ///< name, unit, meaning and formula; never null
  std::optional<double> DerivedNumbers::*value;
};

/// All numbers in the order of the glossary.
[[nodiscard]] const std::vector<DerivedField>& derived_fields();

/// Throws OutOfRange for settings nobody can test at, Interrupted when the observer asks for it.
[[nodiscard]] DerivedNumbers derive_numbers(const FilmDescription& film, const DerivedSettings& settings = {},
                                            Observer* observer = nullptr);

/// A number is read where a straight line through its neighbours of the curve stands; absent beyond the curve.
[[nodiscard]] std::optional<double> stress_at_stretch(const FilmCurve& curve, double stretch);
[[nodiscard]] std::optional<double> knee_of(const FilmCurve& curve);
[[nodiscard]] double work_of(const FilmCurve& curve, double stretch);

}  // namespace hoopfield
