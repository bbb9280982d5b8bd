// SPDX-License-Identifier: BSD-3-Clause
// Random valid scenarios (fixed seed): every promise of broken_promise() is kept, and what must not matter does not.
#include "sim/inputs/inputs.hpp"
#include "tests/support/checks.hpp"
#include "tests/support/quarter_turn.hpp"
#include "tests/support/random_scenario.hpp"
#include "tests/support/size.hpp"

#include <cmath>
#include <iostream>

using namespace hoopfield;
using test::RandomScenario;

namespace {

double greatest(const Field& field) { return *std::max_element(field.data.begin(), field.data.end()); }

}  // namespace

TEST_CASE("200 random valid scenarios keep every promise", "[robustness]") {
  const int wanted = test::sized(200, 30);
  RandomScenario next(20240611);
  int solved = 0, not_solved = 0;
  while (solved < wanted) {
    const Scenario s = next();
    try {
      const Result r = predict(s);
      const std::string broken = test::broken_promise(r);
      INFO("scenario " << solved + not_solved << ": " << broken);
      CHECK(broken.empty());
      ++solved;
    } catch (const SolverError& error) {
      // The film cannot carry every force at every pre-stretch; then the error says so and what would help.
      INFO(error.what());
      CHECK_FALSE(error.hint.empty());
      ++not_solved;
    } catch (const InputError& error) {
      CHECK_FALSE(error.key.empty());
      ++not_solved;
    }
  }
  if (std::getenv("HOOPFIELD_SHOW") != nullptr)
    std::cout << solved << " solved, " << not_solved << " not, " << next.refused_inputs << " refused by the inputs\n";
  CHECK(not_solved < 3 * wanted / 10);
}

TEST_CASE("a scenario turned by a quarter turn gives the turned result", "[robustness]") {
  RandomScenario next(7);
  int compared = 0;
  for (int i = 0; i < 20; ++i) {
    const auto [s, t] = test::quarter_turn(next(), 1.6);
    Result a, b;
    try {
      a = predict(s);
      b = predict(t);
    } catch (const Error&) {
      continue;
    }
    ++compared;
    INFO("scenario " << i);
    CHECK(test::turned_difference(a, b) <= 1e-8);
    CHECK(a.load.closing_along_length == Approx(b.load.closing_along_width).epsilon(1e-8));
  }
  CHECK(compared >= 12);
}

TEST_CASE("thicker film at more force on a stiffer load, all by one factor: tensions by that factor", "[robustness]") {
  RandomScenario next(11);
  int compared = 0;
  for (int i = 0; i < 15; ++i) {
    const Scenario s = next();
    Scenario t = s;
    const double c = 1.7;
    t.film.thickness *= c;
    *t.delivery.tension.force *= c;
    t.load.stiffness_along_length *= c;
    t.load.stiffness_along_width *= c;
    t.load.stiffness_coupling *= c;
    t.load.shear_stiffness *= c;
    Result a, b;
    try {
      a = predict(s);
      b = predict(t);
    } catch (const Error&) {
      continue;
    }
    ++compared;
    double worst = 0.0;
    for (std::size_t k = 0; k < a.hoop_tension.data.size(); ++k)
      worst = std::max(worst, std::abs(c * a.hoop_tension.data[k] - b.hoop_tension.data[k]));
    INFO("scenario " << i);
    CHECK(worst <= 1e-7 * greatest(b.hoop_tension));
  }
  CHECK(compared >= 8);
}
