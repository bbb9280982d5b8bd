// SPDX-License-Identifier: BSD-3-Clause
// Numbers in transit under their names: sweeps, comparisons and the target take the same ones.
#include "sim/transit/transit_numbers.hpp"
#include "models/error.hpp"
#include "sim/compare/compare.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/requirement.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/sweep/outputs.hpp"
#include "sim/transit/levels.hpp"
#include "sim/transit/transit_target.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"

#include <cmath>
#include <string>

using namespace hoopfield;

namespace {

const std::string root = HOOPFIELD_SOURCE_DIR;

Scenario on_its_way() {
  Scenario s = read_scenario(root + "/examples/15_in_transit/scenario.toml");
  set_values(s, {{"numerics.slices", "20"}});
  return s;
}
const Result& result() {
  static const Result known = predict(on_its_way());
  return known;
}

}  // namespace

TEST_CASE("transit outputs: one name for each moment, direction and number, in gn where JSON says so", "[transit]") {
  const auto& outputs = transit_outputs();
  REQUIRE(outputs.size() == 3 * 2 * transit_leaves().size());
  CHECK(outputs.front().name == "transit.end.along_length.first_slip");
  CHECK(outputs.back().name == "transit.after_storage.along_width.margin");
  for (std::size_t i = 0; i < outputs.size(); ++i) CHECK(outputs[i].place == i);
  const Scenario s = on_its_way();
  const std::vector<double> numbers = transit_numbers(s, result());
  REQUIRE(numbers.size() == outputs.size());
  const TransitStatics statics = transit_statics(s, result());
  for (const SummaryOutput& output : outputs) {
    INFO(output.name);
    CHECK(std::isfinite(numbers[output.place]));
    if (output.name.ends_with(".weakest.along_width.held"))
      CHECK(numbers[output.place] == statics.at[weakest_moment][1].statics.held);
  }
  // The margin is the least over the levels that act there: 0.8 gn forward.
  const double margin = numbers[2 * 1 * transit_leaves().size() + transit_leaves().size() - 1];
  CHECK(margin == Approx(statics.at[1][0].statics.withstood() / (0.8 * standard_gravity)).epsilon(1e-12));
}

TEST_CASE("transit outputs: a sweep keeps them when asked, and needs a mass for them", "[transit]") {
  CHECK_FALSE(select_outputs({}).has_transit());
  CHECK_FALSE(select_outputs({"summary"}).has_transit());
  const SelectedOutputs all = select_outputs({"transit"});
  CHECK(all.scalars.size() == transit_outputs().size());
  CHECK(select_outputs({"transit.weakest.along_width.held"}).scalars.size() == 1);
  CHECK_THROWS_WITH(select_outputs({"transit.weakest.along_width.hold"}),
                    ContainsSubstring("transit.weakest.along_width.held"));
  Scenario s = on_its_way();
  const FieldLayout layout = field_layout({}, all, [](const std::string&) { return std::vector<double>{}; });
  const CaseRecord record = take_outputs(all, layout, 0, s, result());
  CHECK(record.scalars == transit_numbers(s, result()));
  s.load.mass.reset();
  CHECK_THROWS_WITH(transit_numbers(s, result()), ContainsSubstring("load.mass: is missing"));
  VariedInput pitch, mass;
  pitch.key = "pattern.pitch";
  pitch.values = {InputValue{std::string("150 mm")}, InputValue{std::string("200 mm")}};
  mass.key = "load.mass";
  mass.values = {InputValue{std::string("300 kg")}, InputValue{std::string("600 kg")}};
  CHECK_THROWS_AS(make_sweep_plan(s, Sampling::grid, {pitch}, 0, 1, {"transit"}), InputError);
  CHECK(make_sweep_plan(s, Sampling::grid, {mass}, 0, 1, {"transit"}).case_count() == 2);
}

TEST_CASE("transit outputs: a comparison holds them where the goods have a mass", "[transit]") {
  ComparedSide side;
  side.scenario = on_its_way();
  side.result = result();
  const auto predicted = [&] { side.in_transit = weakest_transit_numbers(*side.scenario, result()); };
  predicted();
  const CompareQuantity& held = compare_quantity("transit.weakest.along_width.held");
  CHECK(held.json_name == "transit.weakest.along_width.held_gn");
  CHECK(held.per_si == Approx(1.0 / standard_gravity).epsilon(1e-12));
  const auto value = compare_value(side, held.name);
  REQUIRE(value);
  CHECK(*value == transit_statics(*side.scenario, result()).at[weakest_moment][1].statics.held);
  for (std::size_t d = 0; d < 2; ++d)
    for (std::size_t leaf = 0; leaf < transit_leaves().size(); ++leaf)
      CHECK(compare_value(side, transit_name(weakest_moment, d, leaf)) ==
            transit_number(side.scenario->transit, transit_side(*side.scenario, result(), weakest_moment, d), d, leaf));
  side.scenario->transit.levels.reset();
  predicted();
  CHECK_FALSE(compare_value(side, "transit.weakest.along_width.margin"));
  side.scenario->load.mass.reset();
  predicted();
  CHECK_FALSE(compare_value(side, held.name));
}

TEST_CASE("transit target: the requirement by direction of the load, met from its level on", "[transit]") {
  Scenario s = on_its_way();
  CHECK(transit_targets(s, result()).empty());
  s.target.emplace();
  s.target->quantity = TargetQuantity::transit;
  s.target->at = TargetTime::weakest;
  const std::vector<TargetResult> targets = transit_targets(s, result());
  REQUIRE(targets.size() == 2);
  for (std::size_t d = 0; d < 2; ++d) {
    CHECK(targets[d].station == load_direction_names[d]);
    CHECK(targets[d].wanted == 1.0);
    CHECK(targets[d].met == (targets[d].predicted >= 1.0));
    CHECK(drawn_name_of(targets[d]) == transit_name(weakest_moment, d, transit_leaves().size() - 1));
  }
  // As strict as what the load withstands: it is met, and a hair above it is not.
  const double withstood = transit_statics(s, result()).at[weakest_moment][1].statics.withstood();
  RequirementCase level;
  level.level = withstood;
  s.transit.levels->cases = {level};
  s.transit.direction = TransitDirection::along_length;  // sideways acts along the width alone
  REQUIRE(transit_targets(s, result()).size() == 1);
  CHECK(transit_targets(s, result())[0].station == "along_width");
  CHECK(transit_targets(s, result())[0].met);
  s.transit.levels->cases[0].level = 1.001 * withstood;
  CHECK_FALSE(transit_targets(s, result())[0].met);
  // A pulse counts 1 or 0.
  s.transit.levels->cases[0] = level;
  s.transit.levels->cases[0].is_pulse = true;
  s.transit.levels->cases[0].rise = 0.05;
  s.transit.levels->cases[0].hold = 0.3;
  s.transit.levels->cases[0].lean = 0.1;
  for (const auto& [gn, predicted] : {std::pair{0.05, 1.0}, std::pair{3.0, 0.0}}) {
    s.transit.levels->cases[0].level = gn * standard_gravity;
    CHECK(transit_targets(s, result())[0].predicted == predicted);
  }
}

TEST_CASE("transit target: what it needs and what it excludes is said", "[transit]") {
  const Scenario s = on_its_way();
  const std::string head =
      "[scenario]\nschema = 1\n[film]\nfile = \"x\"\nwidth = \"500 mm\"\nthickness = \"23 um\"\n[delivery]\nprestretch "
      "= "
      "\"250 %\"\ndistance = \"1.5 m\"\n[delivery.tension]\nforce = \"70 N\"\n[rotation]\nspeed = \"12 "
      "rpm\"\n[pattern]\n"
      "pitch = \"190 mm\"\nbottom_turns = 3\ntop_turns = 2\n[load]\nlength = \"1.2 m\"\nwidth = \"1.0 m\"\nheight = "
      "\"1.6 "
      "m\"\n";
  const std::string mass = "mass = \"600 kg\"\n", target = "[target]\nquantity = \"transit\"\n";
  const std::string requirement = "[transit]\nrequirement = \"road-eu-2014-47\"\n";
  const auto read = [&](const std::string& text) { return read_scenario_with_film(text, "a.toml", s.film_text); };
  CHECK(targets_transit(read(head + mass + requirement + target)));
  CHECK_THROWS_WITH(read(head + mass + target), ContainsSubstring("transit.requirement"));
  CHECK_THROWS_WITH(read(head + requirement + target), ContainsSubstring("load.mass"));
  CHECK_THROWS_WITH(read(head + mass + requirement + target + "top = \"90 N/m\"\n"), ContainsSubstring("target.top"));
}
