// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// SI numbers as a person reads them, in metric or inch-pound units.
#pragma once

#include <string>
#include <string_view>

namespace hoopfield::words {

enum class UnitStyle { metric, inch_pound };

/// How a page is printed: its units, and whether headings are bold.
struct PrintStyle {
  UnitStyle units = UnitStyle::metric;
  bool styled = false;
};

/// How one kind of quantity is shown.
struct DisplayUnit {
  double per_si = 1.0;  ///< shown = SI * per_si + offset
  const char* name = "";
  double offset = 0.0;
};

/// The inch-pound unit people use for a metric one ("mm" gives "in"); empty for units that both styles share.
[[nodiscard]] std::string_view inch_pound_unit(std::string_view metric);
inline constexpr const char* long_length = "ft";  ///< and for lengths of film, which people count in feet

/// How a metric unit, or its inch-pound one, is shown.
[[nodiscard]] DisplayUnit display_unit(const char* metric, UnitStyle style);

/// Units of one style. `N/m` and `lbf/in` and so on; the same for every command.
struct DisplayUnits {
  explicit DisplayUnits(UnitStyle style);
  DisplayUnit tension, force, height, small_length, film_length, mass, stress, temperature, thickness;
  DisplayUnit work;  ///< per volume
};

/// A number of more than four digits before the point, rounded to four: 12 346 becomes 12 350. Others as they are.
[[nodiscard]] double four_digits(double value);

/// Digits that matter and no exponent: 3 significant digits, whole numbers from 100 up, never more than four digits.
/// "-" when not finite.
[[nodiscard]] std::string readable(double value);
[[nodiscard]] std::string trimmed(double value);  ///< the same without zeros at the end, for running text
[[nodiscard]] std::string number(double si, const DisplayUnit& unit);    ///< "412", for columns
[[nodiscard]] std::string quantity(double si, const DisplayUnit& unit);  ///< "412 N/m", for running text
[[nodiscard]] std::string duration(double seconds);                      ///< "7 days", "36 h", "90 s"
[[nodiscard]] std::string percent(double fraction);                      ///< "23 %", "2.3 %", "> 999 %"
[[nodiscard]] std::string whole_percent(double fraction);                ///< "23 %", "2 %"

}  // namespace hoopfield::words
