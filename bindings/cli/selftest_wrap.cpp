// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/selftest.hpp"
#include "models/film/description.hpp"
#include "models/film/film_law.hpp"
#include "models/load/closing.hpp"
#include "models/pattern/pattern.hpp"
#include "sim/buildup/load_stack.hpp"
#include "sim/winding/take_up.hpp"
#include "sim/wrap/predict.hpp"

#include <boost/math/special_functions/digamma.hpp>

#include <cmath>
#include <limits>
#include <numbers>

namespace hoopfield::cli {

namespace {

constexpr double room = 296.15;  // K

SelfCheck take_up_check() {
  const double length = 1.2, width = 1.0, radius = 0.02;
  const TakeUp take_up({length, width, 1.5, 0.1, 0.05, radius});
  // Simpson between face events, where the lever arm is smooth.
  double integral = 0.0;
  const auto& events = take_up.events();
  for (std::size_t e = 0; e < events.size(); ++e) {
    const double begin = events[e].angle;
    double end = events[(e + 1) % events.size()].angle;
    if (end <= begin) end += 2.0 * std::numbers::pi;
    const std::size_t corner = take_up.at(0.5 * (begin + end)).corner;
    constexpr int parts = 200;
    const double step = (end - begin) / parts;
    for (int i = 0; i <= parts; ++i) {
      const double weight = i == 0 || i == parts ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0);
      integral += weight * step / 3.0 * take_up.at(begin + i * step, corner).lever_arm;
    }
  }
  return {"film taken up in one turn, outlet and load off the axis",
          "integral of p over a turn = 2(L + W) - (8 - 2 pi) r",
          2.0 * (length + width) - (8.0 - 2.0 * std::numbers::pi) * radius,
          integral,
          1e-7,
          "m"};
}

SelfCheck layers_check() {
  PatternPlan plan;
  plan.load_height = 2.0;
  plan.laid_width = 0.4;
  plan.pitch_up = 0.15;
  plan.pitch_down = 0.15;
  const Pattern pattern(plan);
  double layers = 0.0;
  for (const Patch& patch : lay_patches(pattern, {0.1, 0.35, 0.6, 0.85}, {front, right, back, left}))
    if (patch.face == front) layers += covered_fraction(patch, 0.9, 0.9 + plan.pitch_up);
  return {"film layers in the climbing zone, up and down",
          "n = 2 w/pitch",
          2.0 * plan.laid_width / plan.pitch_up,
          layers,
          1e-9,
          ""};
}

/// Turns of linear, very stiff film on a load that gives; all faces laid at once.
SelfCheck stack_check() {
  FilmDescription film;
  film.law = "elastic-curve";
  film.density = 920.0;
  const double stiffness = 1e11;  // Pa per unit stretch
  film.curve = {{1.0, 0.0}, {1.001, 0.001 * stiffness}};
  const auto law = make_film_law(film);
  const double side = 1.0, tension = 200.0, weight = 2e-4, kappa = 0.2;  // small enough that no layer goes slack
  const double slope = stiffness * weight / side;                        // N/m of tension per m of closing
  StackSetup setup;
  setup.law = law.get();
  setup.mode = WidthMode::free();
  setup.length = side;
  setup.width = side;
  setup.slice_height = 0.1;
  setup.tolerance = 1e-8;
  const double load_stiffness = 2.0 * slope / kappa;
  setup.compliance = ClosingCompliance::from_stiffness(load_stiffness, load_stiffness, 0.0);
  constexpr int turns = 8;
  LoadStack stack(setup, {std::size_t{4} * turns});
  FilmState state;
  state.stretch = 1.0 + tension / weight / stiffness;
  for (int turn = 0; turn < turns; ++turn) {
    for (std::size_t face = 0; face < face_count; ++face) stack.lay(0, face, state, weight, 0);
    stack.settle(room, 1.0);
  }
  const double expected =
      tension / kappa * (boost::math::digamma(turns + 1.0 / kappa) - boost::math::digamma(1.0 / kappa));
  return {"8 turns on a giving load, kappa = 0.2",
          "S_N = (T0/kappa) (psi(N + 1/kappa) - psi(1/kappa))",
          expected,
          stack.hoop_tension(0, front),
          1e-4,
          "N/m"};
}

SelfCheck creep_check() {
  const CreepLadder ladder(1.0, 1.0, 1e7);
  double sum = 0.0;
  for (std::size_t k = 0; k < ladder.time.size(); ++k) sum += ladder.weight[k] * -std::expm1(-1e5 / ladder.time[k]);
  return {"creep of the load over five decades of time",
          "sum w (1 - exp(-t/tau)) = log10(1 + t/t_L)",
          std::log10(1.0 + 1e5),
          sum,
          1e-3,
          ""};
}

Scenario rigid_scenario() {
  Scenario s;
  s.film_description.name = "self-test";
  s.film_description.density = 920.0;
  s.film_description.network = {1e6, 30.0};
  s.film.width = 0.5;
  s.film.thickness = 20e-6;
  s.delivery.prestretch = 1.5;
  s.delivery.neck_in = 0.1;
  s.delivery.tension.force = 30.0;
  s.pattern.pitch = 0.15;
  s.load.length = 1.2;
  s.load.width = 1.0;
  s.load.height = 1.8;
  s.load.kind = LoadKind::rigid;
  s.load.stiffness_along_length = s.load.stiffness_along_width = std::numeric_limits<double>::infinity();
  s.load.creep_per_decade = 0.0;
  s.stations.top = 1.55;
  s.stations.middle = 0.9;
  s.stations.bottom = 0.25;
  s.storage.duration = 3600.0;
  s.numerics.slices = 36;
  return s;
}

/// Slices of 0.05 m; three of them make one pitch of the climb.
std::vector<SelfCheck> whole_checks() {
  const Scenario scenario = rigid_scenario();
  const Result result = predict(scenario);
  const auto mean = [&](std::size_t time) {
    double sum = 0.0;
    for (std::size_t h = 17; h < 20; ++h) sum += result.hoop_tension.at(time, front, h) / 3.0;
    return sum;
  };
  const double expected = 2.0 * *scenario.delivery.tension.force / *scenario.pattern.pitch;
  return {{"whole prediction, rigid load: hoop tension over a pitch", "n F/pitch, n = 2 passes", expected, mean(0),
           1e-6, "N/m"},
          {"the same after storage, elastic film", "unchanged", expected, mean(result.time.size() - 1), 1e-6, "N/m"}};
}

}  // namespace

std::vector<SelfCheck> wrap_checks() {
  std::vector<SelfCheck> checks = {take_up_check(), layers_check(), stack_check(), creep_check()};
  for (SelfCheck& check : whole_checks()) checks.push_back(std::move(check));
  return checks;
}

}  // namespace hoopfield::cli
