// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A comparison as a person reads it at a terminal.
#pragma once

#include "sim/compare/compare.hpp"
#include "sim/words/display_units.hpp"

#include <string>

namespace hoopfield::words {

/// What a sentence calls a side: its name, with its number in front where there are more than two.
[[nodiscard]] std::string side_name(const Comparison& comparison, std::size_t side);

/// What a candidate contains against the present wrap, in one sentence made from the numbers.
[[nodiscard]] std::string containment_sentence(const Comparison& comparison, std::size_t candidate, UnitStyle units);

/// What film and money it takes against the present wrap; empty where neither is known.
[[nodiscard]] std::string film_sentence(const Comparison& comparison, std::size_t candidate, UnitStyle units);

/// How many loads of each would tell a candidate from the present wrap, or why there is no band; may be empty.
[[nodiscard]] std::string trial_sentence(const Comparison& comparison, std::size_t candidate);

/// Everything `compare` prints, at most 80 columns wide.
[[nodiscard]] std::string compare_text(const Comparison& comparison, const PrintStyle& style);

}  // namespace hoopfield::words
