// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/compare_command.hpp"
#include "models/error.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/compare_reader.hpp"
#include "sim/words/compare_text.hpp"
#include "sim/words/economics_text.hpp"
#include "sim/words/text_layout.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/size.hpp"

#include <sstream>

using namespace hoopfield;
using namespace hoopfield::cli;
using namespace hoopfield::words;

namespace {

const std::string pair = std::string(HOOPFIELD_SOURCE_DIR) + "/examples/08_thin_against_thick/";

void check_width(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(display_width(line) <= terminal_width);
    CHECK((line.empty() || line.back() != ' '));
  }
}

Scenario quick(const std::string& file) {
  Scenario s = read_scenario(pair + file);
  set_number(s, "numerics.slices", test::sized(15, 4));
  return s;
}

}  // namespace

TEST_CASE("compare: the page fits 80 columns with twelve sides, hostile names, a failed and a measured side") {
  std::vector<CompareSide> sides;
  for (int i = 0; i < 9; ++i) {
    Scenario s = quick(i % 2 == 0 ? "present.toml" : "candidate.toml");
    set_number(s, "delivery.tension.force", 50.0 + 2.0 * i);
    sides.push_back({i == 1 ? std::string(300, 'x') : "force " + std::to_string(i), "", std::move(s)});
  }
  Scenario other = quick("candidate.toml");
  set_values(other, {{"cost.currency", "<script>"}, {"load.height", "1.4 m"}, {"cost.loads_per_year", "7"}});
  other.title = "\x1b[31m\n\t<b>" + std::string(500, 'y') + " \u202eright to left \U0001F4E6";
  sides.push_back({"żółć\n\x07", "", std::move(other)});
  Scenario failing = quick("present.toml");
  failing.film_description.breaking.reset();
  sides.push_back({"fails", "", std::move(failing)});
  sides.push_back(read_side(pair + "measured.toml"));
  CompareOptions options;
  options.best_prestretch = true;
  options.break_share = 0.6;
  const Comparison c = compare(std::move(sides), options);
  REQUIRE(c.sides[10].failed);
  for (const UnitStyle units : {UnitStyle::metric, UnitStyle::inch_pound}) {
    const std::string page = compare_text(c, {units, false});
    check_width(page);
    CHECK(page.find('\x1b') == std::string::npos);
    CHECK(page.find('\x07') == std::string::npos);
    CHECK_THAT(page, ContainsSubstring("FAILED"));
    CHECK_THAT(page, ContainsSubstring("[12]"));
  }
}

TEST_CASE("compare: a candidate's sentence says more and less as the numbers do") {
  CompareOptions options;
  options.sensitivity = options.factors = false;
  Scenario weaker = quick("present.toml");
  set_value(weaker, "delivery.tension.force", "60 N");
  const Comparison c = compare({{"now", "", quick("present.toml")}, {"weaker", "", weaker}}, options);
  const std::string less = containment_sentence(c, 1, UnitStyle::metric);
  CHECK_THAT(less, ContainsSubstring(" % less (hoop tension, weakest station, after storage: "));
  CHECK_THAT(film_sentence(c, 1, UnitStyle::metric), ContainsSubstring(" EUR against "));
  const Comparison back = compare({{"weaker", "", weaker}, {"now", "", quick("present.toml")}}, options);
  CHECK_THAT(containment_sentence(back, 1, UnitStyle::metric), ContainsSubstring(" % more (hoop tension"));
}

TEST_CASE("compare: the share of the film law is told by the numbers of the films") {
  const Comparison c = compare({{"now", "", quick("present.toml")}, {"other", "", quick("candidate.toml")}});
  const DerivedNumbers &now = *c.sides[0].film_numbers, &other = *c.sides[1].film_numbers;
  for (const UnitStyle units : {UnitStyle::metric, UnitStyle::inch_pound}) {
    const std::string page = compare_text(c, {units, false});
    check_width(page);
    const DisplayUnit stress = DisplayUnits(units).stress;
    CHECK_THAT(page,
               ContainsSubstring("film law: stiffness at small strain " + quantity(*other.secant_modulus, stress) +
                                 " against " + quantity(*now.secant_modulus, stress)));
  }
  CompareOptions plain;
  plain.film_numbers = false;
  const Comparison bare = compare({{"now", "", quick("present.toml")}, {"other", "", quick("candidate.toml")}}, plain);
  CHECK(compare_text(bare, {UnitStyle::metric, false}).find("small strain") == std::string::npos);
}

TEST_CASE("economics: the page shows one year only with loads per year, in both unit styles") {
  Scenario s = quick("present.toml");
  const Result r = predict(s);
  for (const UnitStyle units : {UnitStyle::metric, UnitStyle::inch_pound}) {
    const std::string page = economics_text(economics(s, r), units);
    check_width(page);
    CHECK_THAT(page, ContainsSubstring("one year"));
    CHECK_THAT(page, ContainsSubstring(units == UnitStyle::metric ? "1.60 EUR/kg" : "0.73 EUR/lb"));
  }
  s.cost.loads_per_year.reset();
  const std::string page = economics_text(economics(s, r), UnitStyle::metric);
  CHECK(page.find("year") == std::string::npos);
}

TEST_CASE("compare: the command refuses what it cannot do, before any work") {
  CompareCommandOptions options;
  options.files = {pair + "present.toml"};
  CHECK_THROWS_AS(compare_sides(options, {}), InputError);
  options.files.assign(most_compared_sides + 1, pair + "present.toml");
  CHECK_THROWS_AS(compare_sides(options, {}), InputError);
  options.files = {pair + "present.toml", pair + "nowhere.toml"};
  CHECK_THROWS_AS(compare_sides(options, {}), IoError);
  options.files = {pair + "present.toml", pair + "candidate.toml"};
  options.csv = pair + "present.toml";  // exists
  CHECK_THROWS_AS(compare_sides(options, {}), InputError);
  options.csv.clear();
  options.in = pair + "present.toml";  // the files are scenarios, not films
  CHECK_THROWS_AS(compare_sides(options, {}), InputError);
}

TEST_CASE("compare: more sides than sentences are ranked, the one that contains most first") {
  std::vector<CompareSide> sides;
  const std::vector<double> force = {60, 50, 80, 70, 55, 65};
  for (const double f : force) {
    Scenario s = quick("present.toml");
    set_number(s, "delivery.tension.force", f);
    sides.push_back({"force " + std::to_string(static_cast<int>(f)), "", std::move(s)});
  }
  CompareOptions options;
  options.sensitivity = options.factors = false;
  const Comparison c = compare(std::move(sides), options);
  PrintStyle style;
  const std::string page = compare_text(c, style);
  const std::string top = page.substr(0, page.find("Sides"));
  CHECK_THAT(top, ContainsSubstring("Best first"));
  std::size_t last = 0;
  for (const char* side :
       {"[3] force 80", "[4] force 70", "[6] force 65", "[1] force 60", "[5] force 55", "[2] force 50"}) {
    const std::size_t place = top.find(side);
    INFO(side << "\n" << top);
    REQUIRE(place != std::string::npos);
    CHECK(place > last);
    last = place;
  }
  CHECK(top.find(" contains ") == std::string::npos);  // no sentences
  CHECK(top.find("= [") == std::string::npos);         // no ties
}

TEST_CASE("compare: ties are marked and names in heads are not cut") {
  std::vector<CompareSide> sides;
  for (const char* name : {"now", "a rather long-winded name", "b", "c", "d", "e"}) {
    Scenario s = quick("present.toml");
    if (std::string(name) == "e") set_value(s, "delivery.tension.force", "60 N");
    sides.push_back({name, "", std::move(s)});
  }
  CompareOptions options;
  options.sensitivity = options.factors = false;
  const std::string page = compare_text(compare(std::move(sides), options), PrintStyle{});
  for (const char* side : {"1= [1] now", "1= [2] a rather", "1= [5] d", "6  [6] e"})
    CHECK_THAT(page, ContainsSubstring(side));
  const std::string heads = page.substr(page.find("Numbers"), 400);
  for (const char* part : {" a rather ", "long-", " winded name"}) CHECK_THAT(heads, ContainsSubstring(part));
}
