// SPDX-License-Identifier: BSD-3-Clause
// Every surface that says how to measure something says its caution, and every surface with a number the short one.
#include "bindings/cli/check_command.hpp"
#include "bindings/cli/explain_command.hpp"
#include "bindings/cli/print_predict.hpp"
#include "bindings/cli/starter.hpp"
#include "models/parameter.hpp"
#include "sim/bands/rank_unknowns.hpp"
#include "sim/compare/compare.hpp"
#include "sim/io/text/compare_writer.hpp"
#include "sim/io/text/json_writer.hpp"
#include "sim/io/text/report_data.hpp"
#include "sim/io/text/report_tables.hpp"
#include "sim/words/compare_text.hpp"
#include "sim/words/explain.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/checks.hpp"

#include <nlohmann/json.hpp>

#include <memory>

using namespace hoopfield;
using namespace hoopfield::cli;
using namespace hoopfield::words;
using Json = nlohmann::ordered_json;

namespace {

/// A page without its line breaks, indents and comment marks.
std::string flat(const std::string& page) {
  std::string text;
  for (const char c : page) {
    const bool blank = c == ' ' || c == '\n' || c == '#';
    if (blank && (text.empty() || text.back() == ' ')) continue;
    text += blank ? ' ' : c;
  }
  return text;
}

bool says(const std::string& page, std::string_view words) {
  return flat(page).find(flat(std::string(words))) != std::string::npos;
}

struct Case {
  Scenario scenario;
  Result result;
};

const Case& reference() {
  static const Case made = [] {
    Case c{test::reference_scenario(), {}};
    c.scenario.numerics.slices = 12;
    c.result = predict(c.scenario);
    c.result.assumed.clear();
    for (const char* key : {"load.stiffness_along_length", "delivery.roller_gap", "stations.tent_factor"}) {
      const Parameter& p = *find_parameter(ParameterRoom::scenario, key);
      UnknownInput unknown;
      unknown.origin = "assumed";
      unknown.key = key;
      unknown.how_to_measure = how_to_measure(p);
      unknown.caution = caution_text(p);
      c.result.assumed.push_back(unknown);
    }
    return c;
  }();
  return made;
}

}  // namespace

TEST_CASE("explain and the page of all keys print the caution of every key", "[caution]") {
  const std::string markdown = explain_markdown();
  for (const ParameterRoom room : {ParameterRoom::scenario, ParameterRoom::film_file, ParameterRoom::measured_file,
                                   ParameterRoom::output, ParameterRoom::film_number})
    for (const Parameter& p : parameters(room)) {
      const std::string caution = caution_text(p);
      INFO(p.key);
      if (p.room != room || caution.empty()) continue;
      CHECK(says(explain_page(p, UnitStyle::metric), caution));
      CHECK(says(markdown, caution));
    }
}

TEST_CASE("a starter prints the caution of every input it says how to measure", "[caution]") {
  const std::string text = starter_scenario({}, starter_film("general-film"), UnitStyle::metric);
  CHECK(says(text, short_caution));
  std::size_t told = 0;
  for (const Parameter& p : parameters(ParameterRoom::scenario)) {
    if (!says(text, "Measure: " + how_to_measure(p)) || caution_text(p).empty()) continue;
    INFO(p.key);
    CHECK(says(text, "Caution: " + caution_text(p)));
    ++told;
  }
  CHECK(told > 15);
}

TEST_CASE("the largest unknowns carry their cautions on every surface", "[caution]") {
  const Case& c = reference();
  const std::string page = predict_text(c.scenario, c.result, {});
  const Json json = Json::parse(summary_json(c.scenario, c.result));
  ReportInput input;
  input.sides.resize(1);
  input.sides[0].name = "reference";
  input.sides[0].scenario = std::make_shared<const Scenario>(c.scenario);
  input.sides[0].result = std::make_shared<const Result>(c.result);
  const std::string report = report_json(input);
  const std::string tables = plain_tables(report, false);
  for (std::size_t i = 0; i < c.result.assumed.size(); ++i) {
    const UnknownInput& unknown = c.result.assumed[i];
    INFO(unknown.key);
    REQUIRE_FALSE(unknown.caution.empty());
    CHECK(says(page, "Caution: " + unknown.caution));
    CHECK(json.at("assumed").at(i).at("caution") == unknown.caution);
    CHECK(says(tables, unknown.caution));
  }
  const Json data = Json::parse(report);
  for (const auto& [key, told] : data.at("declarations").items()) {
    INFO(key);
    const Parameter* p = find_parameter(ParameterRoom::scenario, key);
    if (p != nullptr) CHECK(told.at("caution") == caution_text(*p));
  }
}

TEST_CASE("a ranked unknown has the caution of its declaration", "[caution]") {
  Scenario scenario = test::reference_scenario();
  scenario.numerics.slices = 6;
  Result result = predict(scenario);
  rank_unknowns(scenario, result);
  REQUIRE_FALSE(result.assumed.empty());
  for (const UnknownInput& unknown : result.assumed) {
    INFO(unknown.key);
    const Parameter& p = *find_parameter(ParameterRoom::scenario, unknown.key);
    CHECK(unknown.how_to_measure == how_to_measure(p));
    CHECK(unknown.caution == caution_text(p));
  }
}

TEST_CASE("every surface with a number says that it is not a certificate", "[caution]") {
  const Case& c = reference();
  CHECK(short_caution.find("not a certificate") != std::string_view::npos);
  CHECK(says(predict_text(c.scenario, c.result, {}), short_caution));
  CHECK(says(check_page(c.scenario, UnitStyle::metric), short_caution));
  CHECK(Json::parse(summary_json(c.scenario, c.result)).at("caution") == short_caution);
  Scenario more = c.scenario;
  more.delivery.tension.force = 1.1 * *c.scenario.delivery.tension.force;
  std::vector<CompareSide> sides(2);
  sides[0].name = "now";
  sides[0].content = c.scenario;
  sides[1].name = "more";
  sides[1].content = more;
  const Comparison comparison = compare(std::move(sides), {});
  CHECK(says(compare_text(comparison, {}), short_caution));
  const Json json = Json::parse(comparison_json(comparison));
  CHECK(json.at("caution") == short_caution);
  CHECK(json.at("sides").at(1).at("prediction").at("caution") == short_caution);
}
