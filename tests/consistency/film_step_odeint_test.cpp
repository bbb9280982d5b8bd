// SPDX-License-Identifier: BSD-3-Clause
// The closed-form step with its controller against Boost.Odeint rosenbrock4 on the plain differential equations.
#include "models/film/film_law.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <boost/numeric/odeint.hpp>

#include <cmath>
#include <random>

using namespace hoopfield;
namespace ublas = boost::numeric::ublas;
namespace odeint = boost::numeric::odeint;

namespace {

/// The plain equations `d e_k/dt = a - (r/c) f(E c e/(Y chi))` with f = sinh, or a power that keeps the sign for law
/// "power-network", written from the parameters, not through the law.
struct Problem {
  const FilmDescription& film;
  WidthMode mode;
  double log_start, log_rate, temperature;

  struct Branch {
    double y, flow, flow_by_y, gain, log_chi_slope;
  };
  [[nodiscard]] Branch branch(const ublas::vector<double>& e, std::size_t k, double t) const {
    const double l = std::exp(log_start + log_rate * t);
    const double chi = 1.0 + film.viscous_share * (mode.invariant(l) - 3.0);
    const BranchParameters& b = film.branches[k];
    const double modulus = b["modulus"] * std::exp(-film.thermal.modulus_softening * (temperature - test::room));
    const double rate =
        b["reference_rate"] * std::exp(-b["activation_energy"] / 8.31446261815324 * (1 / temperature - 1 / test::room));
    const bool power = film.law == "power-network";
    const double gain = modulus * mode.c / (b["flow_stress"] * (power ? 1.0 : temperature / test::room) * chi);
    const double y = gain * e[k];
    if (power) {
      const double n = b["rate_exponent"], size = std::pow(std::abs(y), n - 1.0);
      return {y, rate / mode.c * size * y, rate / mode.c * n * size, gain,
              film.viscous_share * mode.invariant_log_slope(l) / chi};
    }
    return {y, rate / mode.c * std::sinh(y), rate / mode.c * std::cosh(y), gain,
            film.viscous_share * mode.invariant_log_slope(l) / chi};
  }
};

/// One segment at a constant log rate with rosenbrock4. Time is a state of its own: given as an explicit argument, the
/// stepper of Boost 1.74 stayed 2e-6 off SciPy's Radau and LSODA (which agree with the closed-form step to 1e-11).
void reference_segment(const Problem& p, FilmState& state, double stretch_end, double dt) {
  const std::size_t n = p.film.branches.size();
  ublas::vector<double> e(n + 1);
  std::copy_n(state.strain.begin(), n, e.begin());
  e[n] = 0.0;
  const auto system = [&](const ublas::vector<double>& x, ublas::vector<double>& dx, double) {
    for (std::size_t k = 0; k < n; ++k) dx[k] = p.log_rate - p.branch(x, k, x[n]).flow;
    dx[n] = 1.0;
  };
  const auto jacobian = [&](const ublas::vector<double>& x, ublas::matrix<double>& j, const double&,
                            ublas::vector<double>& dfdt) {
    j = ublas::zero_matrix<double>(n + 1, n + 1);
    for (std::size_t k = 0; k < n; ++k) {
      const Problem::Branch b = p.branch(x, k, x[n]);
      j(k, k) = -b.flow_by_y * b.gain;
      j(k, n) = b.flow_by_y * b.y * b.log_chi_slope * p.log_rate;  // y falls as chi grows
    }
    std::fill(dfdt.begin(), dfdt.end(), 0.0);
  };
  auto stepper = odeint::make_controlled<odeint::rosenbrock4<double>>(1e-12, 1e-11);
  double t = 0.0, h = 1e-6 * dt;
  int tries = 0;
  while (t < dt && ++tries < 4000000) {
    h = std::min(h, dt - t);
    stepper.try_step(std::make_pair(system, jacobian), e, t, h);
  }
  REQUIRE(t >= dt * (1 - 1e-12));
  std::copy_n(e.begin(), n, state.strain.begin());
  state.stretch = stretch_end;
}

}  // namespace

TEST_CASE("closed-form step with its controller against rosenbrock4 over random strain paths", "[film]") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  for (const FilmDescription& film : {test::general_film(), test::r1(), test::power_film()}) {
    const auto law = make_film_law(film);
    for (int path = 0; path < 6; ++path) {
      const WidthMode mode =
          path % 2 == 0 ? WidthMode::power(0.5 * uniform(random)) : WidthMode::free(1.0 + 0.2 * uniform(random));
      const double temperature = test::room + 20.0 * (uniform(random) - 0.5);
      FilmState ours, reference;
      ours.stretch = reference.stretch = 1.0;
      for (int segment = 0; segment < 5; ++segment) {
        const double to = segment == 3 ? ours.stretch : 1.0 + 2.5 * uniform(random);
        const double dt = std::pow(10.0, 5.0 * uniform(random) - 2.0);
        const double rate = std::log(to / ours.stretch) / dt;
        advance_controlled(*law, ours, to, dt, mode, temperature, 1e-8);
        reference_segment({film, mode, std::log(reference.stretch), rate, temperature}, reference, to, dt);
        for (std::size_t k = 0; k < law->branch_count(); ++k) {
          INFO(film.name << " path " << path << " segment " << segment << " branch " << k);
          CHECK(std::abs(ours.strain[k] - reference.strain[k]) / law->strain_scale(k) < 1e-6);
        }
      }
    }
  }
}

TEST_CASE("the step is second order where the flow stress moves, exact where it does not", "[film]") {
  for (const double viscous_share : {0.0, 0.13}) {
    auto film = test::general_film();
    film.viscous_share = viscous_share;
    const auto law = make_film_law(film);
    const WidthMode mode = WidthMode::free();
    const auto run = [&](int steps) {
      FilmState s;
      s.stretch = 2.0;
      s.strain = {0.01, 0.2, 0.02};
      for (int i = 1; i <= steps; ++i)
        law->step(s, 2.0 * std::exp(0.06 * i / steps), 2.0 / steps, mode, test::room, test::room);
      return s.strain[2];
    };
    const double exact = run(4096);
    if (viscous_share == 0.0) {
      CHECK(std::abs(run(1) - exact) < 1e-14);
    } else {
      const double e8 = std::abs(run(8) - exact), e16 = std::abs(run(16) - exact), e32 = std::abs(run(32) - exact);
      CHECK(std::log2(e8 / e16) == Approx(2.0).margin(0.15));
      CHECK(std::log2(e16 / e32) == Approx(2.0).margin(0.15));
    }
  }
}
