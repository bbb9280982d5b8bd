// SPDX-License-Identifier: BSD-3-Clause
#include "models/error.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/requirement.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/scenario_writer.hpp"
#include "sim/io/text/transit_json.hpp"
#include "sim/stations/blow_stiffness.hpp"
#include "sim/transit/levels.hpp"
#include "sim/wrap/plan.hpp"
#include "sim/wrap/predict.hpp"
#include "sim/wrap/predict_denser.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <array>
#include <functional>
#include <numeric>
#include <string>

using namespace hoopfield;

namespace {

const std::string root = HOOPFIELD_SOURCE_DIR;

Scenario wrapped() {
  Scenario s = read_scenario(root + "/examples/01_first_prediction/scenario.toml");
  set_values(s, {{"pattern.start_height", "-100 mm"}, {"numerics.slices", "30"}, {"storage.temperature", "23 degC"}});
  return s;
}

const Result& result() {
  static const Result known = predict(wrapped());
  return known;
}

BothStacks stacks_of(const Scenario& s, const Result& r) {
  return {transit_stack(s, r, weakest_moment, 0), transit_stack(s, r, weakest_moment, 1)};
}

}  // namespace

TEST_CASE("transit: without a mass the answer says what is missing", "[transit]") {
  Scenario s = wrapped();
  CHECK(missing_for_transit(s).empty());
  s.load.mass.reset();
  CHECK(missing_for_transit(s) == std::vector<std::string>{"load.mass"});
  CHECK(transit_statics(s, result()).missing == std::vector<std::string>{"load.mass"});
  CHECK_THROWS_AS(answer_transit(s, result(), {}), InputError);
}

TEST_CASE("transit: tiers are alike unless listed, one for each quarter metre unless counted", "[transit]") {
  Scenario s = wrapped();
  CHECK(tiers_of(s).size() == 6);
  s.load.tiers.reset();
  CHECK(tiers_of(s).size() == 6);  // 1.5 m over 0.25 m
  set_value(s, "load.tier",
            R"([{height = "0.5 m", mass = "400 kg"}, {height = "1 m", mass = "380 kg", friction_below = 0.3}])");
  REQUIRE(tiers_of(s).size() == 2);
  CHECK(tiers_of(s)[1].mass == 380.0);
  const TransitStack stack = transit_stack(s, result(), 0, 1);
  CHECK(stack.tiers[0].friction == s.friction.tier_on_pallet);
  CHECK(stack.tiers[1].friction == 0.3);
  // A file written from the scenario reads back to the same tiers.
  const std::string text = scenario_text(s);
  CHECK(text.find("tier = [{ height = \"0.5 m\", mass = \"400 kg\" }, ") != std::string::npos);
  CHECK(read_scenario_with_film(text, "again.toml", s.film_text).load.tier == s.load.tier);
}

TEST_CASE("transit: hoop tension of a tier is that of the faces along the motion", "[transit]") {
  const Scenario s = wrapped();
  const Result& r = result();
  const std::size_t last = r.hoop_tension.shape[0] - 1;
  for (const std::size_t direction : {0U, 1U}) {
    const TransitStack stack = transit_stack(s, r, 2, direction);
    CHECK(stack.side == (direction == 0 ? s.load.length : s.load.width));
    double mean = 0.0;  // of the lowest tier: five of 30 slices
    for (std::size_t f = 0; f < face_count; ++f)
      if (direction_of(f) == direction)
        for (std::size_t i = 0; i < 5; ++i) mean += r.hoop_tension.at(last, f, i) / 10.0;
    CHECK(stack.tiers[0].hoop_tension == Approx(mean).epsilon(1e-9));
  }
  // The weakest moment is no stronger than either end at any height.
  for (std::size_t i = 0; i < 6; ++i) {
    const double weakest = transit_stack(s, r, weakest_moment, 1).tiers[i].hoop_tension;
    CHECK(weakest <= transit_stack(s, r, 0, 1).tiers[i].hoop_tension);
    CHECK(weakest <= transit_stack(s, r, 2, 1).tiers[i].hoop_tension);
  }
}

TEST_CASE("transit: film answers a blow more stiffly than its tension alone", "[transit]") {
  // EA/N of 6 to 16 is what the law of a slip plane was compared for.
  const TransitStack stack = transit_stack(wrapped(), result(), 2, 1);
  for (const TransitTier& tier : stack.tiers) {
    INFO(tier.stiffness / tier.hoop_tension);
    CHECK(tier.stiffness > 3.0 * tier.hoop_tension);
    CHECK(tier.stiffness < 40.0 * tier.hoop_tension);
  }
}

TEST_CASE("transit: stiffness to a blow is that of film whose force is EA times strain", "[transit]") {
  const Scenario s = wrapped();
  const WrapPlan plan = plan_wrap(s);
  const BuildUpInput input = build_up_input(s, plan);
  const BuildUpResult built = build_up(input);
  const Field stiffness = blow_stiffness(input.setup, built.after_storage, plan.wrap_temperature);
  const LoadStack::Slice& slice = built.after_storage[3];
  const std::size_t branches = plan.law->branch_count();
  std::array<double, face_count> expected{};
  for (std::size_t i = 0; i < slice.film.size; ++i) {
    FilmState film = slice.film.state_of(i, branches);
    const FilmStress end = plan.law->step(film, film.stretch, blow_duration, plan.film_path.mode, plan.wrap_temperature,
                                          plan.wrap_temperature);
    expected[slice.face[i]] += slice.weight[i] * (end.slope - end.nominal);
  }
  for (std::size_t f = 0; f < face_count; ++f) CHECK(stiffness.at(f, 3) == Approx(expected[f]).epsilon(1e-9));
}

TEST_CASE("transit: every key moves an output", "[transit]") {
  const Scenario s = wrapped();
  const auto numbers = [](const Scenario& of) {
    std::vector<double> list;
    for (const TransitStack& stack : stacks_of(of, result())) {
      const StackStatics at = stack_statics(stack, of.transit.slip_allowed);
      list.insert(list.end(), {at.first_slip, at.held, at.tipping});
      RideOptions options;
      options.duration = 0.6;
      const Ride ridden = ride(stack, held_blow(5.0, 0.05, 0.3), options);
      list.push_back(ridden.lean);
      for (const RideTier& tier : ridden.tiers) list.push_back(tier.slip);
    }
    return list;
  };
  const std::vector<double> before = numbers(s);
  for (const auto& [key, value] :
       std::vector<std::pair<std::string, std::string>>{{"load.mass", "500 kg"},
                                                        {"load.tiers", "5"},
                                                        {"friction.between_tiers", "0.5"},
                                                        {"friction.tier_on_pallet", "0.3"},
                                                        {"friction.sliding_share", "0.9"},
                                                        {"friction.film_on_load", "0.2"},
                                                        {"transit.sway_stiffness", "900 kN/m"},
                                                        {"transit.tier_stiffness", "9000 kN/m"},
                                                        {"transit.damping", "0.2"},
                                                        {"transit.bearing_share", "0.88"},
                                                        {"transit.columns", "2"},
                                                        {"transit.pallet_lock", "2 kN"},
                                                        {"transit.top_fold_hold", "100 N"},
                                                        {"transit.slip_allowed", "30 mm"}}) {
    Scenario moved = s;
    set_value(moved, key, value);
    INFO(key);
    CHECK(numbers(moved) != before);
  }
}

TEST_CASE("transit: sets of levels that are built in say where they come from", "[transit]") {
  REQUIRE(library_requirements().size() >= 5);
  for (const std::string& name : library_requirements()) {
    INFO(name);
    const Requirement set = read_requirement({name, library_requirement(name)});
    CHECK_FALSE(set.source.empty());
    CHECK((set.status == "read" || set.status == "secondary" || set.status == "memory"));
    for (const RequirementCase& level : set.cases) CHECK(level.level > 0.3 * standard_gravity);
  }
}

TEST_CASE("transit: half a gram is no acceleration", "[transit]") {
  const std::string text =
      "name = \"own\"\nsource = \"own\"\nstatus = \"read\"\n[[case]]\ndirection = \"forward\"\nkind = "
      "\"static\"\nstatus = "
      "\"read\"\nlevel = \"0.5 g\"\n";
  CHECK_THROWS_WITH(
      read_requirement({"own.toml", text}),
      ContainsSubstring(
          "own.toml:8:9: case[1].level: \"0.5 g\" is half a gram: g is the gram, gn the standard gravity; "
          "expected an acceleration (gn or m/s^2), more than 0 gn and at most 10 gn; did you mean \"0.5 gn\"?"));
}

TEST_CASE("transit: levels act in the directions the load lies in", "[transit]") {
  TransitInput input;
  RequirementCase forward, sideways;
  forward.direction = VehicleDirection::forward;
  input.direction = TransitDirection::along_width;
  CHECK(acts_along(input, forward, 1));
  CHECK_FALSE(acts_along(input, forward, 0));
  CHECK(acts_along(input, sideways, 0));
  CHECK_FALSE(acts_along(input, sideways, 1));
  input.direction = TransitDirection::worst;
  CHECK((acts_along(input, forward, 0) && acts_along(input, forward, 1)));
}

TEST_CASE("transit: the hoop tension required is just enough", "[transit]") {
  Scenario s = wrapped();
  set_values(s, {{"transit.requirement", "road-eu-2014-47"}});
  // Levels that friction alone does not hold and film can: 0.45 gn on a light, low-friction stack.
  for (RequirementCase& level : s.transit.levels->cases) level.level = 0.45 * standard_gravity;
  set_values(s, {{"load.mass", "150 kg"}, {"transit.pallet_lock", "3 kN"}});
  const BothStacks stacks = stacks_of(s, result());
  const auto required = required_tension(s.transit, stacks);
  REQUIRE(required.size() == 6);
  const auto with = [&](double share) {
    BothStacks changed = stacks;
    for (TransitStack& stack : changed)
      for (std::size_t i = 0; i < 6; ++i) {
        const double ratio = stack.tiers[i].stiffness / stack.tiers[i].hoop_tension;
        stack.tiers[i].hoop_tension = share * required[i].tension;
        stack.tiers[i].stiffness = ratio * stack.tiers[i].hoop_tension;
      }
    return changed;
  };
  CHECK(required[0].tension > 0.0);
  CHECK(meets(s.transit, with(1.001)));
  CHECK_FALSE(meets(s.transit, with(0.9)));
  // Nothing that film could do holds three gn.
  for (RequirementCase& level : s.transit.levels->cases) level.level = 3.0 * standard_gravity;
  CHECK(required_tension(s.transit, stacks).empty());
}

TEST_CASE("transit: an answer names remedies that help", "[transit]") {
  Scenario s = wrapped();
  set_value(s, "transit.requirement", "road-eu-2014-47");
  TransitOptions options;
  CHECK(answer_transit(s, result(), options).remedies.empty());  // nothing to wind them with
  options.predictor = predict_denser;
  const TransitAnswer answer = answer_transit(s, result(), options);
  REQUIRE(answer.remedies.size() >= 8);
  CHECK(answer.remedies[0].name == "as it is");
  CHECK(answer.levels.size() == 6);
  CHECK(answer.margin.value() < 1.0);
  const auto find = [&](const std::string& name) {
    const auto at = std::find_if(answer.remedies.begin(), answer.remedies.end(),
                                 [&](const TransitRemedy& r) { return r.name == name; });
    REQUIRE(at != answer.remedies.end());
    return *at;
  };
  const TransitRemedy sheets = find("friction sheet (0.6) under every tier");
  CHECK(sheets.withstood[1] > answer.remedies[0].withstood[1]);
  CHECK(sheets.largest_blow[1] > answer.remedies[0].largest_blow[1]);
  CHECK(sheets.more_film == 0.0);
  for (const DirectionAnswer& direction : answer.direction) CHECK(direction.ride.time.size() > 100);
  // More turns are wound: they answer as the prediction of that wrap does, and cost its film.
  const Result wound = predict_denser(s, {1.5, 0.0, 1.0});
  const TransitRemedy turns = find("half as many turns again everywhere");
  CHECK(turns.withstood[1] == transit_side(s, wound, weakest_moment, 1).statics.withstood());
  CHECK(turns.more_film == wound.film.mass - result().film.mass);
  CHECK(turns.more_film > 0.3 * result().film.mass);
  CHECK(find("half as many turns again, upper third").more_film < turns.more_film);
}

TEST_CASE("transit: a remedy that cannot be wound says why", "[transit]") {
  TransitOptions options;
  options.predictor = [](const Scenario&, const DenserTurns&) -> Result {
    throw SolverError("the goods are crushed", "");
  };
  Scenario s = wrapped();
  const TransitAnswer answer = answer_transit(s, result(), options);
  CHECK(answer.remedies[1].message == "the goods are crushed");
  CHECK(answer.remedies[0].message.empty());
  CHECK_THAT(transit_json(s, answer), ContainsSubstring("\"message\": \"the goods are crushed\""));
}

TEST_CASE("transit: inputs that act on it say so when the mass is missing", "[transit]") {
  Scenario s = wrapped();
  const auto inert = [&] {
    std::vector<std::string> keys;
    for (const Warning& w : input_warnings(s))
      if (w.code == "inert-input") keys.push_back(w.key);
    return keys;
  };
  CHECK(inert().empty());
  s.load.mass.reset();
  s.sources.erase("load.mass");
  CHECK(inert() == std::vector<std::string>{"friction.between_tiers", "load.tiers"});
}
