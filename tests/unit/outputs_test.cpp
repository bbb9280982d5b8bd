// SPDX-License-Identifier: BSD-3-Clause
// One declaration per output: what is printed is declared, what is declared is printed, what was renamed says so.
#include "sim/outputs/outputs.hpp"
#include "models/error.hpp"
#include "models/output_names.hpp"
#include "models/renamed.hpp"
#include "sim/inputs/requirement.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/json_writer.hpp"
#include "sim/io/text/transit_json.hpp"
#include "sim/words/explain.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/synthetic_result.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <set>

using namespace hoopfield;
using hoopfield::testing::synthetic_result;
using hoopfield::testing::synthetic_scenario;
using Json = nlohmann::ordered_json;

namespace {

/// A scenario and a result in which nothing is absent that can be there.
Scenario full_scenario() {
  Scenario s = synthetic_scenario();
  s.load.mass = 600.0;
  s.transit.levels = read_requirement({"set.toml", library_requirement("road-eu-2014-47")});
  s.cost.loads_per_year = 48000.0;
  s.cost.roll_mass = 16.0;
  s.film_description.density = 920.0;
  s.cost.roll_change_time = 240.0;
  s.cost.labour_rate = 30.0 / 3600.0;
  return s;
}

Result full_result() {
  Result r = synthetic_result();
  r.span.face = {front, left, back, right};
  r.span.face_turn = {0.2, 0.4, 0.7, 0.9};
  r.span.face_force = {70.0, 69.0, 70.0, 69.0};
  BandResult band;
  band.samples = 20.0;
  band.unknowns.push_back({"film.thickness", "given", "m", "log", "log", 22e-6, 23e-6, 24e-6, false});
  band.failed.push_back({"film-fails", 1.0, "the film breaks"});
  band.names = {"film.mass"};
  for (int i = 0; i < 20; ++i) band.numbers.push_back(0.2 + 0.001 * i);
  r.band = band;
  r.indices.push_back({"film.thickness", {0.5, 0.6, 0.1, 0.1}});
  return r;
}

/// Keys of an object with elements of lists and inputs under their common name: "targets.met", "inputs.KEY.unit".
void collect(const Json& json, const std::string& place, std::set<std::string>& names) {
  for (const auto& [key, child] : json.items()) {
    const std::string any = place == "inputs"                ? "KEY"
                            : place == "band.values"         ? "NAME"
                            : place == "band.failed_because" ? "CODE"
                                                             : key;
    const std::string here = place.empty() ? key : place + "." + any;
    names.insert(here);
    if (child.is_object()) collect(child, here, names);
    if (child.is_array())
      for (const Json& item : child)
        if (item.is_object()) collect(item, here, names);
  }
}

std::set<std::string> printed_names() {
  std::set<std::string> names;
  const RunInfo run{"2000-01-01T00:00:00Z", 0.5, "system", 2};
  collect(Json::parse(summary_json(full_scenario(), full_result(), run)), "", names);
  return names;
}

/// Names of the long answer about transit, whatever the moment and the direction.
std::set<std::string> transit_names() {
  TransitOptions options;
  options.tilt = true;
  options.predictor = [](const Scenario&, const DenserTurns&) { return full_result(); };
  std::set<std::string> printed, names;
  Scenario scenario = full_scenario();
  for (RequirementCase& level : scenario.transit.levels->cases) level.level = 1.0;  // m/s^2, which friction holds
  TransitAnswer answer = answer_transit(scenario, full_result(), options);
  answer.influences = {{"friction.between_tiers", 0.3, 0.5, 2.0, 3.0}};
  collect(Json::parse(transit_json(scenario, answer)), "", printed);
  for (std::string name : printed) {
    for (const std::string axis : {".end.", ".weakest.", ".after_storage.", ".along_length.", ".along_width."})
      if (const auto at = name.find(axis); at != std::string::npos) name.erase(at, axis.size() - 1);
    names.insert(name);
  }
  return names;
}

/// Tables that only hold others: a moment, a station, the faces.
bool is_branch(const std::string& name) {
  static const std::set<std::string> words = {
      "containment",   "film",  "span",   "pattern", "load",         "sensitivity", "end",  "weakest",
      "after_storage", "top",   "middle", "bottom",  "faces",        "front",       "left", "back",
      "right",         "least", "KEY",    "NAME",    "along_length", "along_width"};
  return words.count(name.substr(name.rfind('.') + 1)) > 0 && find_parameter(ParameterRoom::output, name) == nullptr;
}

}  // namespace

TEST_CASE("every name that a prediction prints is declared and explained") {
  std::set<std::string> names = printed_names();
  names.merge(transit_names());
  for (const std::string& name : names) {
    if (is_branch(name)) continue;
    INFO(name);
    const auto found = find_parameters(name);
    REQUIRE_FALSE(found.empty());
    CHECK_FALSE(found.front()->sentence.empty());
    CHECK_NOTHROW(words::explain_text(name, words::UnitStyle::metric));
  }
}

TEST_CASE("every declared output is printed, in the object or in the result file") {
  const std::set<std::string> names = printed_names();
  std::set<std::string> visited;
  const auto see = [&](const OutputValue& output) { visited.insert(std::string(output.declaration->key)); };
  visit_outputs(full_result(), see);
  visit_outputs(economics(full_scenario(), full_result()), see);
  const std::set<std::string> in_transit = transit_names();
  for (const Parameter& p : parameters(ParameterRoom::output)) {
    INFO(p.key);
    if (p.key.starts_with("transit")) {
      CHECK(in_transit.count(json_key(p)) == 1);
      continue;
    }
    if (p.kind == ParameterKind::table) {
      CHECK(names.count(std::string(p.key)) == 1);
      continue;
    }
    CHECK(visited.count(std::string(p.key)) == 1);
    CHECK_FALSE(p.label.empty());
    const bool in_file = !p.file.empty(), in_object = names.count(json_key(p)) == 1 || p.in_summary;
    CHECK((in_file || in_object || p.key == "span.face"));  // that one stands in a table and as `face_order`
  }
}

TEST_CASE("numbers of the summary stand where their names say") {
  const Json json = Json::parse(summary_json(full_scenario(), full_result()));
  const std::vector<double> numbers = summary_numbers(full_result());
  REQUIRE(numbers.size() == summary_outputs().size());
  for (const SummaryOutput& output : summary_outputs()) {
    INFO(output.name);
    const Json* at = &json;
    std::string rest = output.name;
    for (std::size_t dot = rest.find('.'); dot != std::string::npos; dot = rest.find('.')) {
      at = &at->at(rest.substr(0, dot));
      rest = rest.substr(dot + 1);
    }
    const auto found = find_parameters(output.name);
    const Parameter& p = **std::find_if(found.begin(), found.end(),
                                        [](const Parameter* any) { return any->room == ParameterRoom::output; });
    CHECK(at->at(json_leaf(p)).get<double>() == json_number(p, numbers.at(output.place)));
    CHECK(si_of_json(p, json_number(p, numbers[output.place])) == Approx(numbers[output.place]).epsilon(1e-12));
  }
}

TEST_CASE("a name that was given up is answered with the present one") {
  const std::set<std::string> names = printed_names();
  for (const Renamed& r : renamed_names()) {
    INFO(r.before);
    CHECK(renamed_to(r.before) == r.now);
    CHECK(names.count(std::string(r.before)) == 0);
    CHECK(renamed_to(r.now).empty());
    if (r.before.find('.') != std::string_view::npos && r.before.find(".csv") == std::string_view::npos) {
      CHECK(find_parameters(r.before).empty());
      CHECK_FALSE(find_parameters(r.now).empty());
      const std::string page = words::explain_text(std::string(r.before), words::UnitStyle::metric);
      CHECK_THAT(page, ContainsSubstring("is called " + std::string(r.now) + " now"));
    }
  }
}

TEST_CASE("numbers that change their unit in JSON come back from it") {
  for (const Parameter& p : parameters(ParameterRoom::output))
    for (const double value : {0.0, 1.0, 312.15, 1e6})
      CHECK(si_of_json(p, json_number(p, value)) == Approx(value).epsilon(1e-12).margin(1e-12));
}
