// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How much work a wrap may ask for, judged before it is done.
#pragma once

#include "sim/inputs/scenario.hpp"

namespace hoopfield {

/// Most turns of one wrap, and most products of turns and film elements per slice (own assumptions): each element takes
/// a step at each turn's end. The reference case has 17 turns and a product near 240; two hundred times that takes
/// fifty to a hundred times its work, as long rows of elements cost less each.
inline constexpr double most_turns = 1000.0;
inline constexpr double most_turn_elements = 52000.0;

/// Refuses a pattern of more turns or film elements at the key that asks for them.
/// \param turns       of the wrap
/// \param laid_width  m, of the film on the load; a lower bound gives a lower bound of the estimate
/// Throws OutOfRange with place, key and the estimate.
void require_workable(const Scenario& scenario, double turns, double laid_width);

/// The same for the fewest turns that the inputs allow, before the film on the load is known.
void require_workable_inputs(const Scenario& scenario);

/// Most SolverCounters::work() of a prediction: a hundred times that of the reference case for all that is as small,
/// beyond it in proportion to slices times turns and moments; finer tolerances take more steps.
[[nodiscard]] double most_work(double slices, double turns, double moments, double tolerance);

}  // namespace hoopfield
