// SPDX-License-Identifier: BSD-3-Clause
// Closed forms of the accretion on an elastic core (derived in this project; cross-checked by digamma sums and brute
// force).
#include "sim/buildup/load_stack.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <boost/math/special_functions/digamma.hpp>

#include <cmath>
#include <limits>

using namespace hoopfield;

namespace {

constexpr double side = 1.0;      // m, square load
constexpr double tension0 = 1.0;  // N/m laid per layer and face

/// Film of constant stiffness EA (N/m per unit strain) laid at N = 1 N/m: spring film, weight 1 m, at a tiny strain so
/// that log strain, stretch and nominal stress differ by 1e-6 only.
struct Core {
  std::shared_ptr<const FilmLaw> law;
  StackSetup setup;
  FilmState film;

  /// kappa = loss of tension per layer and laid unit: EA * (mean hoop strain per N/m of hoop tension). With S_l = sum
  /// of the two strands = 2 S, u = S_l/k, strain = u/side: kappa = EA 2/(k side).
  Core(double kappa, double strain = 1e-6) {
    const double stiffness = tension0 / strain;
    law = make_film_law(test::spring_film(stiffness));
    setup.law = law.get();
    setup.length = setup.width = side;
    setup.slice_height = 1.0;
    const double k = kappa > 0.0 ? 2.0 * stiffness / (kappa * side) : std::numeric_limits<double>::infinity();
    setup.compliance = ClosingCompliance::from_stiffness(k, k, 0.0);
    law->step(film, std::exp(strain), 0.0, WidthMode::free(), test::room, test::room);
  }
};

double hoop(const LoadStack& stack) {
  double sum = 0.0;
  for (std::size_t f = 0; f < face_count; ++f) sum += stack.hoop_tension(0, f) / 4.0;
  return sum;
}

/// All four faces of a turn laid at once: the newest layer keeps its tension while the load gives (convention A).
LoadStack wind_turns(const Core& core, int turns, const std::vector<double>& taper = {}) {
  LoadStack stack(core.setup, {static_cast<std::size_t>(4 * turns)});
  for (int n = 0; n < turns; ++n) {
    const double weight = taper.empty() ? 1.0 : taper[static_cast<std::size_t>(n)];
    for (std::size_t f = 0; f < face_count; ++f) stack.lay(0, f, core.film, weight, static_cast<std::size_t>(n));
    stack.settle(test::room, 1.0);
  }
  return stack;
}

double digamma_sum(double kappa, int n) {
  return (boost::math::digamma(n + 1 / kappa) - boost::math::digamma(1 / kappa)) / kappa;
}

}  // namespace

TEST_CASE("load stack: rigid load adds layers", "[build-up]") {
  for (const int n : {1, 5, 20}) {
    CHECK(hoop(wind_turns(Core(0.0), n)) == Approx(n * tension0).epsilon(2e-6));
    CHECK(hoop(wind_turns(Core(0.0), n)) == Approx(n * hoop(wind_turns(Core(0.0), 1))).epsilon(1e-12));
  }
}

TEST_CASE("load stack: started anew it knows nothing of the film before", "[build-up]") {
  Core core(0.1);
  core.law = make_film_law(test::general_film());
  core.setup.law = core.law.get();
  core.setup.creep = CreepLadder(0.05, 1.0, 1e5);
  core.film = FilmState{};
  core.law->step(core.film, 2.0, 1.0, WidthMode::free(), test::room, test::room);
  const auto wind = [&](LoadStack& stack, int turns) {
    for (int n = 0; n < turns; ++n) {
      for (std::size_t f = 0; f < face_count; ++f) stack.lay(0, f, core.film, 1e-5, 0);
      stack.settle(test::room, 1.0);
      REQUIRE(stack.step(10.0, {}, 0.5));
    }
  };
  LoadStack used(core.setup, {40}), fresh(core.setup, {20});
  wind(used, 10);
  CHECK_FALSE(used.attempt(1.0, {std::nan(""), std::nan(""), 1.0, 1.0}));  // leaves no numbers behind
  used.start_anew({20});
  wind(used, 5);
  wind(fresh, 5);
  for (std::size_t f = 0; f < face_count; ++f) CHECK(used.hoop_tension(0, f) == fresh.hoop_tension(0, f));
  for (std::size_t d = 0; d < 2; ++d) CHECK(used.closing(0, d) == fresh.closing(0, d));
  CHECK(used.counters.steps == fresh.counters.steps);
  CHECK(used.residual() == fresh.residual());
}

TEST_CASE("load stack: S_N on an elastic core, faces at once, against the table and digamma", "[build-up]") {
  const struct {
    double kappa, s1, s2, s3, s5, s10;
  } rows[] = {{0.02, 1, 1.980392, 2.941931, 4.811253, 9.199920},
              {0.05, 1, 1.952381, 2.861472, 4.564370, 8.278283},
              {0.10, 1, 1.909091, 2.742424, 4.225941, 7.187714},
              {0.20, 1, 1.833333, 2.547619, 3.728175, 5.841145}};
  for (const auto& row : rows) {
    const double expected[] = {row.s1, row.s2, row.s3, row.s5, row.s10};
    const int turns[] = {1, 2, 3, 5, 10};
    for (int i = 0; i < 5; ++i) {
      const double s = hoop(wind_turns(Core(row.kappa), turns[i]));
      CHECK(s == Approx(expected[i]).epsilon(3e-6));
      CHECK(s == Approx(digamma_sum(row.kappa, turns[i])).epsilon(3e-6));
    }
  }
}

TEST_CASE("load stack: film locked before the load gives (convention B)", "[build-up]") {
  // Each turn held rigidly until locked, then the load gives: a second settle() with nothing to lay on a load that was
  // stiff. Here by laying on slack-free film and adding the same film as one more element: S_N = sum T0/(1 + n kappa).
  const double kappa = 0.1;
  const Core core(kappa);
  double s = 0.0;
  LoadStack stack(core.setup, {40});
  for (int n = 1; n <= 10; ++n) {
    // laid at the tension it would have after its own turn has closed the load
    FilmState film = core.film;
    const double kept = 1.0 - kappa * (1.0 / (1.0 + n * kappa));
    film = {};
    core.law->step(film, std::exp(1e-6 * kept), 0.0, WidthMode::free(), test::room, test::room);
    for (std::size_t f = 0; f < face_count; ++f) stack.lay(0, f, film, 1.0, 0);
    stack.settle(test::room, 1.0);
    s += 1.0 / (1.0 + n * kappa);
  }
  CHECK(s == Approx(6.687714).epsilon(1e-6));
  CHECK(hoop(stack) == Approx(s).epsilon(1e-5));
}

TEST_CASE("load stack: face by face, S_N = sum over 2N events of (T0/2)/(1 + (j-1) kappa/2)", "[build-up]") {
  for (const double kappa : {0.05, 0.1}) {  // no layer slack yet
    const Core core(kappa);
    LoadStack stack(core.setup, {40});
    double expected = 0.0;
    for (int j = 1; j <= 20; ++j) {
      expected += 0.5 / (1.0 + (j - 1) * 0.5 * kappa);
      for (const std::size_t f : {j % 2 == 0 ? front : back, j % 2 == 0 ? right : left}) {
        stack.lay(0, f, core.film, 1.0, 0);
        stack.settle(test::room, 1.0);
      }
    }
    CHECK(hoop(stack) == Approx(expected).epsilon(3e-6));
  }
}

TEST_CASE("load stack: layer tensions, their sum, first slack layer and clamped totals", "[build-up]") {
  const LoadStack ten = wind_turns(Core(0.1), 10);
  const LoadStack::Slice& slice = ten.slices()[0];
  double sum = 0.0;
  for (std::size_t i = 0; i < slice.film.size; ++i) sum += slice.weight[i] * slice.nominal[i] / 4.0;
  CHECK(sum == Approx(hoop(ten)).epsilon(1e-12));
  CHECK(slice.nominal[0] == Approx(0.38123).epsilon(1e-4));  // first layer after ten: T0 - kappa (S10 - S1)

  const struct {
    double kappa;
    int first_slack;
  } slack[] = {{0.02, 88}, {0.05, 37}, {0.1, 20}, {0.2, 11}, {0.5, 6}};
  for (const auto& row : slack) {
    CHECK(wind_turns(Core(row.kappa), row.first_slack - 1).slices()[0].nominal[0] > 0.0);
    CHECK(wind_turns(Core(row.kappa), row.first_slack).slices()[0].nominal[0] == 0.0);
  }
  // Slack film is clamped at zero and stays away: totals against the clamped table.
  CHECK(hoop(wind_turns(Core(0.1), 20)) == Approx(11.338529).epsilon(1e-5));
  CHECK(hoop(wind_turns(Core(0.1), 30)) == Approx(14.506310).epsilon(1e-5));
  CHECK(hoop(wind_turns(Core(0.1), 40)) == Approx(17.187185).epsilon(1e-5));
  CHECK(hoop(wind_turns(Core(0.5), 10)) == Approx(4.24562).epsilon(1e-5));
}

TEST_CASE("load stack: the taper T*(1 + N kappa)/(1 + n kappa) leaves every layer at T*", "[build-up]") {
  // Stiffness is the same for every layer, so the taper is in the strain the film is laid with.
  const double kappa = 0.1;
  const int turns = 10;
  const Core core(kappa);
  LoadStack stack(core.setup, {40});
  for (int n = 1; n <= turns; ++n) {
    FilmState film;
    core.law->step(film, std::exp(1e-6 * (1 + turns * kappa) / (1 + n * kappa)), 0.0, WidthMode::free(), test::room,
                   test::room);
    for (std::size_t f = 0; f < face_count; ++f) stack.lay(0, f, film, 1.0, 0);
    stack.settle(test::room, 1.0);
  }
  const LoadStack::Slice& slice = stack.slices()[0];
  for (std::size_t i = 0; i < slice.film.size; ++i) CHECK(slice.nominal[i] == Approx(1.0).epsilon(2e-5));
}

namespace {

/// March at rest with many steps.
void hold(LoadStack& stack, double duration, int steps) {
  for (int i = 0; i < steps; ++i) REQUIRE(stack.step(duration / steps, {}));
}

LoadStack relaxing(double kappa, int turns, double long_over_short) {
  const Core core(kappa);
  FilmDescription film;
  film.law = "maxwell";
  film.density = 920;
  const double stiffness = 1e6;
  film.branches = {test::maxwell_branch(stiffness * (1.0 - long_over_short), 1.0)};
  if (long_over_short > 0.0) film.branches.push_back(test::maxwell_branch(stiffness * long_over_short, 1e30));
  static std::vector<std::shared_ptr<const FilmLaw>> keep;
  keep.push_back(make_film_law(film));
  StackSetup setup = core.setup;
  setup.law = keep.back().get();
  LoadStack stack(setup, {static_cast<std::size_t>(4 * turns)});
  FilmState state;
  keep.back()->step(state, std::exp(1e-6), 0.0, WidthMode::free(), test::room, test::room);
  for (int n = 0; n < turns; ++n) {
    for (std::size_t f = 0; f < face_count; ++f) stack.lay(0, f, state, 1.0, 0);
    stack.settle(test::room, 1.0);
  }
  return stack;
}

}  // namespace

TEST_CASE("load stack: Maxwell film on an elastic core relaxes by exp(-t/(tau (1 + N kappa)))", "[build-up]") {
  for (const double kappa : {0.0, 0.05}) {
    LoadStack stack = relaxing(kappa, 10, 0.0);
    const double start = hoop(stack);
    hold(stack, 1.0, 400);
    CHECK(hoop(stack) / start == Approx(kappa > 0.0 ? 0.513417 : 0.367879).epsilon(1e-5));
  }
}

TEST_CASE("load stack: standard linear film, S_inf/S_0 = r(1+K)/(1+rK), tau_eff = tau (1+K)/(1+rK)", "[build-up]") {
  const double r = 0.6, kappa = 0.04;  // five turns: K = 0.2
  LoadStack stack = relaxing(kappa, 5, r);
  const double start = hoop(stack);
  hold(stack, 2.0, 400);
  CHECK(hoop(stack) / start == Approx(0.698085).epsilon(1e-5));
  hold(stack, 60.0, 200);
  CHECK(hoop(stack) / start == Approx(0.642857).epsilon(1e-5));
}

TEST_CASE("load stack: load creep under constant tension follows C S (1 + c log10(1 + t/t_L))", "[build-up]") {
  // Film so soft against its own strain that closing does not change its tension.
  Core core(1e-4);
  core.setup.creep = CreepLadder(0.05, 1.0, 1e5);
  LoadStack stack(core.setup, {4});
  for (std::size_t f = 0; f < face_count; ++f) stack.lay(0, f, core.film, 1.0, 0);
  stack.settle(test::room, 1.0);
  const double instant = stack.closing(0, 0);
  CHECK(instant == Approx(core.setup.compliance.length_length * 2.0 * tension0).epsilon(3e-6));
  double time = 0.0;
  for (const double t : {0.5, 10.0, 1000.0, 1e5}) {
    while (time < t * 0.999999) {
      const double h = std::min(t - time, 0.02 + 0.05 * time);
      REQUIRE(stack.step(h, {}));
      time += h;
    }
    CHECK(stack.closing(0, 0) / instant == Approx(1.0 + 0.05 * std::log10(1.0 + t)).epsilon(2e-4));
  }
}

TEST_CASE("load stack: coupling closes the other direction, shear evens neighbours out and conserves the pull",
          "[build-up]") {
  Core core(0.1);
  const double k = 2e7;
  core.setup.compliance = ClosingCompliance::from_stiffness(k, k, 0.3 * k);
  LoadStack stack(core.setup, {2});
  stack.lay(0, left, core.film, 1.0, 0);
  stack.lay(0, right, core.film, 1.0, 0);
  stack.settle(test::room, 1.0);
  CHECK(stack.closing(0, 0) == Approx(2.0 / (k * (1 - 0.09))).epsilon(3e-6));
  CHECK(stack.closing(0, 1) == Approx(-0.3 * stack.closing(0, 0)).epsilon(3e-6));

  Core sheared(0.1);
  sheared.setup.slice_height = 0.1;
  sheared.setup.shear_stiffness = 5e5;
  LoadStack three(sheared.setup, {4, 4, 4});
  for (std::size_t f = 0; f < face_count; ++f) three.lay(1, f, sheared.film, 1.0, 0);
  three.settle(test::room, 1.0);
  const double stiffness = 1.0 / sheared.setup.compliance.length_length;
  const double total = three.closing(0, 0) + three.closing(1, 0) + three.closing(2, 0);
  CHECK(stiffness * total == Approx(2.0 * tension0).epsilon(3e-6));  // shear only passes load on
  CHECK(three.closing(0, 0) == Approx(three.closing(2, 0)).epsilon(1e-12));
  CHECK(three.closing(0, 0) > 0.0);
  // middle slice: k u1 = S - G/dz^2 (2 u1 - u0 - u2)
  const double g = 5e5 / 0.01;
  CHECK(stiffness * three.closing(1, 0) ==
        Approx(2.0 - g * (2 * three.closing(1, 0) - three.closing(0, 0) - three.closing(2, 0))).epsilon(3e-6));
}

TEST_CASE("load stack: slack film recovers and tightens again when the path grows", "[build-up]") {
  const auto law = make_film_law(test::general_film());
  Core core(0.0);
  core.setup.law = law.get();
  FilmState film;
  advance_controlled(*law, film, 3.3, 2.0, WidthMode::free(), test::room, 1e-6);
  LoadStack stack(core.setup, {4});
  stack.lay(0, front, film, 1e-5, 0);
  stack.settle(test::room, 1.0);
  const double before = stack.hoop_tension(0, front);
  stack.settle(test::room, 0.7);  // path 30 % shorter: slack
  CHECK(stack.hoop_tension(0, front) == 0.0);
  const double free_length = stack.slices()[0].film.stretch[0];
  REQUIRE(stack.step(3600.0, {test::room, test::room, 0.7, 0.7}));
  CHECK(stack.hoop_tension(0, front) == 0.0);
  CHECK(stack.slices()[0].film.stretch[0] < free_length);  // free recovery shortens it
  stack.settle(test::room, 1.0);
  CHECK(stack.hoop_tension(0, front) > before);  // recovered film pulls harder on its old path
}
