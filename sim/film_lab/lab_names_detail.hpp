// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Names and units as laboratories write them above a table: English, German, French and Spanish, with or without
/// accents.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace hoopfield::detail {

enum class LabMeaning { none, stretch, displacement, force, stress, time };

/// A cell of a header taken apart: `Name (unit)`, `Name [unit]`, `name_unit`, `Name in unit`, `Name / unit` or a name
/// alone.
struct LabName {
  std::string name;                  ///< small letters without accents
  std::vector<LabMeaning> meanings;  ///< likeliest first, the unit decides; empty for no column of a curve
  std::string unit;                  ///< as lab_unit() spells it; empty when none is written
  bool marked = false;               ///< the unit stands in brackets or behind an underscore
  [[nodiscard]] bool may_mean(LabMeaning meaning) const;
};

[[nodiscard]] LabName take_apart(std::string_view cell);

/// Small letters without accents; underscores and runs of blanks become one blank.
[[nodiscard]] std::string plain_name(std::string_view text);

/// A unit as find_unit() reads it: "N/mm2" (or a raised 2) becomes "N/mm^2", "Prozent" becomes "%", "sec" becomes "s";
/// and a pure number ("mm/mm", "-") becomes "1".
[[nodiscard]] std::string lab_unit(std::string_view text);

/// Cells of one line, quotes and blanks around them taken off.
[[nodiscard]] std::vector<std::string> split_line(std::string_view line, char separator);

/// Semicolon before tab before comma, whichever the line holds.
[[nodiscard]] char separator_of(std::string_view line);

/// Whether a line names a length and a pull, so that a table can begin below it.
[[nodiscard]] bool is_header(std::string_view line);

/// Whether a cell is a number, or stands for a missing one.
[[nodiscard]] bool is_data(std::string_view cell);

/// Whether the bytes are UTF-8; a NUL counts as none.
[[nodiscard]] bool is_utf8(const std::string& text);

/// ISO-8859-1 in UTF-8.
[[nodiscard]] std::string from_latin1(const std::string& text);

}  // namespace hoopfield::detail
