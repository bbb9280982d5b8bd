// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Why hoop tension is least where it is least.
#pragma once

#include "bindings/cli/words.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <string>

namespace hoopfield::cli {

/// The band of film that holds least after storage and the shares that led to it: film layers, tension laid down, what
/// the closing of the load took, what storage took, the difference between faces. Every statement is read off the
/// result.
[[nodiscard]] std::string least_explanation(const Scenario& scenario, const Result& result, UnitStyle units);

}  // namespace hoopfield::cli
