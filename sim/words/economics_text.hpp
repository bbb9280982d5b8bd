// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The chain from loads to CO2e for a terminal.
#pragma once

#include "sim/outputs/economics.hpp"
#include "sim/words/display_units.hpp"

#include <string>

namespace hoopfield::words {

/// Stands for a currency that nobody named: the currency of film.price.
inline constexpr const char* unnamed_currency = "\u00a4";

/// Digits of an amount of money, four at most: "0.0123", "0.40", "12.34", "123", "12 350".
[[nodiscard]] std::string money_digits(double amount);

/// "0.40 EUR"; without a currency "0.40 in the currency of film.price".
[[nodiscard]] std::string money(double amount, const std::string& currency);

/// "1.70 to 2.10 kg" or "1.70 kg" when both ends show the same.
[[nodiscard]] std::string range_text(double low, double high, const DisplayUnit& unit);

/// Kilograms or pounds, and per-mass prices to match.
[[nodiscard]] DisplayUnit large_mass(UnitStyle style);

/// Money per mass: "1.60 EUR/kg".
[[nodiscard]] std::string price(double per_kg, const std::string& currency, UnitStyle style);

/// Lines under a heading, at most 80 columns: per load, roll, CO2e and energy, and one year as products a reader can
/// recompute.
[[nodiscard]] std::string economics_text(const Economics& economics, UnitStyle style);

}  // namespace hoopfield::words
