// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield check`: validates a scenario and shows every resolved input with its origin.
#pragma once

#include "bindings/cli/program.hpp"
#include "sim/inputs/scenario.hpp"

#include <optional>
#include <string>

namespace hoopfield::cli {

/// The page `check` prints: key, value, unit, origin and line of every input of scenario and film file in 80 columns,
/// assumed ones marked and counted, then warnings. Without a style values are in SI, else in the
/// customary units of that style.
[[nodiscard]] std::string check_page(const Scenario& scenario, std::optional<UnitStyle> units);

void add_check_command(Program& program);

}  // namespace hoopfield::cli
