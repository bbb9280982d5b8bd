// SPDX-License-Identifier: BSD-3-Clause
#include "models/film/eyring_step.hpp"
#include "tests/support/catch.hpp"

#include <cmath>
#include <random>

using hoopfield::eyring_step;

namespace {

/// Branch E, s = Y, r of the check values: stress after dt at log rate a, h = 0, n = 1/2.
double branch_stress(double modulus, double s, double rate, double stress, double log_rate, double dt) {
  return s * eyring_step(stress / s, modulus * log_rate * dt / s, modulus * rate * dt / s).y;
}

}  // namespace

TEST_CASE("Eyring step: relaxation at rest, closed-form check values", "[film]") {
  CHECK(branch_stress(150, 1, 1e-7, 8, 0, 60) == Approx(7.149238).margin(2e-6));
  CHECK(branch_stress(150, 1, 1e-7, 8, 0, 3600) == Approx(3.599819).margin(2e-6));
  CHECK(branch_stress(150, 1, 1e-7, 8, 0, 86400) == Approx(0.561157).margin(2e-6));
}

TEST_CASE("Eyring step: the logarithmic (Guiu-Pratt) form is a limit, not the law", "[film]") {
  // sigma = sigma0 - s ln(1 + t/c), c = (2 s/(E r)) exp(-sigma0/s)
  const double c = 2.0 / (150 * 1e-7) * std::exp(-8.0);
  CHECK(c == Approx(44.728350).epsilon(1e-7));
  const auto logarithmic = [&](double t) { return 8.0 - std::log(1.0 + t / c); };
  CHECK(branch_stress(150, 1, 1e-7, 8, 0, 60) == Approx(logarithmic(60)).epsilon(1e-5));
  CHECK(logarithmic(3600) == Approx(3.599570).epsilon(1e-6));
  CHECK(std::abs(branch_stress(150, 1, 1e-7, 8, 0, 86400) - logarithmic(86400)) > 0.1);
}

TEST_CASE("Eyring step: loading at a constant rate and steady flow", "[film]") {
  CHECK(branch_stress(150, 1, 1e-7, 0, 0.1, 1.0) == Approx(14.031304).margin(2e-6));
  CHECK(branch_stress(150, 1, 1e-7, 0, 0.1, 1e4) == Approx(14.508658).margin(2e-6));
  CHECK(std::asinh(0.1 / 1e-7) == Approx(14.508658).margin(2e-6));
  // flow stress rises by ln(10) s per decade of rate
  const double slope = branch_stress(120, 0.35, 1e-7, 0, 1.0, 1e4) - branch_stress(120, 0.35, 1e-7, 0, 0.1, 1e4);
  CHECK(slope == Approx(std::log(10.0) * 0.35).epsilon(1e-6));
}

TEST_CASE("Eyring step: one step equals two halves, from rest to |y| = 200, either sign", "[film]") {
  for (const double y0 : {-200.0, -30.0, -1.0, -1e-9, 0.0, 1e-6, 0.7, 20.0, 200.0})
    for (const double alpha : {-40.0, -1.0, -1e-6, 0.0, 1e-6, 0.5, 40.0})
      for (const double beta : {0.0, 1e-60, 1e-17, 1e-6, 0.3, 30.0}) {
        const double half = eyring_step(eyring_step(y0, 0.5 * alpha, 0.5 * beta).y, 0.5 * alpha, 0.5 * beta).y;
        const double whole = eyring_step(y0, alpha, beta).y;
        INFO("y0 " << y0 << " alpha " << alpha << " beta " << beta);
        CHECK(std::isfinite(whole));
        CHECK(whole == Approx(half).epsilon(1e-10).margin(1e-10));
        CHECK(eyring_step(-y0, -alpha, beta).y == Approx(-whole).epsilon(1e-13).margin(1e-13));
      }
}

TEST_CASE("Eyring step: at rest tanh(y/2) decays by exp(-beta)", "[film]") {
  for (const double y0 : {0.01, 1.0, 6.0})
    for (const double beta : {1e-3, 0.4, 3.0})
      CHECK(std::tanh(0.5 * eyring_step(y0, 0, beta).y) ==
            Approx(std::tanh(0.5 * y0) * std::exp(-beta)).epsilon(1e-12));
  CHECK(eyring_step(3.0, 1.25, 0.0).y == Approx(4.25).epsilon(1e-14));  // no flow: elastic
}

TEST_CASE("Eyring step: a slow branch far from rest keeps its digits", "[film]") {
  // y >> 1, beta << 1: y_1 = y_0 - ln(1 + (beta/2) exp(y_0)) up to terms of order exp(-y) and beta
  for (const double y0 : {20.0, 25.0, 28.0, 32.0}) {
    const double beta = 5.5e-13;
    CHECK(eyring_step(y0, 0.0, beta).y == Approx(y0 - std::log1p(0.5 * beta * std::exp(y0))).epsilon(1e-12));
  }
}

TEST_CASE("Eyring step: slope by alpha against differences", "[film]") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> uniform(-1.0, 1.0);
  for (int i = 0; i < 300; ++i) {
    const double y0 = 25 * uniform(random), alpha = 10 * uniform(random),
                 beta = std::pow(10.0, -6 + 6 * uniform(random));
    const double h = 1e-5;
    const double difference = (eyring_step(y0, alpha + h, beta).y - eyring_step(y0, alpha - h, beta).y) / (2 * h);
    INFO("y0 " << y0 << " alpha " << alpha << " beta " << beta);
    CHECK(eyring_step(y0, alpha, beta).slope == Approx(difference).epsilon(1e-5).margin(1e-7));
  }
}

TEST_CASE("Eyring step: a very slow film keeps its stress and still creeps in the right direction", "[film]") {
  const double slow = branch_stress(156, 0.259, 1e-17, 4.0, 0.0, 2.6e6);
  CHECK(slow < 4.0);
  // closed form at rest with y = sigma/s
  const double y = 4.0 / 0.259, beta = 156 * 1e-17 * 2.6e6 / 0.259;
  const double exact = 2.0 * std::atanh(std::tanh(0.5 * y) * std::exp(-beta)) * 0.259;
  CHECK(slow == Approx(exact).epsilon(1e-8));
}

TEST_CASE("Eyring step: a flow stress that moves is followed to second order", "[film]") {
  // dy/ds = alpha - beta sinh y - y log_chi, cut into ever more steps
  const auto in_pieces = [](double y, double alpha, double beta, double log_chi, int pieces) {
    for (int i = 0; i < pieces; ++i) y = eyring_step(y, alpha / pieces, beta / pieces, log_chi / pieces).y;
    return y;
  };
  for (const double y0 : {-3.0, 0.5, 6.0})
    for (const double alpha : {-2.0, 0.0, 5.0})
      for (const double beta : {1e-4, 0.2})
        for (const double log_chi : {-0.1, 0.1}) {
          INFO("y0 " << y0 << " alpha " << alpha << " beta " << beta << " log chi " << log_chi);
          const double fine = in_pieces(y0, alpha, beta, log_chi, 4096);
          const double coarse_error = std::abs(in_pieces(y0, alpha, beta, log_chi, 16) - fine);
          const double finer_error = std::abs(in_pieces(y0, alpha, beta, log_chi, 32) - fine);
          CHECK(std::abs(eyring_step(y0, alpha, beta, log_chi).y - fine) < 0.025 * std::abs(fine - y0) + 1e-3);
          CHECK(finer_error < 0.3 * coarse_error + 1e-9);
        }
  CHECK(eyring_step(1.3, 0.4, 0.2, 0.0).y == eyring_step(1.3, 0.4, 0.2).y);
}
