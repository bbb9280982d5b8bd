// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Sets of levels a load must withstand: those built in (models/parameters/requirements) and files of a user.
#pragma once

#include "sim/base/input_text.hpp"
#include "sim/inputs/scenario.hpp"

#include <string>
#include <vector>

namespace hoopfield {

/// Names of the sets that are built in, sorted.
[[nodiscard]] std::vector<std::string> library_requirements();
/// Text of a set by name; empty when there is none.
[[nodiscard]] std::string library_requirement(const std::string& name);

/// What transit.requirement takes for a name given on a surface: a set that is built in stays as it is, a file that is
/// seen from the working folder gets its whole path, so that it does not count as one beside the scenario.
[[nodiscard]] std::string requirement_from_here(const std::string& name);

/// Reads name, source, status and the tables [[case]]. Throws InputError with file, line and key.
[[nodiscard]] Requirement read_requirement(const InputText& input);

/// Fills `scenario.transit.levels` from what transit.requirement names: a set that is built in, or a file relative to
/// `base_dir`. Throws InputError at the place where the key is written.
void read_requirement_of(Scenario& scenario, const std::string& base_dir);

/// "forward", "rearward", "sideways".
[[nodiscard]] const char* vehicle_direction_name(VehicleDirection direction);

}  // namespace hoopfield
