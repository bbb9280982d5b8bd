// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Helpers of the reader and of inputs.hpp; not for callers.
#pragma once

#include "models/parameter.hpp"
#include "sim/base/raw_node.hpp"
#include "sim/inputs/scenario.hpp"

#include <string_view>
#include <utility>

namespace hoopfield::detail {

/// Declaration of a scenario key as it acts in this scenario (targets change unit with their quantity).
/// Throws InputError for a key that is not declared.
[[nodiscard]] Parameter declaration_for(const Scenario& scenario, std::string_view key);

/// Text and place an input was written at. Set by a program: no name, no place. Left out: the file, no place.
[[nodiscard]] std::pair<InputText, Position> place_of(const Scenario& scenario, std::string_view key);

/// Complains about an input of a scenario at its place.
[[noreturn]] void fail_at(const Scenario& scenario, std::string_view key, const Complaint& complaint);
[[noreturn]] void fail_range_at(const Scenario& scenario, std::string_view key, const Complaint& complaint);

[[nodiscard]] bool is_written(const Scenario& scenario, std::string_view key);

/// Half the diagonal of the load as it turns, m: the outlet must stand farther out.
[[nodiscard]] double reach_of_load(const Scenario& scenario);

/// Text of a command line, a program or a table as the TOML node it stands for.
[[nodiscard]] RawNode node_from_text(const Parameter& declaration, std::string_view key, std::string_view text);

/// Puts a node into the field of a key, without validating the whole; the caller does that. Complaints name the place
/// in `input`.
void put(Scenario& scenario, std::string_view key, const RawNode& node, const InputText& input);
/// The same for a number that is already SI.
void put_number(Scenario& scenario, const std::string& key, double in_si);

}  // namespace hoopfield::detail
