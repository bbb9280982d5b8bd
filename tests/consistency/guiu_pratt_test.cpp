// SPDX-License-Identifier: BSD-3-Clause
// Logarithmic relaxation of one Eyring branch: stress0 - stress = Y ln(1 + t/c), c = 2 Y/(E r) exp(-stress0/Y), Guiu &
// Pratt 1964, Phys. Status Solidi 6, 111 (from memory). It is the limit of the law's own hold for stress far above Y.
#include "models/film/film_law.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <cmath>

using namespace hoopfield;

namespace {

constexpr double modulus = 150e6, rate = 1e-7, stretch = 2.0;

/// Stress of the branch alone after a hold from `start`, Pa; at constant stretch true stress is E e.
double held(double flow_stress, double start, double time) {
  FilmDescription film;
  film.density = 920.0;
  film.network = {1.0, 1e6};
  film.branches = {{{"modulus", modulus}, {"reference_rate", rate}, {"flow_stress", flow_stress}}};
  const auto law = make_film_law(film);
  FilmState state;
  state.stretch = stretch;
  state.strain[0] = start / modulus;
  (void)law->step(state, stretch, time, WidthMode::free(), test::room, test::room);
  return modulus * state.strain[0];
}

double logarithm(double flow_stress, double start, double time) {
  const double c = 2.0 * flow_stress / (modulus * rate) * std::exp(-start / flow_stress);
  return start - flow_stress * std::log1p(time / c);
}

}  // namespace

TEST_CASE("a hold follows the logarithm of Guiu and Pratt while the stress is far above the flow stress", "[film]") {
  // Values of the closed form tanh(s/2Y) = tanh(s0/2Y) exp(-E r t/Y), computed apart.
  CHECK(held(1e6, 8e6, 60.0) * 1e-6 == Approx(7.149238).epsilon(2e-6));
  CHECK(held(1e6, 8e6, 3600.0) * 1e-6 == Approx(3.599819).epsilon(2e-6));
  CHECK(held(1e6, 8e6, 86400.0) * 1e-6 == Approx(0.561157).epsilon(2e-6));
  for (const double flow_stress : {0.25e6, 0.5e6})
    for (double time = 1e-3; logarithm(flow_stress, 8e6, time) > 6.0 * flow_stress; time *= 10.0) {
      INFO("Y " << flow_stress << ", time " << time);
      CHECK(held(flow_stress, 8e6, time) == Approx(logarithm(flow_stress, 8e6, time)).epsilon(1e-4));
    }
  // One decade of time costs Y ln 10, whatever the modulus.
  CHECK(held(0.25e6, 8e6, 10.0) - held(0.25e6, 8e6, 100.0) == Approx(0.25e6 * std::log(10.0)).epsilon(1e-4));
  // Below three times the flow stress it must leave the logarithm, which runs through zero.
  CHECK(held(1e6, 8e6, 86400.0) > 1.2 * logarithm(1e6, 8e6, 86400.0));
  CHECK(logarithm(1e6, 8e6, 1e6) < 0.0);
  CHECK(held(1e6, 8e6, 1e6) > 0.0);
}
