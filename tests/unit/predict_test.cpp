// SPDX-License-Identifier: BSD-3-Clause
// The whole prediction where a formula pins it.
#include "sim/wrap/predict.hpp"
#include "models/error.hpp"
#include "sim/buildup/fold_in.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/wrap/plan.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

using namespace hoopfield;

namespace {

Scenario reference() {
  return read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
}

/// Elastic film on a rigid load: nothing moves after lay-down, so coverage alone decides.
Scenario rigid_elastic(double neck_in) {
  Scenario s = reference();
  s.film_description = {};
  s.film_description.name = "elastic";
  s.film_description.law = "elastic-curve";
  s.film_description.density = 920;
  s.film_description.curve = {{1.0, 0.0}, {1.1, 3e6}, {2.0, 4e6}, {3.3, 6.2e6}, {4.5, 13e6}};
  s.delivery.neck_in = neck_in;
  s.load.stiffness_along_length = s.load.stiffness_along_width = std::numeric_limits<double>::infinity();
  s.storage.temperature = {{0.0, 296.15}};
  s.pattern.pitch = 0.1;
  s.load.corner_radius = 0.0;
  return s;
}

}  // namespace

TEST_CASE("predict: helix zone of a rigid load, mean over a pitch = passes * force / pitch for every width exponent",
          "[predict]") {
  for (const double neck_in : {0.0, 0.2, 0.5}) {
    Scenario s = rigid_elastic(neck_in);
    s.numerics.slices = 150;  // ten slices a pitch
    const Result r = predict(s);
    for (std::size_t f = 0; f < face_count; ++f) {
      double mean = 0.0;
      for (std::size_t slice = 70; slice < 80; ++slice) mean += r.hoop_tension.at(0, f, slice) / 10.0;
      CHECK(mean == Approx(2.0 * 70.0 / 0.1).epsilon(1e-3));  // up and down
    }
  }
}

TEST_CASE("predict: force over the height is the span force of every layer laid, in the end of wrapping too",
          "[predict]") {
  const Result r = predict(rigid_elastic(0.2));
  // All film of a face on the load carries the span force, whether it overhangs the top or not.
  for (std::size_t f = 0; f < face_count; ++f) {
    double force = 0.0, layers_by_turn = r.pattern.turns;
    for (std::size_t slice = 0; slice < r.height.size(); ++slice)
      force += r.hoop_tension.at(0, f, slice) * 1.5 / static_cast<double>(r.height.size());
    CHECK(force <= 70.0 * layers_by_turn * (1 + 1e-9));
    CHECK(force > 70.0 * layers_by_turn * 0.97);  // what folds in over the top carries the rest
  }
  CHECK(r.force_balance_error <= 1e-9);
  CHECK(r.end.stations[1].hoop_tension == Approx(r.after_storage.stations[1].hoop_tension).epsilon(1e-12));
}

TEST_CASE("predict: a station of film that nothing moves is the same through any slices", "[predict]") {
  Scenario s = rigid_elastic(0.2);
  s.stations.band_height = GENERATE(0.2, 0.07, 0.013);
  s.numerics.slices = 480;
  const Result fine = predict(s);
  for (const int slices : {1, 7, 20, 33}) {  // bands that cut slices, and some that lie inside of one
    s.numerics.slices = slices;
    const Result r = predict(s);
    for (std::size_t i = 0; i < r.end.stations.size(); ++i) {
      const StationResult &station = r.end.stations[i], &exact = fine.end.stations[i];
      INFO(slices << " slices, station " << i);
      CHECK(station.hoop_tension == Approx(exact.hoop_tension).epsilon(1e-9));
      CHECK(station.film_layers == Approx(exact.film_layers).epsilon(1e-9));
      for (std::size_t f = 0; f < face_count; ++f)
        CHECK(station.faces[f].hoop_tension == Approx(exact.faces[f].hoop_tension).epsilon(1e-9));
      CHECK(station.band_least_tension <= station.hoop_tension * (1.0 + 1e-12));
      CHECK(station.band_least_tension == Approx(exact.band_least_tension).epsilon(1e-6));
    }
    CHECK(r.end.least_hoop_tension == Approx(fine.end.least_hoop_tension).epsilon(1e-6));
    CHECK(r.end.least_height == Approx(fine.end.least_height).epsilon(1e-3));
    CHECK(r.end.least_face == fine.end.least_face);
  }
}

TEST_CASE("predict: least hoop tension of a rigid load, bands as high as a pitch, is passes * force / pitch",
          "[predict]") {
  Scenario s = rigid_elastic(0.2);
  s.pattern.bottom_turns = s.pattern.top_turns = 12.0;  // more film at both ends than between
  s.stations.band_height = 0.1;                         // the pitch
  s.numerics.slices = GENERATE(1, 20, 33);
  const Result r = predict(s);
  CHECK(r.end.least_hoop_tension == Approx(2.0 * 70.0 / 0.1).epsilon(1e-6));  // up and down
  CHECK(r.end.least_height > 0.3);
  CHECK(r.end.least_height < 1.2);
  CHECK(r.weakest.least_hoop_tension == Approx(r.end.least_hoop_tension).epsilon(1e-9));
}

TEST_CASE("predict: ends of turns are looked at on the way and change nothing", "[predict]") {
  Scenario s = reference();
  s.numerics.slices = 6;
  s.storage.duration = 600.0;
  s.storage.temperature = {{0.0, 296.15}};
  const WrapPlan plan = plan_wrap(s);
  BuildUpInput input = build_up_input(s, plan);
  const BuildUpResult looked = build_up(input);
  input.setup.tolerance = 1e-6;
  const BuildUpResult exact = build_up(input);
  input.setup.tolerance = s.numerics.tolerance;
  input.turn_end_times.clear();
  CHECK(build_up(input).hoop_tension.data == looked.hoop_tension.data);
  double greatest = 0.0, worst = 0.0;
  for (std::size_t i = 0; i < exact.hoop_tension_buildup.data.size(); ++i) {
    greatest = std::max(greatest, exact.hoop_tension_buildup.data[i]);
    worst = std::max(worst, std::abs(looked.hoop_tension_buildup.data[i] - exact.hoop_tension_buildup.data[i]));
  }
  CHECK(worst <= 1e-4 * greatest);
  CHECK(looked.hoop_tension_buildup.at(2, 0, 0) > 0.5 * looked.hoop_tension.at(0, 0, 0));  // something was kept
}

TEST_CASE("predict: layers add up to the hoop tension and nothing pushes", "[predict]") {
  const Result r = predict(reference());
  for (std::size_t f = 0; f < face_count; ++f)
    for (std::size_t s = 0; s < r.height.size(); ++s) {
      double sum = 0.0;
      for (std::size_t layer = 0; layer < r.layer_tension.shape[0]; ++layer) {
        const double value = r.layer_tension.at(layer, f, s);
        if (std::isnan(value)) continue;
        CHECK(value >= 0.0);
        sum += value;
      }
      CHECK(sum == Approx(r.hoop_tension.at(0, f, s)).epsilon(1e-12));
    }
  const std::size_t middle = r.height.size() / 2;
  CHECK(r.hoop_tension_buildup.at(r.turn.size() - 1, 0, middle) ==
        Approx(r.hoop_tension.at(0, 0, middle)).epsilon(1e-12));
  CHECK(r.force_balance_error <= 1e-9);
}

TEST_CASE("predict: film mass is length * section * density, and the pitch follows from speed or overlap",
          "[predict]") {
  Scenario s = reference();
  const Result r = predict(s);
  CHECK(r.film.mass == Approx(r.film.length_on_roll * 0.5 * 23e-6 * 920).epsilon(1e-12));
  // Four sides a turn at the stretch on the load, plus the span that is cut off.
  CHECK(r.film.length_on_roll * r.film_path.stretch_on_load == Approx(17 * 4.4 + 1.1).epsilon(0.01));
  set_value(s, "pattern.overlap", "50 %");
  CHECK(predict(s).pattern.pitch == Approx(0.5 * predict(s).film_path.laid_width).epsilon(1e-12));
  set_value(s, "carriage.speed_up", "40 mm/s");
  const Result by_speed = predict(s);
  CHECK(by_speed.pattern.pitch == Approx(0.040 / 0.2).epsilon(1e-9));  // 12 rpm = 0.2 turns a second
  CHECK(by_speed.pattern.speed_down == Approx(0.040).epsilon(1e-9));
}

TEST_CASE("predict: warnings carry their numbers", "[predict]") {
  Scenario s = reference();
  set_value(s, "pattern.pitch", "450 mm");
  const Result r = predict(s);
  REQUIRE_FALSE(r.warnings.empty());
  CHECK(r.warnings[0].code == "bare-gap");
  CHECK(r.pattern.gap == Approx(0.450 - r.film_path.laid_width).epsilon(1e-9));
  CHECK_THAT(r.warnings[0].text, ContainsSubstring("58 mm of the load remain bare between turns of one pass"));
  set_value(s, "friction.between_tiers", "0.05");
  bool found = false;
  for (const Warning& w : predict(s).warnings)
    if (w.code == "span-shifts-tiers") {
      found = true;
      CHECK_THAT(w.text, ContainsSubstring("span force of 70 N exceeds the friction that holds the top tier (64 N)"));
    }
  CHECK(found);
}

TEST_CASE("predict: faces that corner friction cannot hold apart even out, and the result says so", "[predict]") {
  Scenario s = reference();
  const auto slipped = [](const Result& r) {
    for (const Warning& w : r.warnings)
      if (w.code == "corner-slip") {
        CHECK(w.severity == "note");
        CHECK_THAT(w.text, ContainsSubstring("evened out the faces; most at a height of"));
        return r.counters.corner_slips > 0;
      }
    CHECK(r.counters.corner_slips == 0);
    return false;
  };
  CHECK_FALSE(slipped(predict(s)));
  // Far softer along the width: front and back lose more than the corner can hold at this friction.
  set_values(s, {{"load.stiffness_along_width", "40 kPa"}, {"load.stiffness_along_length", "2 MPa"}});
  const auto apart = [](const Result& r) { return r.hoop_tension.at(0, left, 20) / r.hoop_tension.at(0, front, 20); };
  set_value(s, "friction.film_on_load", "stuck");
  const Result held = predict(s);
  CHECK_FALSE(slipped(held));
  set_value(s, "friction.film_on_load", "0.05");
  const Result let = predict(s);
  CHECK(slipped(let));
  CHECK(std::abs(std::log(apart(let))) < std::abs(std::log(apart(held))));
}

TEST_CASE("predict: a force the film cannot carry is refused by name", "[predict]") {
  Scenario s = reference();
  set_value(s, "delivery.tension.force", "900 N");
  CHECK_THROWS_WITH(predict(s), ContainsSubstring("the film") && ContainsSubstring("hint:"));
  CHECK_THROWS_AS(predict(s), SolverError);
}

TEST_CASE("predict: force beyond the film is refused over its whole range, force near it flagged", "[predict]") {
  const auto codes = [](const Result& r) {
    std::vector<std::string> out;
    for (const Warning& w : r.warnings) out.push_back(w.code);
    return out;
  };
  const auto has = [](const std::vector<std::string>& list, const char* code) {
    return std::find(list.begin(), list.end(), code) != list.end();
  };
  Scenario s = reference();
  set_value(s, "numerics.slices", "3");
  CHECK_FALSE(has(codes(predict(s)), "draws-in-span"));
  set_value(s, "delivery.tension.force", "120 N");
  CHECK(has(codes(predict(s)), "draws-in-span"));
  CHECK_FALSE(has(codes(predict(s)), "near-break-on-load"));
  set_value(s, "delivery.tension.force", "200 N");
  CHECK(has(codes(predict(s)), "near-break-on-load"));
  for (const char* force : {"250 N", "500 N", "900 N", "5000 N", "1e5 N"}) {
    INFO(force);
    set_value(s, "delivery.tension.force", force);
    CHECK_THROWS_AS(predict(s), SolverError);
  }
  s.film_description.breaking->stretch = 2.0;
  set_value(s, "delivery.tension.force", "70 N");
  CHECK_THROWS_WITH(predict(s), ContainsSubstring("breaks in the span"));
}

TEST_CASE("predict: an observer can stop it, and the same inputs give the same numbers", "[predict]") {
  struct Stopper : Observer {
    int calls = 0;
    bool progress(double, const char*) override { return ++calls < 10; }
  } stopper;
  CHECK_THROWS_AS(predict(reference(), &stopper), Interrupted);
  const Result a = predict(reference()), b = predict(reference());
  CHECK(a.hoop_tension.data == b.hoop_tension.data);
}

TEST_CASE("predict: targets are met or missed by the numbers", "[predict]") {
  Scenario s = reference();
  set_value(s, "target.middle", "500 N/m");
  set_value(s, "target.top", "5000 N/m");
  const Result r = predict(s);
  REQUIRE(r.targets.size() == 2);
  for (const TargetResult& t : r.targets) CHECK(t.met == (t.predicted >= t.wanted));
  CHECK(r.targets[0].station == "top");
  CHECK_FALSE(r.targets[0].met);
  CHECK(r.targets[1].met);
}

TEST_CASE("fold-in: the supported strands and the folded ones carry the span force together", "[build-up]") {
  const auto law = make_film_law(test::general_film());
  const WidthMode mode = WidthMode::free(1.05);
  FilmState laid;
  advance_controlled(*law, laid, 3.3, 1.0, mode, test::room, 1e-6);
  law->step(laid, 3.2, 0.0, mode, test::room, test::room);
  const double width = 0.39, overhang = 0.1, perimeter = 4.4;
  const FilmState folded = fold_in(*law, laid, mode, test::room, width, overhang, perimeter);
  const auto stress = [&](double stretch) {
    FilmState moved = laid;
    return law->step(moved, stretch, 0.0, mode, test::room, test::room).nominal;
  };
  double carried = (width - overhang) * stress(folded.stretch);
  const int n = 20000;  // independent of the Gauss rule
  for (int i = 0; i < n; ++i) {
    const double u = overhang * (i + 0.5) / n;
    carried += std::max(0.0, stress(folded.stretch * (1 - 8 * u / perimeter))) * overhang / n;
  }
  CHECK(carried == Approx(stress(laid.stretch) * width).epsilon(1e-5));
  CHECK(stress(folded.stretch) / stress(laid.stretch) > 1.15);  // about a fifth more on what is supported
  CHECK(stress(folded.stretch) / stress(laid.stretch) < 1.30);
  CHECK(fold_in(*law, laid, mode, test::room, width, 0.0, perimeter).stretch == laid.stretch);
}

TEST_CASE("pull force: slices as thick as the rule for thin ones allows, to the last digit", "[predict]") {
  Scenario s = reference();
  set_values(s, {{"load.height", "1.2 m"}, {"storage.duration", "1 h"}, {"storage.temperature", "23 degC"}});
  s.numerics.slices = 40;  // 30 mm: 0.4 of the plate's radius
  const Result at = predict(s);
  s.numerics.slices = 41;
  const Result beside = predict(s);
  for (std::size_t i = 0; i < at.end.stations.size(); ++i)
    CHECK(at.end.stations[i].pull_force == Approx(beside.end.stations[i].pull_force).epsilon(0.03));
}
