// SPDX-License-Identifier: BSD-3-Clause
// Running texts in inch-pound units, and inputs with the digits that are known.
#include "sim/words/inch_pound.hpp"
#include "models/parameter.hpp"
#include "models/units.hpp"
#include "sim/words/display_units.hpp"
#include "sim/words/economics_text.hpp"
#include "tests/support/catch.hpp"

using namespace hoopfield;
using namespace hoopfield::words;

TEST_CASE("quantities of a running text become inch-pound", "[inch-pound]") {
  CHECK(in_inch_pound("the uppermost 25 mm of the load carry no film") ==
        "the uppermost 0.984 in of the load carry no film");
  CHECK(in_inch_pound("its range is 10 degC to 35 degC.") == "its range is 50 degF to 95 degF.");
  CHECK(in_inch_pound("a span force of 70 N (set), 100 to 200 kPa; 0.25 m.") ==
        "a span force of 15.7 lbf (set), 14.5 to 29 psi; 9.84 in.");
  CHECK(in_inch_pound("weighing 10 m of film") == "weighing 32.8 ft of film");
  for (const char* same : {"2.1 kg/kg and 500 mm^2", "250 % in 60 s, 12 rpm", "step 3 m/x", "N = 4", "", "mm"})
    CHECK(in_inch_pound(same) == same);
  CHECK(in_style("5 mm", UnitStyle::metric) == "5 mm");
}

TEST_CASE("units shown come from the one table of units and the one of pairs", "[inch-pound]") {
  for (const UnitStyle style : {UnitStyle::metric, UnitStyle::inch_pound}) {
    const DisplayUnits u(style);
    for (const DisplayUnit& unit : {u.tension, u.force, u.height, u.small_length, u.film_length, u.mass, u.stress,
                                    u.temperature, u.thickness, u.work}) {
      INFO(unit.name);
      CHECK(unit.per_si * 2.5 + unit.offset == Approx(to_unit(2.5, unit.name)).epsilon(1e-14));
      if (style == UnitStyle::inch_pound) CHECK(inch_pound_unit(unit.name).empty());
    }
  }
  CHECK(display_unit("kg", UnitStyle::inch_pound).name == std::string("lb"));
  CHECK(display_unit("kg", UnitStyle::metric).name == std::string("kg"));
  CHECK(display_unit("rpm", UnitStyle::inch_pound).name == std::string("rpm"));
}

TEST_CASE("no metric unit is left in a declaration told in inch-pound", "[inch-pound]") {
  for (const ParameterRoom room : {ParameterRoom::scenario, ParameterRoom::output})
    for (const Parameter& p : parameters(room)) {
      const std::string text = in_inch_pound(how_to_measure(p) + " " + std::string(p.sentence));
      INFO(p.key << ": " << text);
      CHECK(in_inch_pound(text) == text);
    }
}

TEST_CASE("an input shows its digits when few say it, else four", "[inch-pound]") {
  CHECK(format_input(0.5, "mm") == "500 mm");
  CHECK(format_input(0.50835, "mm") == "508.35 mm");
  CHECK(format_input(70.0, "N") == "70 N");
  CHECK(format_input(70.0, "lbf") == "15.74 lbf");
  CHECK(format_input(0.05, "in") == "1.969 in");
  CHECK(format_input(1e9, "kPa") == "1000000 kPa");
  CHECK(format_input(296.15, "degC") == "23 degC");
  CHECK(format_input(1.2345678e-7, "m^2") == "1.235e-07 m^2");
}

TEST_CASE("no computed number shows more than four digits", "[inch-pound]") {
  CHECK(readable(491.443) == "491");
  CHECK(readable(12346.0) == "12350");
  CHECK(readable(1.69756) == "1.70");
  CHECK(readable(-123456.0) == "-123500");
  CHECK(money_digits(0.012345) == "0.0123");
  CHECK(money_digits(0.396) == "0.40");
  CHECK(money_digits(12.345) == "12.35");
  CHECK(money_digits(123.45) == "123");
  CHECK(money_digits(1234.6) == "1235");
  CHECK(money_digits(123456.0) == "123\u00a0500");
  CHECK(money_digits(-2345.0) == "-2345");
}

TEST_CASE("shown numbers: a share beyond all measure is not written out", "[units]") {
  CHECK(words::percent(9.994) == "999 %");
  CHECK(words::percent(9.73e11) == "> 999 %");
  CHECK(words::percent(-12.0) == "< -999 %");
}
