// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Results that no film or load is likely to give: said in words, or refused.
#pragma once

#include "sim/outputs/result.hpp"
#include "sim/wrap/plan.hpp"

#include <vector>

namespace hoopfield {

/// Bounds beyond which a result is doubted. All are own assumptions.
struct PlausibleBounds {
  double tension_gain = 0.02;        ///< share by which tension may rise in storage that is not colder than wrapping
  double sprung_back = 0.85;         ///< length on the load over length behind the rollers, least
  double instant_set = 0.6;          ///< share of the stretch that stays when laid film is let go at once, least
  double softening = 80.0 + 273.15;  ///< K, of film behind the rollers; polyethylene melts from about 102 degC
  double closing = 0.03;             ///< share of length or width that a load closes, greatest
  double crushed = 0.20;             ///< the same: beyond it the prediction is refused
  double kept_of_force_gain = 0.5;   ///< sensitivity after storage over that at the end of wrapping, least
};
inline constexpr PlausibleBounds plausible;

/// Throws SolverError when the load closes by more than `plausible.crushed`: no load stands that.
void refuse_crushed_load(const Scenario& scenario, const BuildUpResult& built);

/// What the film and the load do that calls their data into doubt, each with what to do about it.
/// Pinned by tests/unit/plausibility_test.cpp.
void plausibility_warnings(const Scenario& scenario, const WrapPlan& plan, const Result& result,
                           std::vector<Warning>& out);

/// More span force that storage takes back; needs the sensitivity.
void sensitivity_warning(Result& result);

}  // namespace hoopfield
