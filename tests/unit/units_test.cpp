// SPDX-License-Identifier: BSD-3-Clause
#include "models/units.hpp"
#include "models/error.hpp"
#include "models/parameter.hpp"
#include "models/text.hpp"
#include "sim/base/toml_text.hpp"
#include "tests/support/catch.hpp"

#include <cmath>
#include <cstdio>
#include <limits>
#include <numbers>
#include <set>

using namespace hoopfield;

namespace {

struct Pair {
  const char* text;
  const char* si_unit;
  double value;
};

std::string problem_of(const char* text, const char* si_unit) {
  UnitProblem problem;
  const auto value = read_quantity(text, si_unit, problem);
  return value ? "read as " + format_number(*value) : problem.what + " | " + problem.hint;
}

}  // namespace

TEST_CASE("quantities convert to SI", "[units]") {
  // Definitions: international yard and pound (1959), standard gravity 9.80665 m/s^2, thermochemical calorie 4.184 J,
  // 100 gauge = 1 mil = 25.4 um (trade usage).
  const Pair pairs[] = {
      {"70 N", "N", 70.0},
      {"70N", "N", 70.0},
      {"  +70  N ", "N", 70.0},
      {"0.07 kN", "N", 70.0},
      {"1 lbf", "N", 4.4482216152605},
      {"12 rpm", "rad/s", 12.0 * 2.0 * std::numbers::pi / 60.0},
      {"360 deg/s", "rad/s", 2.0 * std::numbers::pi},
      {"23 degC", "K", 296.15},
      {"73.4 degF", "K", 296.15},
      {"-40 degF", "K", 233.15},
      {"296.15 K", "K", 296.15},
      {"250 %", "", 2.5},
      {"0.35", "", 0.35},
      {"1.60 /kg", "1/kg", 1.60},
      {"1 /lb", "1/kg", 1.0 / 0.45359237},
      {"2.0e-7 1/s", "1/s", 2.0e-7},
      {"20 in", "m", 0.508},
      {"4 ft", "m", 1.2192},
      {"1 mil", "m", 25.4e-6},
      {"80 ga", "m", 20.32e-6},
      {"23 um", "m", 23e-6},
      {"23 \u00b5m", "m", 23e-6},
      {"16 oz", "kg", 0.45359237},
      {"1 psi", "Pa", 6894.757293168361},
      {"200 kPa", "Pa", 200e3},
      {"26 kcal/mol", "J/mol", 108784.0},
      {"109 kJ/mol", "J/mol", 109e3},
      {"2200 J/kg/K", "J/kg/K", 2200.0},
      {"2.2 kJ/kg/degC", "J/kg/K", 2200.0},
      {"0.92 g/cm^3", "kg/m^3", 920.0},
      {"1 lbf/in", "N/m", 175.12683524647636},
      {"50 cm^2", "m^2", 50e-4},
      {"1.8e-4 1/K", "1/K", 1.8e-4},
      {"7 d", "s", 604800.0},
      {"90 min", "s", 5400.0},
      {"3.6 m/h", "m/s", 1e-3},
      {"30 /h", "1/s", 30.0 / 3600.0},
      {"78.1 MJ/kg", "J/kg", 78.1e6},
      {"2.1 kg/kg", "", 2.1},
      {"5 N m/m", "N", 5.0},
  };
  for (const Pair& p : pairs) {
    INFO(p.text);
    CHECK(parse_quantity(p.text, p.si_unit) == Approx(p.value).epsilon(1e-13));
  }
}

TEST_CASE("texts that are no quantity are refused with a reason", "[units]") {
  CHECK(problem_of("70", "N") == "\"70\" has no unit | ");
  CHECK(problem_of("N", "N") == "\"N\" is not a number with a unit | ");
  CHECK(problem_of("", "N") == "\"\" is not a number with a unit | ");
  CHECK(problem_of("70 lb", "N") == "\"70 lb\" has the wrong kind of unit | \"70 lbf\"");
  CHECK(problem_of("70 newtons", "N") == "unknown unit \"newtons\" | \"70 N\"");
  CHECK(problem_of("12 RPM", "rad/s") == "unknown unit \"RPM\" | \"12 rpm\"");
  CHECK(problem_of("12 1/s", "rad/s") == "\"12 1/s\" has the wrong kind of unit | ");
  CHECK(problem_of("7,5 N", "N") == "\"7,5 N\" is written with a decimal comma | \"7.5 N\"");
  CHECK(problem_of("nan N", "N") == "\"nan N\" is not a finite number | ");
  CHECK(problem_of("inf N", "N") == "\"inf N\" is not a finite number | ");
  CHECK(problem_of("1e400 N", "N") == "\"1e400 N\" is not a finite number | ");
  CHECK(problem_of("1e308 kN", "N") == "\"1e308 kN\" is not a finite number | ");
  CHECK(problem_of("70 N//m", "N/m") == "\"70 N//m\" has an incomplete unit | ");
  CHECK(problem_of("70 m^", "m") == "\"m^\" has no whole-number power | ");
  CHECK(problem_of("70 m^99999999999", "m") == "\"m^99999999999\" has no whole-number power | ");
  CHECK(problem_of("0x10 N", "N") == "unknown unit \"x10\" | ");
  CHECK_THROWS_WITH(parse_quantity("3 kg", "m"),
                    "\"3 kg\" has the wrong kind of unit; expected a length (m, cm, mm, um, in, ft, mil or ga)");
}

TEST_CASE("values print in the unit asked for", "[units]") {
  CHECK(format_quantity(70.0, "N") == "70 N");
  CHECK(format_quantity(70.0, "lbf") == "15.7366 lbf");
  CHECK(format_quantity(2.5, "%") == "250 %");
  CHECK(format_quantity(296.15, "degC") == "23 degC");
  CHECK(format_quantity(296.15, "degF") == "73.4 degF");
  CHECK(format_quantity(0.35, "") == "0.35");
  CHECK(format_quantity(-0.0, "mm") == "0 mm");
  CHECK(format_quantity(INFINITY, "kPa") == "infinite");
  CHECK_THROWS_AS(to_unit(1.0, "furlong"), InputError);
}

TEST_CASE("parse undoes format for every customary unit", "[units]") {
  for (const ParameterRoom room : {ParameterRoom::scenario, ParameterRoom::film_file, ParameterRoom::output}) {
    for (const Parameter& p : parameters(room)) {
      if (p.unit.starts_with("money")) continue;  // a currency is no unit of measure
      for (const std::string_view unit : {p.metric, p.inch_pound}) {
        INFO(p.key << " in " << unit);
        for (const double value : {0.37, 296.15, 41.0}) {
          CHECK(parse_quantity(format_quantity(value, unit, 17), p.unit) == Approx(value).epsilon(1e-12));
        }
      }
    }
  }
}

TEST_CASE("every key is declared once and completely", "[parameter]") {
  for (const ParameterRoom room : {ParameterRoom::scenario, ParameterRoom::film_file, ParameterRoom::output}) {
    std::set<std::string_view> seen;
    for (const Parameter& p : parameters(room)) {
      INFO(p.key);
      CHECK(seen.insert(p.key).second);
      CHECK(p.room == room);
      CHECK(p.sentence.ends_with("."));
      CHECK_FALSE(p.reference.empty());
      if (room != ParameterRoom::output) CHECK_FALSE(p.measure.text.empty());
      CHECK((p.unit.starts_with("money") || find_unit(p.unit).has_value()));  // a currency is no unit of measure
      const bool ranked = !p.range_low.empty();
      CHECK(ranked == !p.range_high.empty());
      if (ranked) {
        const std::string_view unit = p.range_is_factor ? std::string_view{} : p.unit;
        const double low = parse_quantity(p.range_low, unit), high = parse_quantity(p.range_high, unit);
        CHECK(low < high);
        if (!p.range_is_factor) {
          CHECK(within_bounds(p, low));
          CHECK(within_bounds(p, high));
        }
      }
      if (p.kind == ParameterKind::choice && !p.default_text.empty()) {
        const auto list = choice_list(p);
        CHECK(std::find(list.begin(), list.end(), p.default_text) != list.end());
      }
    }
  }
}

TEST_CASE("near keys are found, far ones are not", "[parameter]") {
  const std::vector<std::string_view> keys = {"delivery.prestretch", "pattern.pitch", "film.width"};
  CHECK(nearest_key("delivery.prestrech", keys) == "delivery.prestretch");
  CHECK(nearest_key("rotation.pitch", keys) == "pattern.pitch");
  CHECK(nearest_key("xyzzy", keys).empty());
  CHECK(edit_distance("kitten", "sitting") == 3);
  CHECK(edit_distance("ab", "ba") == 1);
  CHECK(edit_distance("", "abc") == 3);
  REQUIRE(find_parameters("containment.end.top.film_layers").size() == 1);
  CHECK(find_parameters("branch[2].modulus").at(0)->key == "branch.modulus");
  CHECK(find_parameters("pattern.overlap").size() == 2);  // input and output
  CHECK(find_parameters("nothing_like_it").empty());
}

TEST_CASE("numbers in messages have four digits and no exponent") {
  CHECK(hoopfield::short_number(442.584599) == "442.6");
  CHECK(hoopfield::short_number(0.25) == "0.25");
  CHECK(hoopfield::short_number(-0.0) == "0");
  CHECK(hoopfield::short_number(999.96) == "1000");
  CHECK(hoopfield::short_number(-86400.4) == "-86400");
  CHECK(hoopfield::short_number(604800.0) == "604800");
  CHECK(hoopfield::short_number(1.0 / 0.0) == "infinite");
}

TEST_CASE("words as text") {
  CHECK(hoopfield::trim(" \t\r\na b\v\f") == "a b");
  CHECK(hoopfield::trim("  ").empty());
  // Whoever measures how far in a text the rest begins may do so even when nothing is left.
  const std::string_view blank = "12  ";
  CHECK(hoopfield::trim(blank.substr(2)).data() == blank.data() + 4);
  CHECK(hoopfield::lower("N/m \u00c4Z") == "n/m \u00c4z");
  CHECK(hoopfield::in_quotes("a\"b") == "\"a\"b\"");
  CHECK(hoopfield::toml_text("a\"\\\n\t\x1b\x7f\u00e4") == "\"a\\\"\\\\\\n\\t\\u001B\\u007F\u00e4\"");
}

TEST_CASE("numbers as text are those of the C locale") {
  for (const double value : {0.0, -0.0, 1.0, -2.5, 1e5, 123456.7, 1e-5, 3.14159265358979, 6.02e23, 5e-324, 1.7e308,
                             -0.04, 99999.5, std::numeric_limits<double>::infinity()}) {
    INFO(value);
    for (const int digits : {1, 3, 6, 15, 17}) {
      char expected[400];
      std::snprintf(expected, sizeof expected, "%.*g", digits, value);
      CHECK(hoopfield::significant(value, digits) == expected);
    }
    CHECK(hoopfield::number_in(hoopfield::shortest(value)) == value);
  }
  CHECK(hoopfield::fixed(-0.04, 1) == "0.0");
  CHECK(hoopfield::fixed(-0.06, 1) == "-0.1");
  CHECK(hoopfield::hexadecimal(10, 4) == "000A");
  CHECK(hoopfield::hexadecimal(0xFFFFFFFFFFFFFFFFU, 2) == "FFFFFFFFFFFFFFFF");
  for (const char* none : {"", "1 ", " 1", "1,5", "1e", "x"}) CHECK_FALSE(hoopfield::number_in(none));
}
