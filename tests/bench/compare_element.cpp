// SPDX-License-Identifier: BSD-3-Clause
// One film element with rosenbrock4; its own file because uBLAS needs C++17.
#include "tests/bench/compare_case.hpp"

#include <boost/numeric/odeint.hpp>

#include <cmath>
#include <utility>

namespace hoopfield::bench {
namespace {

namespace ublas = boost::numeric::ublas;
namespace odeint = boost::numeric::odeint;
using Vector = ublas::vector<double>;

struct BranchNumbers {
  double modulus, reference_rate, flow_stress;
};

/// Time is a state of its own, as in tests/consistency/film_step_odeint_test.cpp.
struct Equations {
  const ElementPath& path;
  const std::vector<BranchNumbers>& numbers;
  double log_start = 0.0, log_rate = 0.0;

  double chi(double l) const { return 1.0 + path.film.viscous_share * (l * l + 2.0 * path.shape / l - 3.0); }
  void rates(const Vector& x, Vector& dx) const {
    const std::size_t n = path.film.branches.size();
    const double flow_stress_factor = chi(std::exp(log_start + log_rate * x[n]));
    for (std::size_t k = 0; k < n; ++k) {
      const BranchNumbers& b = numbers[k];
      dx[k] = log_rate - b.reference_rate * std::sinh(b.modulus * x[k] / (b.flow_stress * flow_stress_factor));
    }
    dx[n] = 1.0;
  }
  void jacobian(const Vector& x, ublas::matrix<double>& j) const {
    const std::size_t n = path.film.branches.size();
    const double l = std::exp(log_start + log_rate * x[n]), factor = chi(l);
    const double log_slope = path.film.viscous_share * (2.0 * l * l - 2.0 * path.shape / l) / factor;
    j = ublas::zero_matrix<double>(n + 1, n + 1);
    for (std::size_t k = 0; k < n; ++k) {
      const BranchNumbers& b = numbers[k];
      const double gain = b.modulus / (b.flow_stress * factor), y = gain * x[k];
      j(k, k) = -b.reference_rate * std::cosh(y) * gain;
      j(k, n) = b.reference_rate * std::cosh(y) * y * log_slope * log_rate;
    }
  }
};

}  // namespace

ElementAnswer solve_rosenbrock4(const ElementPath& path, double tolerance) {
  ElementAnswer answer;
  const double begin = processor_seconds();
  const std::size_t n = path.film.branches.size();
  std::vector<BranchNumbers> numbers;
  for (const BranchParameters& b : path.film.branches)
    numbers.push_back({b["modulus"], b["reference_rate"], b["flow_stress"]});
  Vector x(n + 1);
  for (std::size_t k = 0; k < n; ++k) x[k] = path.strain[k];
  for (std::size_t i = 1; i < path.time.size(); ++i) {
    const double span = path.time[i] - path.time[i - 1];
    const Equations equations{path, numbers, std::log(path.stretch[i - 1]),
                              std::log(path.stretch[i] / path.stretch[i - 1]) / span};
    x[n] = 0.0;
    const auto system = std::make_pair([&](const Vector& s, Vector& ds, double) { equations.rates(s, ds); },
                                       [&](const Vector& s, ublas::matrix<double>& j, const double&, Vector& dfdt) {
                                         equations.jacobian(s, j);
                                         for (double& d : dfdt) d = 0.0;
                                       });
    auto stepper = odeint::make_controlled<odeint::rosenbrock4<double>>(1e-2 * tolerance, tolerance);
    double t = 0.0, h = 1e-6 * span;
    while (t < span * (1.0 - 1e-13)) {
      h = std::min(h, span - t);
      ++answer.steps;
      stepper.try_step(system, x, t, h);
    }
  }
  for (std::size_t k = 0; k < n; ++k) answer.strain.push_back(x[k]);
  answer.seconds = processor_seconds() - begin;
  return answer;
}

}  // namespace hoopfield::bench
