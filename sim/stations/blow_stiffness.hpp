// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How stiff the film on a load is to a blow.
#pragma once

#include "sim/base/faces.hpp"
#include "sim/buildup/load_stack.hpp"

#include <vector>

namespace hoopfield {

/// Duration of the stretch for which the stiffness holds, s: the rise of a blow.
inline constexpr double blow_duration = 0.05;

/// (face, height): `EA = sum over layers of weight (dP/d ln l - P)` over a step of blow_duration, N/m: of film with
/// `N = EA e`, e its strain since it was stress-free, as the law of a slip plane was derived and calibrated, the
/// tangent is `dN/d ln l = EA (1 + e) = EA + N`. Slack film gives nothing. Pinned by
/// tests/unit/transit_scenario_test.cpp.
[[nodiscard]] Field blow_stiffness(const StackSetup& setup, const std::vector<LoadStack::Slice>& slices,
                                   double temperature);

}  // namespace hoopfield
