// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Unit strings ("70 N", "12 rpm", "2.0e-7 1/s") to SI and back. Units are converted once, at the edge; inside all is
/// SI.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hoopfield {

/// Exponents of the base dimensions. Plane angle counts as one, so that "12 rpm" and "12 1/s" are told apart.
struct Dimension {
  enum Base : std::size_t { length, mass, time, temperature, amount, angle };
  std::array<int, 6> exponent{};
  friend bool operator==(const Dimension&, const Dimension&) = default;
};

/// A unit: `SI = number * factor + offset`; the offset is not zero for degC and degF only.
struct Unit {
  double factor = 1.0;
  double offset = 0.0;
  Dimension dimension;
};

/// Why a text is not the quantity wanted, in the three parts of an error message (without final stops).
struct UnitProblem {
  std::string what;      ///< what was wrong
  std::string expected;  ///< what was expected
  std::string hint;      ///< likely meaning, as it should be written; may be empty
};

/// Parses a unit such as "N", "kg/m^3", "J/kg/K", "1/s", "/lb" or "%"; the empty text is the unit of a pure number.
/// Symbols: m cm mm um km in ft mil ga; g kg mg lb oz; s ms min h d; N kN mN lbf; Pa kPa MPa GPa psi; J kJ MJ kcal; W
/// kW Hz; mol; K degC degF; rad deg rev rpm; %. Division binds left to right (J/kg/K = J/(kg K)); powers are whole
/// numbers. "gauge" is "ga".
/// Returns nothing for an unknown symbol and says so in `problem` when given. degC and degF carry their offset
/// only when they stand alone; inside a compound unit they are temperature differences.
[[nodiscard]] std::optional<Unit> find_unit(std::string_view text, UnitProblem* problem = nullptr);

/// Reads "number unit" into SI. `si_unit` names the dimension wanted ("N", "rad/s", "" for a pure number or percent).
/// Returns nothing, and the reason in `problem`, for text that is not a number, a number that is not finite, a missing,
/// unknown or wrong unit.
[[nodiscard]] std::optional<double> read_quantity(std::string_view text, std::string_view si_unit,
                                                  UnitProblem& problem);

/// The same for callers without a file behind them. Throws InputError.
[[nodiscard]] double parse_quantity(std::string_view text, std::string_view si_unit);

/// Converts an SI value to a unit (no check that it fits). Throws InputError for an unknown unit.
[[nodiscard]] double to_unit(double in_si, std::string_view unit);

/// Shortest decimal text with at most `digits` significant digits: "70", "0.35", "2e-07", "infinite".
[[nodiscard]] std::string format_number(double value, int digits = 6);

/// For messages: four significant digits, whole numbers from 1000 up, no exponent below 1e15: "442.6", "0.25", "86400".
[[nodiscard]] std::string short_number(double value);

/// An SI value in a unit, as a user would write it: format_quantity(0.5, "mm") = "500 mm". "" gives the number alone.
[[nodiscard]] std::string format_quantity(double in_si, std::string_view unit, int digits = 6);

/// An input in a unit: all its digits when seven or fewer say it exactly, else four, without exponent from 1e-4 to
/// 1e15: "508.35 mm", "15.74 lbf" for 70 N, "1000000 kPa".
[[nodiscard]] std::string format_input(double in_si, std::string_view unit);

/// The word for the dimension of an SI unit with its article: "a force", "a length"; "a value in X" where there is no
/// word.
[[nodiscard]] std::string dimension_word(std::string_view si_unit);

/// Units a user may write where `si_unit` is due, customary first: "N, kN or lbf".
[[nodiscard]] std::string accepted_units(std::string_view si_unit);

/// Number of single-letter edits (insert, delete, replace, swap of neighbours) between two texts.
[[nodiscard]] std::size_t edit_distance(std::string_view a, std::string_view b);

}  // namespace hoopfield
