// SPDX-License-Identifier: BSD-3-Clause
// Random valid scenarios (fixed seed): every promise of broken_promise() is kept, and what must not matter does not.
#include "sim/inputs/inputs.hpp"
#include "tests/support/checks.hpp"
#include "tests/support/size.hpp"

#include <cmath>
#include <iostream>
#include <random>

using namespace hoopfield;

namespace {

class RandomScenario {
 public:
  explicit RandomScenario(unsigned seed) : random_(seed), base_(test::reference_scenario()) {
    base_.numerics.slices = 10;
  }

  /// A valid scenario; combinations that the checks of the inputs refuse are drawn again and counted.
  Scenario operator()() {
    for (;;) {
      try {
        return draw();
      } catch (const InputError&) {
        ++refused_inputs;
      }
    }
  }

  int refused_inputs = 0;

 private:
  double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
  double decades(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }
  bool chance(double share) { return between(0.0, 1.0) < share; }

  Scenario draw() {
    Scenario s = base_;
    std::vector<std::pair<std::string, double>> values = {
        {"film.width", between(0.25, 0.75)},
        {"film.thickness", decades(10e-6, 40e-6)},
        {"delivery.prestretch", chance(0.1) ? 0.0 : between(0.2, 3.2)},
        {"delivery.roller_gap", decades(0.01, 0.3)},
        {"delivery.roller_arc", between(0.0, 0.3)},
        {"delivery.internal_path", between(0.0, 1.5)},
        {"delivery.distance", between(1.0, 3.0)},
        {"delivery.offset", between(-0.4, 0.4)},
        {"delivery.neck_in", between(0.0, 0.5)},
        {"delivery.tension.force", decades(5.0, 150.0)},
        {"rotation.speed", decades(0.2, 5.0)},
        {"rotation.ramp_turns", chance(0.5) ? 0.0 : between(0.0, 3.0)},
        {"pattern.pitch", chance(0.2) ? 0.0 : between(0.05, 0.6)},
        {"pattern.bottom_turns", between(0.0, 4.0)},
        {"pattern.top_turns", between(0.0, 4.0)},
        {"pattern.top_overhang", between(-0.1, 0.15)},
        {"pattern.start_height", between(-0.1, 0.3)},
        {"load.length", between(0.4, 1.6)},
        {"load.width", between(0.4, 1.4)},
        {"load.height", between(0.3, 2.4)},
        {"load.axis_offset", chance(0.5) ? 0.0 : between(-0.1, 0.1)},
        {"load.corner_radius", chance(0.2) ? 0.0 : decades(1e-3, 0.05)},
        {"load.stiffness_along_length", decades(2e3, 1e7)},
        {"load.stiffness_along_width", decades(2e3, 1e7)},
        {"load.creep_per_decade", chance(0.3) ? 0.0 : between(0.0, 0.15)},
        {"load.creep_start", decades(0.1, 100.0)},
        {"load.settling", chance(0.7) ? 0.0 : between(0.0, 0.02)},
        {"load.expansion", chance(0.5) ? 0.0 : between(0.0, 2e-4)},
        {"load.shear_stiffness", chance(0.7) ? 0.0 : decades(1e2, 1e6)},
        {"storage.duration", chance(0.1) ? 0.0 : decades(1.0, 1e7)},
        {"stations.band_height", between(0.05, 0.3)},
    };
    set_numbers(s, values);
    set_number(s, "load.stiffness_coupling",
               between(-0.5, 0.5) * std::sqrt(s.load.stiffness_along_length * s.load.stiffness_along_width));
    s.pattern.descent = chance(0.5);
    s.storage.temperature = {{0.0, between(288.0, 303.0)}, {decades(1.0, 1e6), between(278.0, 313.0)}};
    resolve_scenario(s);
    return s;
  }

  std::mt19937 random_;
  Scenario base_;
};

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
  // Turning load and outlet by -90 degrees: the outlet goes from (d, d) to (d, -d), length and width change places, and
  // front, left, back, right become right, front, left, back.
  constexpr std::array<std::size_t, face_count> turned_face = {right, front, left, back};
  int compared = 0;
  for (int i = 0; i < 20; ++i) {
    Scenario s = next();
    s.load.axis_offset = 0.0;
    s.delivery.offset = s.delivery.distance = 1.6;
    Scenario t = s;
    t.delivery.offset = -1.6;
    std::swap(t.load.length, t.load.width);
    std::swap(t.load.stiffness_along_length, t.load.stiffness_along_width);
    Result a, b;
    try {
      a = predict(s);
      b = predict(t);
    } catch (const Error&) {
      continue;
    }
    ++compared;
    const double scale = greatest(a.hoop_tension);
    double worst = 0.0;
    for (std::size_t m = 0; m < a.time.size(); ++m)
      for (std::size_t f = 0; f < face_count; ++f)
        for (std::size_t h = 0; h < a.height.size(); ++h)
          worst = std::max(worst, std::abs(a.hoop_tension.at(m, f, h) - b.hoop_tension.at(m, turned_face[f], h)));
    INFO("scenario " << i);
    CHECK(worst <= 1e-8 * scale);
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
