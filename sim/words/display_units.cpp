// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/display_units.hpp"

#include "sim/base/number_text.hpp"

#include <cmath>

namespace hoopfield::words {

namespace {

constexpr double metre_per_inch = 0.0254;             // exact, international inch
constexpr double newton_per_pound = 4.4482216152605;  // exact, 0.45359237 kg * 9.80665 m/s^2
constexpr double kilogram_per_pound = 0.45359237;     // exact

std::string counted(double value, const char* one, const char* many) {
  const std::string text = shortest(value);
  return text + " " + (text == "1" ? one : many);
}

}  // namespace

double four_digits(double value) {
  if (!std::isfinite(value) || value == 0.0) return value;
  const double unit = std::pow(10.0, std::floor(std::log10(std::abs(value))) - 3.0);
  return unit > 1.0 ? std::round(value / unit) * unit : value;
}

DisplayUnits::DisplayUnits(UnitStyle style) {
  if (style == UnitStyle::metric) {
    tension = {1.0, "N/m"};
    force = {1.0, "N"};
    height = {1.0, "m"};
    small_length = {1e3, "mm"};
    film_length = {1.0, "m"};
    mass = {1e3, "g"};
    stress = {1e-6, "MPa"};
    work = {1e-6, "MJ/m^3"};
    temperature = {1.0, "degC", -273.15};
    thickness = {1e6, "um"};
  } else {
    tension = {metre_per_inch / newton_per_pound, "lbf/in"};
    force = {1.0 / newton_per_pound, "lbf"};
    height = {1.0 / metre_per_inch, "in"};
    small_length = {1.0 / metre_per_inch, "in"};
    film_length = {1.0 / (12.0 * metre_per_inch), "ft"};
    mass = {16.0 / kilogram_per_pound, "oz"};
    stress = {metre_per_inch * metre_per_inch / newton_per_pound, "psi"};
    work = {stress.per_si, "in*lbf/in^3"};
    temperature = {1.8, "degF", -459.67};
    thickness = {1e3 / metre_per_inch, "mil"};
  }
}

std::string readable(double value) {
  if (!std::isfinite(value)) return "-";
  const double size = std::abs(value);
  if (size == 0.0) return "0";
  if (size >= 1e4) return fixed(four_digits(value), 0);
  // Rounded first, so that 99.96 shows as 100 and not as 100.0.
  const int power = static_cast<int>(std::floor(std::log10(size) + 1e-12));
  int decimals = std::max(0, 2 - power);
  if (std::stod(fixed(size, decimals)) >= std::pow(10.0, power + 1)) decimals = std::max(0, decimals - 1);
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

std::string percent(double fraction) {
  const double value = fraction * 100.0;
  if (!std::isfinite(value)) return "-";
  return fixed(value, std::abs(value) < 9.95 && std::abs(value) >= 0.05 ? 1 : 0) + " %";
}

}  // namespace hoopfield::words
