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

/// (face, height): `EA = sum over layers of weight dP/d ln l` over a step of blow_duration, N/m; slack film gives
/// nothing. Pinned by tests/unit/transit_scenario_test.cpp.
[[nodiscard]] Field blow_stiffness(const StackSetup& setup, const std::vector<LoadStack::Slice>& slices,
                                   double temperature);

}  // namespace hoopfield
