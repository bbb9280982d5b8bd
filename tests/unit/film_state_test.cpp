// SPDX-License-Identifier: BSD-3-Clause
// Every piece of film keeps its own state: what was fed is what lies on the load, whatever the control.
#include "models/error.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/wrap/plan.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/size.hpp"
#include "tests/support/winding_cases.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

using namespace hoopfield;
using namespace hoopfield::testing;

namespace {

Scenario reference() {
  return read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
}

Scenario fed(double share_of_neutral) {
  Scenario s = reference();
  const double neutral = 1.0 / plan_wrap(s).film_path.result.stretch_on_load;
  s.delivery.tension.control = TensionControl::fixed_length;
  s.delivery.tension.length_per_turn = share_of_neutral * neutral;
  return s;
}

struct Turns {
  std::vector<double> fed, laid, in_span;  // m on the roll: since the start, in the turn, at its end
  WindingResult result;
};

Turns wind_by_turns(const WindingInput& in) {
  const Winder winder(in);
  WindingState state = winder.start();
  Turns turns;
  std::size_t events = 0;
  while (winder.advance(state)) {
    if (state.events % 4 != 0 || state.events == events) continue;
    events = state.events;
    turns.fed.push_back(state.span.fed);
    turns.in_span.push_back(state.span.mass);
    double laid = 0.0;
    for (std::size_t i = state.faces.size() - 4; i < state.faces.size(); ++i)
      laid += state.faces[i].mass + state.faces[i].round;
    turns.laid.push_back(laid);
  }
  turns.result = winder.result(state);
  return turns;
}

}  // namespace

TEST_CASE("mass balance: film fed per turn times its stretch on the load is the perimeter, for every control",
          "[winding]") {
  using Kind = WindingControl::Kind;
  for (const Kind kind : {Kind::constant, Kind::follow, Kind::fixed_length})
    for (const double ramp : {0.0, 1.5})
      for (const double offset : {0.0, 0.15}) {
        INFO("control " << static_cast<int>(kind) << ", ramp " << ramp << ", offset " << offset);
        WindingInput in = reference_winding();
        in.control.kind = kind;
        in.control.length_per_turn = 1.0 / 3.12;
        in.control.gain = 0.4;
        in.ramp_turns = ramp;
        in.plan.axis_offset = 0.5 * offset;
        in.plan.offset = offset;
        in.plan.distance = 1.7;
        in.turns = 14.0;
        in.tolerance = test::sized(1e-6, 1e-4);
        in.repeat_settled = false;
        in.film_on_load.reset();
        const Turns turns = wind_by_turns(in);
        REQUIRE(turns.fed.size() >= 13);
        for (std::size_t k = 1; k < turns.fed.size(); ++k)
          CHECK(turns.fed[k] - turns.fed[k - 1] ==
                Approx(turns.laid[k] + turns.in_span[k] - turns.in_span[k - 1]).epsilon(0.1 * in.tolerance));
        const std::size_t last = turns.fed.size() - 1;
        const double perimeter = TakeUp(in.plan).perimeter();
        const double per_turn = turns.fed[last] - turns.fed[last - 1];
        CHECK(per_turn * turns.result.stretch_mean == Approx(perimeter).epsilon(in.tolerance));
        if (kind == Kind::fixed_length) CHECK(turns.result.stretch_mean == Approx(3.12).epsilon(in.tolerance));
        if (kind != Kind::constant) CHECK(turns.result.stretch_max > 1.001 * turns.result.stretch_min);
        // The default tolerance, and turns copied, keep the balance as well.
        in.tolerance = 1e-3;
        in.repeat_settled = true;
        if (kind == Kind::fixed_length) CHECK(wind(in).stretch_mean == Approx(3.12).epsilon(1e-6));
      }
}

TEST_CASE("two controls with the same feed give the same forces, ramps included", "[winding]") {
  for (const double ramp : {0.0, 1.0}) {
    WindingInput follow = reference_winding();
    follow.ramp_turns = ramp;
    follow.turns = 8.0;
    follow.tolerance = test::sized(1e-6, 1e-4);
    follow.control.gain = 0.0;
    follow.control.lag = std::numeric_limits<double>::infinity();
    const WindingResult a = wind(follow);
    WindingInput fixed = follow;
    fixed.control.kind = WindingControl::Kind::fixed_length;
    fixed.control.length_per_turn = 1.0 / a.reference.stretch;
    const WindingResult b = wind(fixed);
    REQUIRE(a.faces.size() == b.faces.size());
    const double near = 2.0 * follow.tolerance;
    for (std::size_t i = 0; i < a.faces.size(); ++i) CHECK(a.faces[i].force == Approx(b.faces[i].force).epsilon(near));
    CHECK(a.force_min == Approx(b.force_min).epsilon(near));
  }
}

TEST_CASE("friction down to 0 is solved at any tolerance, and without friction the last four faces share one tension",
          "[winding]") {
  for (const auto kind : {WindingControl::Kind::follow, WindingControl::Kind::constant})
    for (const double mu : {0.0, 0.005})
      for (const double tolerance : {1e-3, test::sized(1e-6, 1e-4)}) {
        INFO("friction " << mu << ", tolerance " << tolerance << ", control " << static_cast<int>(kind));
        WindingInput in = reference_winding();
        in.control.kind = kind;
        in.turns = 2.0;
        in.tolerance = tolerance;
        in.film_on_load = in.film_on_film = mu;
        const WindingResult r = wind(in);
        REQUIRE(r.faces.size() == 8);
        for (std::size_t i = 5; i < 8; ++i)
          CHECK(std::abs(std::log(r.faces[i].force / r.faces[i - 1].force)) <= 0.5 * std::numbers::pi * mu + 1e-7);
      }
}

TEST_CASE("film on a face relaxes until it is covered, so a held span pulls some of it back at low friction",
          "[winding]") {
  WindingInput in = reference_winding();
  in.control.kind = WindingControl::Kind::constant;
  in.turns = 3.0;
  in.film_on_load = in.film_on_film = 0.0;
  const WindingResult slippery = wind(in);
  in.film_on_load = in.film_on_film = 0.35;
  const WindingResult held = wind(in);
  CHECK(held.counters.slips == 0);
  // Without friction every face stands under the set force as long as it can slip, and so has crept a turn longer.
  for (std::size_t i = 8; i < 12; ++i) CHECK(slippery.faces[i].force == Approx(70.0).epsilon(2e-7));
  FilmState crept = held.reference;
  creep(*in.law, crept, 70.0 / in.roll_section, 5.0, in.mode, in.temperature);
  CHECK(slippery.faces[4].film.stretch == Approx(crept.stretch).epsilon(1e-3));
  CHECK(slippery.faces[4].film.stretch > 1.001 * held.faces[4].film.stretch);
}

TEST_CASE("predict: with a fed length the film on the load is the film that was fed", "[predict]") {
  for (const double share : {0.9, 0.97, 1.0, 1.03}) {
    INFO("share of neutral " << share);
    const Scenario s = fed(share);
    const Result r = predict(s);
    const FilmPathResult& film = r.film_path;
    CHECK(film.stretch_on_load * *s.delivery.tension.length_per_turn == Approx(1.0).epsilon(1e-6));
    CHECK(film.stretch_on_load_min < film.stretch_on_load);
    CHECK(film.stretch_on_load < film.stretch_on_load_max);
    CHECK(film.laid_width_min < film.laid_width);
    CHECK(film.laid_width < film.laid_width_max);
    const double perimeter = plan_wrap(s).perimeter;
    CHECK(film.roller_speed_1 * film.stretch_on_load ==
          Approx(s.rotation.speed * perimeter / (2.0 * std::numbers::pi)).epsilon(1e-12));
  }
  const double narrow = predict(fed(0.9)).film_path.laid_width, wide = predict(fed(1.03)).film_path.laid_width;
  CHECK(narrow < 0.95 * wide);
}

TEST_CASE("plan: every patch has the width, stretch and tension of its own film", "[predict]") {
  const Scenario s = fed(0.95);
  const WrapPlan plan = plan_wrap(s);
  const double section = s.film.width * s.film.thickness;
  double narrowest = 1.0, widest = 0.0;
  for (std::size_t i = 0; i < plan.patches.size(); ++i) {
    const LaidPatch& p = plan.patches[i];
    const LaidFace& face = plan.wound.faces[i];
    const double width = s.film.width * plan.film_path.width_factor / std::sqrt(face.length / face.mass);
    CHECK(p.patch.width == Approx(width).epsilon(1e-12));
    CHECK(p.section_per_width == Approx(section / width).epsilon(1e-12));
    if (mean_width_above(p.patch, s.load.height) == 0.0)
      CHECK(section * plan.law->stress(p.state, plan.film_path.mode, plan.wrap_temperature).nominal ==
            Approx(p.laid_force).epsilon(1e-9));
    narrowest = std::min(narrowest, p.patch.width);
    widest = std::max(widest, p.patch.width);
  }
  CHECK(widest > 1.002 * narrowest);
  CHECK(plan.film_path.result.laid_width_max == Approx(widest).epsilon(1e-12));
}

TEST_CASE("film path: a fed length and the force that lays it are the same film", "[film-path]") {
  for (const double force : {40.0, 70.0, 87.0}) {
    Scenario s = reference();
    s.delivery.tension.force = force;
    const FilmPath by_force = plan_wrap(s).film_path;
    s.delivery.tension.control = TensionControl::fixed_length;
    s.delivery.tension.length_per_turn = 1.0 / by_force.laid.stretch;
    const FilmPath by_length = plan_wrap(s).film_path;
    CHECK(by_length.span_force == Approx(force).epsilon(2e-7));
    CHECK(by_length.result.prestretch_force == Approx(by_force.result.prestretch_force).epsilon(1e-7));
    for (std::size_t k = 0; k < 3; ++k)
      CHECK(by_length.laid.strain[k] == Approx(by_force.laid.strain[k]).epsilon(2e-7));
  }
}

TEST_CASE("film path: a fed length that is too long or too short for the film is refused by name", "[film-path]") {
  Scenario s = reference();
  s.delivery.tension.control = TensionControl::fixed_length;
  s.delivery.tension.length_per_turn = 0.4;
  CHECK_THROWS_WITH(plan_wrap(s), ContainsSubstring("would lie slack"));
  s.delivery.tension.length_per_turn = 0.12;
  CHECK_THROWS_AS(plan_wrap(s), SolverError);
}

TEST_CASE("predict: results are smooth in the settings between changes of turns and layers", "[predict]") {
  const auto second_differences = [](const char* key, double from, double step) {
    std::vector<std::array<double, 3>> v;
    for (int i = 0; i < 9; ++i) {
      Scenario s = reference();
      s.pattern.overlap.reset();
      s.pattern.pitch = 0.2;
      s.numerics.slices = 12;
      set_number(s, key, from + step * i);
      const Result r = predict(s);
      v.push_back({std::log(r.film_path.roller_speed_1), std::log(r.end.stations[1].hoop_tension),
                   std::log(r.after_storage.stations[1].pull_force)});
    }
    std::array<double, 3> greatest{};
    for (std::size_t i = 1; i + 1 < v.size(); ++i)
      for (std::size_t k = 0; k < 3; ++k)
        greatest[k] = std::max(greatest[k], std::abs(v[i - 1][k] - 2.0 * v[i][k] + v[i + 1][k]));
    return greatest;
  };
  for (const auto& [key, from, step] : {std::tuple{"delivery.tension.force", 83.0, 0.05},
                                        {"delivery.tension.force", 60.0, 0.05},
                                        {"delivery.roller_gap", 0.05, 2e-5},
                                        {"rotation.speed", 1.2, 5e-4}}) {
    INFO(key << " from " << from);
    const auto greatest = second_differences(key, from, step);
    CHECK(greatest[0] < 2e-7);  // a step changes the speed by some 1e-4
    CHECK(greatest[1] < 2e-6);
    CHECK(greatest[2] < 2e-5);  // pieces of the pull
  }
}

TEST_CASE("temperature while wrapping: thermal strain counts from it, and it lasts until time 0", "[predict]") {
  Scenario s = reference();
  s.numerics.slices = 6;
  s.load.expansion = 1e-4;
  set_value(s, "storage.temperature", "23 degC");
  const Result even = predict(s);
  set_value(s, "storage.temperature", "5 degC");
  const Result cold = predict(s);
  CHECK(cold.end.stations[1].hoop_tension == even.end.stations[1].hoop_tension);
  CHECK(cold.temperature.front() == Approx(296.15));
  CHECK(cold.temperature.back() == Approx(278.15).epsilon(1e-12));
  set_value(s, "storage.temperature", "[[\"0 s\", \"23 degC\"], [\"1 ms\", \"5 degC\"]]");
  CHECK(predict(s).after_storage.stations[1].hoop_tension ==
        Approx(cold.after_storage.stations[1].hoop_tension).epsilon(1e-3));
  set_value(s, "storage.temperature", "5 degC");
  set_value(s, "wrapping.temperature", "5 degC");
  const Result wrapped_cold = predict(s);
  CHECK(wrapped_cold.film_path.prestretch_force > 1.02 * cold.film_path.prestretch_force);
  // The film shrinks more than the load: only what was wrapped warm gains from the cold store.
  CHECK(cold.after_storage.stations[1].hoop_tension / cold.end.stations[1].hoop_tension >
        1.01 * wrapped_cold.after_storage.stations[1].hoop_tension / wrapped_cold.end.stations[1].hoop_tension);
}
