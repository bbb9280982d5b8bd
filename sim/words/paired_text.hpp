// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What the draws say of two sides, in words.
#pragma once

#include "sim/compare/compare.hpp"
#include "sim/words/display_units.hpp"

#include <string>

namespace hoopfield::words {

/// "4.0 to 14 % more", "18 to 24 % less", "12 % less to 32 % more" of the ends of a ratio.
[[nodiscard]] std::string change_range(double low_ratio, double high_ratio);

/// "9.1 % more", "9.1 % less", "as much" of a ratio.
[[nodiscard]] std::string change(double ratio);

/// How many loads of each side, read once each, would tell the two apart. Empty where they need not be told apart.
[[nodiscard]] std::string loads_text(const PairedBand& paired);

/// Yearly savings of every candidate with their bands, at most 80 columns wide; empty without a year.
[[nodiscard]] std::string savings_text(const Comparison& comparison, UnitStyle style);

/// The same for one candidate as a sentence.
[[nodiscard]] std::string savings_sentence(const Comparison& comparison, std::size_t candidate, UnitStyle style);

}  // namespace hoopfield::words
