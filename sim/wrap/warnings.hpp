// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a person must know about a result before trusting it.
#pragma once

#include "sim/buildup/build_up.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"
#include "sim/wrap/plan.hpp"

#include <vector>

namespace hoopfield {

/// Warnings about pattern, span force against tiers, film and load, most severe first. Texts carry the numbers they are
/// about.
[[nodiscard]] std::vector<Warning> collect_warnings(const Scenario& scenario, const WrapPlan& plan,
                                                    const BuildUpResult& built, const Result& result);

}  // namespace hoopfield
