// SPDX-License-Identifier: BSD-3-Clause
#include "models/units.hpp"

#include "models/error.hpp"
#include "models/text.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <numbers>

namespace hoopfield {
namespace {

struct Symbol {
  std::string_view name;
  double factor;
  double offset;
  std::array<int, 6> exponent;
};

constexpr double inch = 0.0254;
constexpr double pound = 0.45359237;
constexpr double pound_force = pound * 9.80665;
constexpr double pi = std::numbers::pi;

// Exact by definition (international yard and pound, standard gravity, thermochemical calorie). 100 gauge = 1 mil.
constexpr std::array symbols = {
    Symbol{"m", 1.0, 0.0, {1}},
    Symbol{"cm", 1e-2, 0.0, {1}},
    Symbol{"mm", 1e-3, 0.0, {1}},
    Symbol{"um", 1e-6, 0.0, {1}},
    Symbol{"\u00b5m", 1e-6, 0.0, {1}},
    Symbol{"\u03bcm", 1e-6, 0.0, {1}},
    Symbol{"km", 1e3, 0.0, {1}},
    Symbol{"in", inch, 0.0, {1}},
    Symbol{"ft", 12.0 * inch, 0.0, {1}},
    Symbol{"mil", 1e-3 * inch, 0.0, {1}},
    Symbol{"ga", 1e-5 * inch, 0.0, {1}},
    Symbol{"gauge", 1e-5 * inch, 0.0, {1}},
    Symbol{"gn", 9.80665, 0.0, {1, 0, -2}},
    Symbol{"kg", 1.0, 0.0, {0, 1}},
    Symbol{"g", 1e-3, 0.0, {0, 1}},
    Symbol{"mg", 1e-6, 0.0, {0, 1}},
    Symbol{"lb", pound, 0.0, {0, 1}},
    Symbol{"oz", pound / 16.0, 0.0, {0, 1}},
    Symbol{"s", 1.0, 0.0, {0, 0, 1}},
    Symbol{"ms", 1e-3, 0.0, {0, 0, 1}},
    Symbol{"min", 60.0, 0.0, {0, 0, 1}},
    Symbol{"h", 3600.0, 0.0, {0, 0, 1}},
    Symbol{"d", 86400.0, 0.0, {0, 0, 1}},
    Symbol{"N", 1.0, 0.0, {1, 1, -2}},
    Symbol{"mN", 1e-3, 0.0, {1, 1, -2}},
    Symbol{"kN", 1e3, 0.0, {1, 1, -2}},
    Symbol{"lbf", pound_force, 0.0, {1, 1, -2}},
    Symbol{"Pa", 1.0, 0.0, {-1, 1, -2}},
    Symbol{"kPa", 1e3, 0.0, {-1, 1, -2}},
    Symbol{"MPa", 1e6, 0.0, {-1, 1, -2}},
    Symbol{"GPa", 1e9, 0.0, {-1, 1, -2}},
    Symbol{"psi", pound_force / (inch * inch), 0.0, {-1, 1, -2}},
    Symbol{"J", 1.0, 0.0, {2, 1, -2}},
    Symbol{"kJ", 1e3, 0.0, {2, 1, -2}},
    Symbol{"MJ", 1e6, 0.0, {2, 1, -2}},
    Symbol{"kcal", 4184.0, 0.0, {2, 1, -2}},
    Symbol{"W", 1.0, 0.0, {2, 1, -3}},
    Symbol{"kW", 1e3, 0.0, {2, 1, -3}},
    Symbol{"Hz", 1.0, 0.0, {0, 0, -1}},
    Symbol{"mol", 1.0, 0.0, {0, 0, 0, 0, 1}},
    Symbol{"K", 1.0, 0.0, {0, 0, 0, 1}},
    Symbol{"degC", 1.0, 273.15, {0, 0, 0, 1}},
    Symbol{"\u00b0C", 1.0, 273.15, {0, 0, 0, 1}},
    Symbol{"degF", 5.0 / 9.0, 273.15 - 32.0 * 5.0 / 9.0, {0, 0, 0, 1}},
    Symbol{"\u00b0F", 5.0 / 9.0, 273.15 - 32.0 * 5.0 / 9.0, {0, 0, 0, 1}},
    Symbol{"rad", 1.0, 0.0, {0, 0, 0, 0, 0, 1}},
    Symbol{"deg", pi / 180.0, 0.0, {0, 0, 0, 0, 0, 1}},
    Symbol{"rev", 2.0 * pi, 0.0, {0, 0, 0, 0, 0, 1}},
    Symbol{"rpm", 2.0 * pi / 60.0, 0.0, {0, 0, -1, 0, 0, 1}},
    Symbol{"%", 1e-2, 0.0, {}},
    Symbol{"1", 1.0, 0.0, {}},
};

struct Word {
  std::string_view si_unit, word, units;
};

// Units offered in messages, customary first.
constexpr std::array words = {
    Word{"m", "a length", "m, cm, mm, um, in, ft, mil or ga"},
    Word{"m^2", "an area", "cm^2, m^2 or in^2"},
    Word{"m/s", "a speed", "m/s, m/min, in/s or ft/min"},
    Word{"m/s^2", "an acceleration", "gn or m/s^2"},
    Word{"kg", "a mass", "kg, g, lb or oz"},
    Word{"s", "a time", "s, min, h or d"},
    Word{"N", "a force", "N, kN or lbf"},
    Word{"m/N", "a length per force", "um/N, mm/kN or in/lbf"},
    Word{"N/m", "a force per length", "N/m or lbf/in"},
    Word{"Pa", "a pressure or stress", "Pa, kPa, MPa or psi"},
    Word{"K", "a temperature", "degC, degF or K"},
    Word{"1/K", "a share per temperature step", "1/K"},
    Word{"rad/s", "a speed of rotation", "rpm or rad/s"},
    Word{"1/s", "a rate", "1/s or 1/min"},
    Word{"1/kg", "an amount of money per mass", "/kg or /lb"},
    Word{"J/mol", "an energy per amount", "kJ/mol, J/mol or kcal/mol"},
    Word{"J/kg/K", "a heat capacity", "J/kg/K or kJ/kg/K"},
    Word{"J/kg", "an energy per mass", "MJ/kg, kJ/kg or J/kg"},
    Word{"kg/m^3", "a density", "kg/m^3 or g/cm^3"},
    Word{"", "a pure number or a percentage", "%"},
};

const Symbol* find_symbol(std::string_view name) {
  const auto it = std::find_if(symbols.begin(), symbols.end(), [&](const Symbol& s) { return s.name == name; });
  return it == symbols.end() ? nullptr : &*it;
}

// The symbol most likely meant: same letters in another case, or a single slip of the keyboard.
std::string_view likely_symbol(std::string_view name) {
  const std::string wanted = lower(name);
  for (const Symbol& s : symbols) {
    if (lower(s.name) == wanted) return s.name;
  }
  constexpr std::array<std::array<std::string_view, 2>, 26> spoken = {
      {{"newton", "N"},  {"newtons", "N"}, {"inch", "in"}, {"inches", "in"},    {"\"", "in"},      {"feet", "ft"},
       {"foot", "ft"},   {"gauges", "ga"}, {"gage", "ga"}, {"micron", "um"},    {"microns", "um"}, {"sec", "s"},
       {"hr", "h"},      {"hour", "h"},    {"hours", "h"}, {"day", "d"},        {"days", "d"},     {"lbs", "lb"},
       {"pounds", "lb"}, {"c", "degC"},    {"f", "degF"},  {"celsius", "degC"}, {"percent", "%"},  {"kgs", "kg"},
       {"u/min", "rpm"}, {"r/min", "rpm"}}};
  for (const auto& [say, write] : spoken) {
    if (say == wanted) return write;
  }
  for (const Symbol& s : symbols) {
    if (s.name.size() > 1 && name.size() > 1 && edit_distance(s.name, name) == 1) return s.name;
  }
  return {};
}

// One factor such as "m^3"; appended to the unit with sign +1 or -1.
bool multiply_factor(Unit& unit, std::string_view factor, int sign, bool alone, UnitProblem* problem) {
  std::string_view name = factor;
  int power = 1;
  if (const auto caret = factor.find('^'); caret != std::string_view::npos) {
    name = factor.substr(0, caret);
    const std::string_view digits = factor.substr(caret + 1);
    const auto [end, code] = std::from_chars(digits.data(), digits.data() + digits.size(), power);
    if (code != std::errc{} || end != digits.data() + digits.size() || power < -9 || power > 9) {
      if (problem != nullptr) *problem = {in_quotes(factor) + " has no whole-number power", {}, {}};
      return false;
    }
  }
  const Symbol* symbol = find_symbol(name);
  if (symbol == nullptr) {
    if (problem != nullptr) {
      *problem = {name.empty() ? std::string("the unit is incomplete") : "unknown unit " + in_quotes(name),
                  {},
                  std::string(likely_symbol(name))};
    }
    return false;
  }
  unit.factor *= std::pow(symbol->factor, sign * power);
  unit.offset = alone && power == 1 ? symbol->offset : 0.0;
  for (std::size_t i = 0; i < symbol->exponent.size(); ++i) {
    unit.dimension.exponent[i] += sign * power * symbol->exponent[i];
  }
  return true;
}

// Splits the number off the front. Returns false when there is none.
bool split_number(std::string_view text, double& number, std::string_view& rest, bool& finite) {
  std::string_view digits = text;
  if (digits.size() > 1 && digits.front() == '+' && digits[1] != '-') digits.remove_prefix(1);
  const auto [end, code] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
  if (code == std::errc::invalid_argument) return false;
  finite = code == std::errc{} && std::isfinite(number);
  rest = digits.substr(static_cast<std::size_t>(end - digits.data()));
  return true;
}

std::string expected_text(std::string_view si_unit) {
  if (si_unit.empty()) return dimension_word(si_unit);
  return dimension_word(si_unit) + " (" + accepted_units(si_unit) + ")";
}

}  // namespace

std::optional<Unit> find_unit(std::string_view text, UnitProblem* problem) {
  text = trim(text);
  Unit unit;
  if (text.empty()) return unit;
  const bool alone = text.find_first_of("/* ") == std::string_view::npos;
  int sign = 1;
  std::size_t begin = 0;
  if (text.front() == '/') {
    sign = -1;
    begin = 1;
  }
  while (begin <= text.size()) {
    const std::size_t end = std::min(text.find_first_of("/* ", begin), text.size());
    if (!multiply_factor(unit, text.substr(begin, end - begin), sign, alone, problem)) return std::nullopt;
    if (end == text.size()) break;
    sign = text[end] == '/' ? -1 : 1;
    begin = end + 1;
  }
  return unit;
}

std::optional<double> read_quantity(std::string_view text, std::string_view si_unit, UnitProblem& problem) {
  const std::string_view body = trim(text);
  double number = 0.0;
  std::string_view rest;
  bool finite = true;
  if (!split_number(body, number, rest, finite)) {
    const char* what = si_unit.empty() ? " is not a number" : " is not a number with a unit";
    problem = {in_quotes(text) + what, expected_text(si_unit), {}};
    return std::nullopt;
  }
  if (!finite) {
    problem = {in_quotes(text) + " is not a finite number", expected_text(si_unit), {}};
    return std::nullopt;
  }
  const std::string_view unit_text = trim(rest);
  if (rest.size() > 1 && rest.front() == ',' && std::isdigit(static_cast<unsigned char>(rest[1])) != 0) {
    std::string pointed(body);
    pointed[static_cast<std::size_t>(rest.data() - body.data())] = '.';
    problem = {in_quotes(text) + " is written with a decimal comma", expected_text(si_unit), in_quotes(pointed)};
    return std::nullopt;
  }
  const std::string_view number_text = trim(body.substr(0, static_cast<std::size_t>(unit_text.data() - body.data())));
  const std::optional<Unit> wanted = find_unit(si_unit);
  if (!wanted) throw InputError("unknown unit " + in_quotes(si_unit) + " in a declaration");
  if (unit_text.empty() && wanted->dimension != Dimension{}) {
    problem = {in_quotes(text) + " has no unit", expected_text(si_unit), {}};
    return std::nullopt;
  }
  const std::optional<Unit> unit = find_unit(unit_text, &problem);
  if (!unit) {
    if (problem.what == "the unit is incomplete") problem.what = in_quotes(text) + " has an incomplete unit";
    problem.expected = expected_text(si_unit);
    // A slip of the keyboard does not turn a length into a force.
    const std::optional<Unit> likely = find_unit(problem.hint);
    if (!likely || likely->dimension != wanted->dimension) problem.hint.clear();
    if (!problem.hint.empty()) problem.hint = in_quotes(std::string(number_text) + " " + problem.hint);
    return std::nullopt;
  }
  if (unit->dimension != wanted->dimension) {
    std::string hint;
    if (unit_text == "lb" && si_unit == "N") hint = in_quotes(std::string(number_text) + " lbf");
    if (unit_text == "lbf" && si_unit == "kg") hint = in_quotes(std::string(number_text) + " lb");
    std::string what = in_quotes(text) + " has the wrong kind of unit";
    if (unit_text == "g" && si_unit == "m/s^2") {
      what = in_quotes(text) + " is " + (number == 0.5 ? "half a gram" : std::string(number_text) + " grams") +
             ": g is the gram, gn the standard gravity";
      hint = in_quotes(std::string(number_text) + " gn");
    }
    problem = {what, expected_text(si_unit), hint};
    return std::nullopt;
  }
  const double value = number * unit->factor + unit->offset;
  if (!std::isfinite(value)) {
    problem = {in_quotes(text) + " is not a finite number", expected_text(si_unit), {}};
    return std::nullopt;
  }
  return value;
}

double parse_quantity(std::string_view text, std::string_view si_unit) {
  UnitProblem problem;
  if (const auto value = read_quantity(text, si_unit, problem)) return *value;
  throw InputError(problem.what + "; expected " + problem.expected +
                   (problem.hint.empty() ? "" : "; did you mean " + problem.hint + "?"));
}

double to_unit(double in_si, std::string_view unit) {
  UnitProblem problem;
  const std::optional<Unit> found = find_unit(unit, &problem);
  if (!found) throw InputError(problem.what);
  return (in_si - found->offset) / found->factor;
}

std::string format_number(double value, int digits) {
  if (std::isnan(value)) return "not a number";
  if (std::isinf(value)) return value > 0.0 ? "infinite" : "-infinite";
  return significant(value == 0.0 ? 0.0 : value, digits);
}

std::string short_number(double value) {
  const double size = std::abs(value);
  if (size < 999.95 || !(size < 1e15)) return format_number(value, 4);
  return format_number(std::round(value), 15);
}

std::string format_quantity(double in_si, std::string_view unit, int digits) {
  std::string text = format_number(to_unit(in_si, unit), digits);
  if (!unit.empty() && !std::isinf(in_si)) text += " " + std::string(unit);
  return text;
}

std::string format_input(double in_si, std::string_view unit) {
  const double shown = to_unit(in_si, unit);
  constexpr int few = 7, known = 4;
  int digits = known;
  for (int n = 1; n <= few; ++n)
    if (std::abs(number_in(format_number(shown, n)).value_or(0.0) - shown) <= 1e-9 * std::abs(shown)) {
      digits = n;
      break;
    }
  std::string text = format_number(shown, digits);
  if (text.find("e+") != std::string::npos && std::abs(shown) < 1e15) text = format_number(std::round(shown), 15);
  return unit.empty() || std::isinf(in_si) ? text : text + " " + std::string(unit);
}

std::string dimension_word(std::string_view si_unit) {
  for (const Word& w : words) {
    if (w.si_unit == si_unit) return std::string(w.word);
  }
  return "a value in " + std::string(si_unit);
}

std::string accepted_units(std::string_view si_unit) {
  for (const Word& w : words) {
    if (w.si_unit == si_unit) return std::string(w.units);
  }
  return std::string(si_unit);
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), now(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t cost = a[i - 1] == b[j - 1] ? 0 : 1;
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + cost});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) now[j] = std::min(now[j], before[j - 2] + 1);
    }
    before.swap(last);
    last.swap(now);
  }
  return last[b.size()];
}

}  // namespace hoopfield
