// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/print_predict.hpp"
#include "bindings/cli/explain_least.hpp"
#include "sim/words/answer_text.hpp"
#include "sim/words/text_layout.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/synthetic_result.hpp"

#include <cstdlib>
#include <iostream>
#include <sstream>

using namespace hoopfield;
using namespace hoopfield::cli;
using namespace hoopfield::words;
using hoopfield::testing::synthetic_result;
using hoopfield::testing::synthetic_scenario;

namespace {

void check_width(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(display_width(line) <= terminal_width);
    CHECK((line.empty() || line.back() != ' '));
  }
}

}  // namespace

TEST_CASE("the page fits 80 columns in both unit styles, with long words and texts") {
  Scenario scenario = synthetic_scenario();
  scenario.title.assign(200, 'x');
  scenario.title.append(" title with many words that go on and on and on until the line must break");
  Result result = synthetic_result();
  result.warnings.push_back({"code", "danger", "", std::string(170, 'y')});
  for (const UnitStyle units : {UnitStyle::metric, UnitStyle::inch_pound})
    check_width(predict_text(scenario, result, {units, false}));
  if (std::getenv("HOOPFIELD_SHOW") != nullptr)
    std::cout << predict_text(synthetic_scenario(), synthetic_result(), {UnitStyle::metric, false});
}

TEST_CASE("the least place beside the fullest face: a share more, or what that holds where the least is nothing") {
  Result result = synthetic_result();
  const auto text = [&] { return least_explanation(synthetic_scenario(), result, UnitStyle::metric); };
  result.hoop_tension.at(3, left, 1) = 200.0;
  result.hoop_tension.at(3, right, 1) = 500.0;
  CHECK_THAT(text(), ContainsSubstring("The right face holds 150 % more at the same height."));
  result.hoop_tension.at(3, left, 1) = 0.0;
  CHECK_THAT(text(), ContainsSubstring("The right face holds 500 N/m at the same height."));
}

TEST_CASE("the sentence follows the numbers") {
  Scenario scenario = synthetic_scenario();
  Result result = synthetic_result();
  const std::string sagging = stations_sentence(scenario, result, UnitStyle::metric);
  CHECK_THAT(sagging, ContainsSubstring("25 % less. It is weakest in between: 440 N/m after 3.5 days, at 38 degC."));
  result.weakest = result.after_storage;
  CHECK(stations_sentence(scenario, result, UnitStyle::metric) ==
        "Of the three stations, the middle one holds least: hoop tension is 600 N/m when wrapping ends and 450 N/m "
        "after 7 "
        "days "
        "of storage, 25 % less.");
  result.after_storage.stations[2].hoop_tension = 396.0;
  result.end.stations[2].hoop_tension = 360.0;
  CHECK(stations_sentence(scenario, result, UnitStyle::metric) ==
        "Of the three stations, the bottom one holds least: hoop tension is 360 N/m when wrapping ends and 396 N/m "
        "after 7 "
        "days "
        "of storage, 10 % more.");
  CHECK_THAT(stations_sentence(scenario, result, UnitStyle::inch_pound), ContainsSubstring("2.06 lbf/in"));
  scenario.storage.duration = 0.0;
  CHECK(stations_sentence(scenario, result, UnitStyle::metric) ==
        "Of the three stations, the bottom one holds least: hoop tension is 360 N/m when wrapping ends.");
}

TEST_CASE("parts stand in their order and styles add no words") {
  const std::string plain = predict_text(synthetic_scenario(), synthetic_result(), {UnitStyle::metric, false});
  std::size_t last = 0;
  for (const char* part : {"Of the three", "Targets", "Containment", "At the end of wrapping",
                           "When each station is weakest in storage", "After 7 days", "Where hoop tension is least",
                           "Settings and film", "Largest unknowns", "Warnings", "\nCaution\n"}) {
    const std::size_t at = plain.find(part);
    INFO(part);
    REQUIRE(at != std::string::npos);
    CHECK(at >= last);
    last = at;
  }
  std::string styled = predict_text(synthetic_scenario(), synthetic_result(), {UnitStyle::metric, true});
  for (const char* code : {"\x1b[1m", "\x1b[0m"})
    for (std::size_t at = 0; (at = styled.find(code)) != std::string::npos;) styled.erase(at, 4);
  CHECK(styled == plain);
}

TEST_CASE("a page without targets, unknowns and warnings has no empty headings") {
  Result result = synthetic_result();
  result.targets.clear();
  result.assumed.clear();
  result.warnings.clear();
  const std::string text = predict_text(synthetic_scenario(), result, {});
  for (const char* part : {"Targets", "Largest unknowns", "Warnings"}) CHECK(text.find(part) == std::string::npos);
}

TEST_CASE("numbers for people") {
  CHECK(readable(412.4) == "412");
  CHECK(readable(12345.6) == "12350");
  CHECK(readable(99.96) == "100");
  CHECK(readable(9.999) == "10.0");
  CHECK(readable(0.01234) == "0.0123");
  CHECK(readable(0.0) == "0");
  CHECK(readable(-1.5) == "-1.50");
  CHECK(duration(604800.0) == "7 days");
  CHECK(duration(86400.0) == "1 day");
  CHECK(duration(3600.0) == "1 h");
  CHECK(duration(129600.0) == "36 h");
  CHECK(duration(90.0) == "90 s");
  CHECK(percent(0.25) == "25 %");
  CHECK(percent(0.0251) == "2.5 %");
  const DisplayUnits inch(UnitStyle::inch_pound);
  CHECK(quantity(175.12683524647636, inch.tension) == "1 lbf/in");  // 1 lbf/in = 4.4482216152605 N / 0.0254 m
  CHECK(quantity(4.4482216152605, inch.force) == "1 lbf");
  CHECK(quantity(296.15, inch.temperature) == "73.4 degF");
}

TEST_CASE("wrapping keeps every word and the width") {
  CHECK(wrap("one two three", "- ", "  ", 9) == "- one two\n  three\n");
  CHECK(wrap("", "- ", "  ", 9) == "- \n");
  CHECK(wrap("abcdefghijkl", "", " ", 5) == "abcd\n efgh\n ijkl\n");
  CHECK(wrap("it takes 18 % of it", "", "", 11) == "it takes\n18 % of it\n");
  CHECK(display_width("5 µm") == 4);
}
