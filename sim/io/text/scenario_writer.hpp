// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Scenarios back to text: what a program changed can be kept, sent and read again.
#pragma once

#include "sim/inputs/scenario.hpp"

#include <string>

namespace hoopfield {

/// The scenario as TOML: every input that was written or set, in SI units or percent, with its origin. What is assumed
/// or derived is left out and comes back when the text is read. Reading it with the same film text gives the same
/// inputs to the last bit. Pinned by tests/unit/scenario_writer_test.cpp.
[[nodiscard]] std::string scenario_text(const Scenario& scenario);

}  // namespace hoopfield
