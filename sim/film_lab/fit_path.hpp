// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A measured curve made ready for fitting: the path of the film in small steps, and where it is compared.
#pragma once

#include "models/film/width_mode.hpp"
#include "sim/film_lab/lab_curve.hpp"

#include <algorithm>
#include <vector>

namespace hoopfield {

/// One step of the path; the film moves at constant log rate from the step before.
struct FitStep {
  double stretch = 1.0;
  double duration = 0.0;  ///< s; 0 = elastic jump
  int reading = -1;       ///< index of the reading at its end, or -1
};

/// A piece of a curve: the film is stretched, let back, held, left under a load or without one.
enum class FitLeg : unsigned char { loading, unloading, hold, creep, free };

/// Mean of the points that fell into one bin.
struct FitReading {
  double time = 0.0, stretch = 1.0, stress = 0.0;
  double scale = 1.0;   ///< Pa, what a relative error is relative to
  double count = 1.0;   ///< points averaged
  std::size_t leg = 0;  ///< of FitPath::legs
  double place = 0.0;   ///< along that leg, 0 to 1: root of the distance, or logarithm of the time since it began
};

struct FitPath {
  std::string name;
  FilmTestKind kind = FilmTestKind::tensile;
  double temperature = 296.15;
  WidthMode mode;
  std::vector<FitStep> steps;
  std::vector<FitReading> readings;
  std::vector<FitLeg> legs;
  double noise = 0.0;  ///< of one point, relative to its scale, from the scatter between neighbours
  double greatest_stretch = 1.0;
  double longest_hold = 0.0;  ///< s, between the grips or under a load
  double longest_free = 0.0;  ///< s, without force
  double rate = 0.0;          ///< 1/s, of the first stretching

  [[nodiscard]] bool has(FitLeg leg) const { return std::find(legs.begin(), legs.end(), leg) != legs.end(); }
};

/// Cuts the curve into legs (up, back, hold, free), averages the points of a leg in bins - even in the root of the
/// distance where the film moves, in the logarithm of time where it rests - and joins the bins by steps of at most
/// 2 % stretch.
[[nodiscard]] FitPath make_fit_path(const LabCurve& curve);

}  // namespace hoopfield
