// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The tables [[load.tier]]: reading them, writing them, checking them against the load.
#pragma once

#include "sim/base/raw_node.hpp"
#include "sim/inputs/scenario.hpp"

#include <string>
#include <vector>

namespace hoopfield {

/// Reads a list of tables; complaints name the place in `input`.
[[nodiscard]] std::vector<TierInput> read_tiers(const InputText& input, const RawNode& list);

/// The list as a file or a setter has it: `[{ height = "0.2 m", mass = "75 kg" }, ...]`.
[[nodiscard]] std::string tiers_text(const std::vector<TierInput>& tiers);

/// Throws unless heights and masses add up to those of the load.
void check_tiers(const Scenario& scenario);

}  // namespace hoopfield
