// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/display_units.hpp"

#include "models/units.hpp"
#include "sim/base/number_text.hpp"

#include <array>
#include <cmath>

namespace hoopfield::words {

namespace {

// The unit people use in inch-pound for a metric one. Factors stand in models/units.
constexpr std::array<std::array<const char*, 2>, 20> pairs = {
    {{"mm", "in"},     {"cm", "in"},           {"m", "in"},          {"um", "mil"},      {"N", "lbf"},
     {"kN", "lbf"},    {"N/m", "lbf/in"},      {"Pa", "psi"},        {"kPa", "psi"},     {"MPa", "psi"},
     {"degC", "degF"}, {"\u00b0C", "\u00b0F"}, {"g", "oz"},          {"kg", "lb"},       {"mm/s", "in/s"},
     {"m/s", "in/s"},  {"m/min", "in/s"},      {"mm/min", "in/min"}, {"MJ/kg", "MJ/lb"}, {"MJ/m^3", "in*lbf/in^3"}}};

std::string counted(double value, const char* one, const char* many) {
  const std::string text = shortest(value);
  return text + " " + (text == "1" ? one : many);
}

DisplayUnit shown_in(const char* unit) {
  const Unit known = *find_unit(unit);
  return {1.0 / known.factor, unit, -known.offset / known.factor};
}

}  // namespace

double four_digits(double value) {
  if (!std::isfinite(value) || value == 0.0) return value;
  const double unit = std::pow(10.0, std::floor(std::log10(std::abs(value))) - 3.0);
  return unit > 1.0 ? std::round(value / unit) * unit : value;
}

std::string_view inch_pound_unit(std::string_view metric) {
  for (const auto& [from, to] : pairs)
    if (from == metric) return to;
  return {};
}

DisplayUnit display_unit(const char* metric, UnitStyle style) {
  const std::string_view other = inch_pound_unit(metric);
  return shown_in(style == UnitStyle::metric || other.empty() ? metric : other.data());
}

DisplayUnits::DisplayUnits(UnitStyle style)
    : tension(display_unit("N/m", style)),
      force(display_unit("N", style)),
      height(display_unit("m", style)),
      small_length(display_unit("mm", style)),
      film_length(style == UnitStyle::metric ? shown_in("m") : shown_in(long_length)),
      mass(display_unit("g", style)),
      stress(display_unit("MPa", style)),
      temperature(display_unit("degC", style)),
      thickness(display_unit("um", style)),
      work(display_unit("MJ/m^3", style)) {}

std::string readable(double value) {
  if (!std::isfinite(value)) return "-";
  const double size = std::abs(value);
  if (size == 0.0) return "0";
  if (size >= 1e4) return fixed(four_digits(value), 0);
  // Rounded first, so that 99.96 shows as 100 and not as 100.0.
  const int power = static_cast<int>(std::floor(std::log10(size) + 1e-12));
  int decimals = std::max(0, 2 - power);
  if (*number_in(fixed(size, decimals)) >= std::pow(10.0, power + 1)) decimals = std::max(0, decimals - 1);
  return decimals > 9 ? shortest(value) : fixed(value, decimals);
}

std::string number(double si, const DisplayUnit& unit) { return readable(si * unit.per_si + unit.offset); }

std::string trimmed(double value) {
  std::string text = readable(value);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string quantity(double si, const DisplayUnit& unit) {
  return trimmed(si * unit.per_si + unit.offset) + " " + unit.name;
}

std::string duration(double seconds) {
  const auto rounded = [](double value) { return std::round(value * 100.0) / 100.0; };
  if (seconds >= 2.0 * 86400.0 || seconds == 86400.0) return counted(rounded(seconds / 86400.0), "day", "days");
  if (seconds >= 3600.0) return shortest(rounded(seconds / 3600.0)) + " h";
  if (seconds >= 120.0) return shortest(rounded(seconds / 60.0)) + " min";
  return trimmed(seconds) + " s";
}

std::string whole_percent(double fraction) { return fixed(fraction * 100.0, 0) + " %"; }

std::string percent(double fraction) {
  constexpr double greatest = 999.5;  // more says that a number is not known, and how far off is no matter
  const double value = fraction * 100.0;
  if (!std::isfinite(value)) return "-";
  if (std::abs(value) > greatest) return value > 0.0 ? "> 999 %" : "< -999 %";
  return fixed(value, std::abs(value) < 9.95 && std::abs(value) >= 0.05 ? 1 : 0) + " %";
}

}  // namespace hoopfield::words
