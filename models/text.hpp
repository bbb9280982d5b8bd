// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Words and numbers as text, independent of the locale. The one place where a number becomes digits; functions that
/// choose how many digits a person sees stand in models/units.hpp and sim/words/display_units.hpp and end here.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace hoopfield {

/// Without the white space (ASCII) at both ends.
[[nodiscard]] std::string_view trim(std::string_view text);

/// What stands behind the last slash of a path.
[[nodiscard]] std::string file_name(std::string_view path);

/// Capital letters (ASCII) made small.
[[nodiscard]] std::string lower(std::string_view text);

/// Between double quotes, as messages show what was written; nothing in it is escaped.
[[nodiscard]] std::string in_quotes(std::string_view text);

/// Fewest digits that read back to the same double; "nan", "inf", "-inf" otherwise.
[[nodiscard]] std::string shortest(double value);

/// With a fixed number of decimals, e.g. 12.30; never "-0.0".
[[nodiscard]] std::string fixed(double value, int decimals);

/// At most so many significant digits, without zeros at the end: "0.35", "2e-07".
[[nodiscard]] std::string significant(double value, int digits);

/// Hexadecimal, capital letters, with zeros in front up to a width: hexadecimal(10, 4) = "000A".
[[nodiscard]] std::string hexadecimal(std::uint64_t value, std::size_t width);

/// The number that a text is, or nothing where it is not one number and no more.
[[nodiscard]] std::optional<double> number_in(std::string_view text);

}  // namespace hoopfield
