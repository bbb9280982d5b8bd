// SPDX-License-Identifier: BSD-3-Clause
// Film law "power-network" against its closed forms.
#include "models/film/film_law.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <cmath>
#include <random>
#include <string>

using namespace hoopfield;
using test::room;

namespace {

constexpr double modulus = 50e6, rate = 0.02, flow_stress = 4e6;

/// One branch, next to no network, flow stress that does not grow.
FilmDescription one_branch(double exponent, double share = 0.0) {
  FilmDescription film;
  film.law = "power-network";
  film.density = 920.0;
  film.network = {1e-6, 30.0};
  film.viscous_share = share;
  film.branches = {test::power_branch(modulus, rate, flow_stress, exponent)};
  return film;
}

/// Stress of the branch over its flow stress after one step, free width.
double one_step(const FilmLaw& law, double y0, double delta, double dt) {
  FilmState state;
  state.strain[0] = y0 * flow_stress / modulus;
  law.step(state, std::exp(delta), dt, WidthMode::free(), room, room);
  return state.strain[0] * modulus / flow_stress;
}

}  // namespace

TEST_CASE("power-network: power 1 is a linear Maxwell branch, at rest and under way", "[film]") {
  const auto power = make_film_law(one_branch(1.0));
  FilmDescription linear = one_branch(1.0);
  linear.law = "maxwell";
  linear.branches = {test::maxwell_branch(modulus, flow_stress / (modulus * rate))};
  const auto maxwell = make_film_law(linear);
  for (const double dt : {1e-3, 1.0, 30.0, 1e5})
    for (const double delta : {0.0, 0.01, -0.3}) {
      FilmState a, b;
      a.strain[0] = b.strain[0] = 0.05;
      const FilmStress x = power->step(a, std::exp(delta), dt, WidthMode::free(), room, room);
      const FilmStress y = maxwell->step(b, std::exp(delta), dt, WidthMode::free(), room, room);
      INFO(dt << " " << delta);
      CHECK(a.strain[0] == Approx(b.strain[0]).epsilon(1e-12).margin(1e-15));
      CHECK(x.slope == Approx(y.slope).epsilon(1e-9).margin(1e-3));
    }
}

TEST_CASE("power-network: at rest |y|^(1-n) grows by (n-1) E r t/Y, exactly, for any time", "[film]") {
  for (const double n : {1.01, 1.5, 2.0, 3.0, 8.0, 40.0, 100.0}) {
    const auto law = make_film_law(one_branch(n));
    for (const double y0 : {-2.0, -0.3, 0.01, 0.9, 1.7})
      for (const double dt : {1e-6, 1.0, 1e4, 1e12}) {
        const double beta = modulus * rate * dt / flow_stress;
        const double expected =
            y0 * std::pow(1.0 + (n - 1.0) * beta * std::pow(std::abs(y0), n - 1.0), -1.0 / (n - 1.0));
        INFO("n " << n << " y0 " << y0 << " dt " << dt);
        CHECK(one_step(*law, y0, 0.0, dt) == Approx(expected).epsilon(1e-11));
      }
  }
}

TEST_CASE("power-network: steady flow at a constant rate is kept, and reached from either side", "[film]") {
  for (const double n : {1.3, 2.0, 5.0, 30.0}) {
    const auto law = make_film_law(one_branch(n));
    for (const double log_rate : {1e-4, 0.02, 3.0}) {
      const double steady = std::pow(log_rate / rate, 1.0 / n);
      const double dt = 0.1 / log_rate;
      INFO("n " << n << " rate " << log_rate);
      CHECK(one_step(*law, steady, 0.1, dt) == Approx(steady).epsilon(1e-12));
      CHECK(one_step(*law, -steady, -0.1, dt) == Approx(-steady).epsilon(1e-12));
      for (double y : {0.0, 0.5 * steady, 1.3 * steady, 4.0 * steady}) {
        for (int i = 0; i < 500; ++i) {
          const double next = one_step(*law, y, 0.1, dt);
          CHECK((next - y) * (steady - y) >= -1e-12 * steady);       // nearer at every step
          CHECK((steady - next) * (steady - y) >= -1e-12 * steady);  // and never past it
          y = next;
        }
        CHECK(y == Approx(steady).epsilon(1e-3));
      }
    }
  }
}

TEST_CASE("power-network: a large power is a plastic branch", "[film]") {
  const auto law = make_film_law(one_branch(100.0));
  CHECK(one_step(*law, 0.0, 0.02, 1.0) == Approx(0.02 * modulus / flow_stress).epsilon(1e-3));  // elastic below yield
  CHECK(one_step(*law, 0.0, 0.4, 20.0) == Approx(1.0).epsilon(0.02));  // at the reference rate it yields at Y
  CHECK(one_step(*law, 0.0, 4.0, 2.0) == Approx(1.0).epsilon(0.06));   // a hundred times faster: 100^(1/100) Y
  double y = 1.0;
  for (int i = 0; i < 40; ++i) y = one_step(*law, y, -0.001, 0.025);
  CHECK(y == Approx(0.5).epsilon(0.02));                              // unloads elastically
  CHECK(one_step(*law, 0.5, 0.0, 1e9) == Approx(0.5).epsilon(1e-6));  // and does not creep back below yield
}

TEST_CASE("power-network: the step is odd, finite and keeps its bounds, whatever the numbers", "[film]") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> u(0.0, 1.0);
  for (const double n : {1.0, 1.001, 1.4, 2.0, 6.0, 25.0, 100.0}) {
    const auto law = make_film_law(one_branch(n));
    for (int i = 0; i < 4000; ++i) {
      const double y0 = (u(random) - 0.5) * std::pow(10.0, 6.0 * u(random) - 3.0);
      const double delta = (u(random) - 0.5) * std::pow(10.0, 8.0 * u(random) - 7.0);
      const double dt = std::pow(10.0, 30.0 * u(random) - 12.0);
      const double y1 = one_step(*law, y0, delta, dt), alpha = delta * modulus / flow_stress;
      const double steady = std::pow(std::abs(delta) / (rate * dt), 1.0 / n);
      INFO("n " << n << " y0 " << y0 << " delta " << delta << " dt " << dt << " y1 " << y1);
      CHECK(std::isfinite(y1));
      CHECK(one_step(*law, -y0, -delta, dt) == Approx(-y1).epsilon(1e-9).margin(1e-12));
      const double slack = 1e-9 * (std::abs(y0) + std::abs(alpha));
      CHECK(std::abs(y1) <= std::max(std::abs(y0), steady) + slack);
      CHECK(std::abs(y1 - y0) <= std::abs(y0) + std::abs(alpha) + slack);
    }
  }
}

TEST_CASE("power-network: flow grows with warmth by its activation energy alone", "[film]") {
  FilmDescription film = one_branch(5.0);
  film.branches[0]["activation_energy"] = 80e3;
  const auto law = make_film_law(film);
  FilmState state;
  state.strain[0] = 0.06;
  const auto flow = [&](double temperature) {
    const FilmRates r = law->rates(state, WidthMode::free(), temperature);
    return r.flow[0] * std::exp(r.log_scale);
  };
  CHECK(flow(room) == Approx(rate * std::pow(0.06 * modulus / flow_stress, 5.0)).epsilon(1e-12));
  CHECK(flow(313.15) / flow(room) ==
        Approx(std::exp(-80e3 / 8.31446261815324 * (1 / 313.15 - 1 / room))).epsilon(1e-12));
}

TEST_CASE("power-network: a wrap from the roll to the end of storage, the same at a finer tolerance",
          "[film][predict]") {
  Scenario s = read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
  s.film_description = test::power_film();
  s.numerics.slices = 4;
  const Result r = predict(s);
  s.numerics.tolerance = 1e-5;
  const Result fine = predict(s);
  const std::size_t last = r.time.size() - 1;
  CHECK(r.film_path.stretch_on_load == Approx(fine.film_path.stretch_on_load).epsilon(1e-6));
  for (std::size_t face = 0; face < face_count; ++face)
    for (std::size_t slice = 0; slice < r.height.size(); ++slice) {
      CHECK(r.hoop_tension.at(last, face, slice) == Approx(fine.hoop_tension.at(last, face, slice)).epsilon(2e-3));
      CHECK(r.hoop_tension.at(last, face, slice) < r.hoop_tension.at(0, face, slice));
      CHECK(r.hoop_tension.at(last, face, slice) > 0.5 * r.hoop_tension.at(0, face, slice));
    }
}
