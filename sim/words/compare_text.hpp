// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A comparison as a person reads it at a terminal.
#pragma once

#include "sim/compare/compare.hpp"
#include "sim/words/display_units.hpp"

#include <string>

namespace hoopfield::words {

/// One sentence for a candidate: containment and cost against the present side, made from the numbers.
[[nodiscard]] std::string candidate_sentence(const Comparison& comparison, std::size_t candidate, UnitStyle units);

/// Everything `compare` prints, at most 80 columns wide.
[[nodiscard]] std::string compare_text(const Comparison& comparison, const PrintStyle& style);

}  // namespace hoopfield::words
