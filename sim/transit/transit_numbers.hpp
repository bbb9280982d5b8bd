// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The static numbers of a load in transit as outputs with names: what sweeps, comparisons and draws take.
#pragma once

#include "sim/outputs/outputs.hpp"
#include "sim/transit/scenario_stack.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

namespace hoopfield {

/// Leaf names of the static numbers: first_slip, held, tipping, withstood, film_share and margin, in the order of the
/// declarations (models/parameter_outputs_transit.cpp).
[[nodiscard]] std::span<const char* const> transit_leaves();

/// One of them by its place in transit_leaves(), SI; NaN for a margin without a static level.
[[nodiscard]] double transit_number(const TransitInput& input, const TransitSide& side, std::size_t direction,
                                    std::size_t leaf);

/// "transit.weakest.along_width.held"
[[nodiscard]] std::string transit_name(std::size_t moment, std::size_t direction, std::size_t leaf);

/// Every moment, direction and leaf, the leaf fastest; `place` counts them. Thread-safe.
[[nodiscard]] const std::vector<SummaryOutput>& transit_outputs();

/// Their values in that order, SI. Throws InputError for a scenario whose goods have no mass.
[[nodiscard]] std::vector<double> transit_numbers(const Scenario& scenario, const Result& result);

/// Those of the least hoop tension alone, the leaf fastest, then the direction; empty for goods without a mass.
[[nodiscard]] std::vector<double> weakest_transit_numbers(const Scenario& scenario, const Result& result);

/// Throws InputError that names the missing key when nothing can be said of the load in transit.
void require_transit_inputs(const Scenario& scenario);

}  // namespace hoopfield
