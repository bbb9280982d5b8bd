// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What an output is called on every surface, from its one declaration.
#pragma once

#include "models/parameter.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace hoopfield {

/// Names of the dimensions of an output, outermost first.
[[nodiscard]] std::vector<std::string> axis_list(const Parameter& output);

/// The name of a number in JSON: the last part of its key and the unit, "hoop_tension_N_per_m".
[[nodiscard]] std::string json_leaf(const Parameter& output);

/// The whole key with the unit, "containment.hoop_tension_N_per_m".
[[nodiscard]] std::string json_key(const Parameter& output);

/// SI to the unit of the JSON object.
[[nodiscard]] double json_number(const Parameter& output, double in_si);
/// And back.
[[nodiscard]] double si_of_json(const Parameter& output, double number);

/// Unit in result files and datasets: SI in the spelling of UDUNITS, "1" for pure numbers; money has no unit there.
[[nodiscard]] std::string file_unit(const Parameter& output);

/// A name and the unit of the number in JSON, "height_m": columns of CSV tables hold the same numbers as the JSON
/// object.
[[nodiscard]] std::string named_with_unit(std::string_view name, const Parameter& output);

/// What stands behind a name for a unit, "_N_per_m", "_percent", "_C"; nothing for a pure number.
[[nodiscard]] std::string unit_ending(std::string_view unit);

/// Group and name in a result file; the group of the root is empty.
[[nodiscard]] std::string file_group(const Parameter& output);
[[nodiscard]] std::string file_name(const Parameter& output);

/// The key of one number of an output at named places of its axes: `containment.hoop_tension` at "end", "top" is
/// `containment.end.top.hoop_tension`, `containment.faces.pull_force` has `.faces.front` behind the station.
[[nodiscard]] std::string key_at(const Parameter& output, const std::vector<std::string>& axis_names);

}  // namespace hoopfield
