// SPDX-License-Identifier: BSD-3-Clause
// Starts of the fit: branch rates and yield strains drawn at random, moduli by non-negative least squares - for given
// rates, yield strains Y/E, h and Jm the stress is linear in the moduli.
#include "sim/film_lab/fit_problem.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace hoopfield::detail {

namespace {

constexpr int draws_per_start = 40;

/// Least squares with all unknowns positive: every subset of the columns is tried, there are few.
Eigen::VectorXd non_negative(const Eigen::MatrixXd& a, const Eigen::VectorXd& b, double& cost) {
  const Eigen::Index n = a.cols();
  const Eigen::MatrixXd gram = a.transpose() * a;
  const Eigen::VectorXd right = a.transpose() * b;
  Eigen::VectorXd best = Eigen::VectorXd::Zero(n);
  cost = b.squaredNorm();
  for (unsigned subset = 1; subset < (1u << n); ++subset) {
    std::vector<Eigen::Index> in;
    for (Eigen::Index i = 0; i < n; ++i)
      if ((subset >> i & 1u) != 0) in.push_back(i);
    const auto m = static_cast<Eigen::Index>(in.size());
    Eigen::MatrixXd g(m, m);
    Eigen::VectorXd r(m);
    for (Eigen::Index i = 0; i < m; ++i) {
      r[i] = right[in[static_cast<std::size_t>(i)]];
      for (Eigen::Index j = 0; j < m; ++j)
        g(i, j) = gram(in[static_cast<std::size_t>(i)], in[static_cast<std::size_t>(j)]);
    }
    const Eigen::VectorXd x = g.ldlt().solve(r);
    if (!x.allFinite() || x.minCoeff() <= 0.0) continue;
    const double now = b.squaredNorm() - x.dot(r);
    if (now >= cost) continue;
    cost = now;
    best.setZero();
    for (Eigen::Index i = 0; i < m; ++i) best[in[static_cast<std::size_t>(i)]] = x[i];
  }
  return best;
}

struct Draw {
  Eigen::VectorXd parameters;
  double cost = 0.0;
};

/// Branch rates in strata from fast to slow, so that every draw covers the decades.
Eigen::VectorXd draw_shape(const FitProblem& problem, std::mt19937& random) {
  std::uniform_real_distribution<double> unit(0.0, 1.0);
  const FitLayout& layout = problem.layout;
  Eigen::VectorXd p = problem.prior.centre;
  const auto n = static_cast<double>(layout.branches);
  for (std::size_t k = 0; k < layout.branches; ++k) {
    const double exponent = 1.0 - 18.0 * (static_cast<double>(k) + unit(random)) / n;
    p[layout.rate(k)] = exponent * std::log(10.0);
    p[layout.modulus(k)] = 0.0;
    p[layout.flow_stress(k)] = std::log(1e-3) + unit(random) * std::log(40.0);  // yield strain 0.1 % to 4 %
    p[layout.activation(k)] =
        assumed_activation(std::exp(p[layout.rate(k)]), problem.reference_temperature) / activation_unit;
  }
  p[layout.viscous_share()] = std::log(0.01) + unit(random) * std::log(50.0);
  const double low = problem.prior.low[layout.stretch_limit()];
  p[layout.stretch_limit()] = low + 0.05 + unit(random) * 1.5;
  return p;
}

/// Moduli that fit best at this shape.
Draw solve_moduli(const FitProblem& problem, Eigen::VectorXd p, const Eigen::VectorXd& error) {
  const FitLayout& layout = problem.layout;
  const auto columns = static_cast<Eigen::Index>(layout.branches) + 1;
  Eigen::MatrixXd a(problem.readings(), columns);
  Eigen::VectorXd b(problem.readings());
  p[layout.network_modulus()] = 0.0;
  Eigen::Index row = 0;
  Eigen::VectorXd stress;
  Eigen::MatrixXd jacobian;
  for (const FitPath& path : *problem.paths) {
    model_stress(path, layout, p, problem.reference_temperature, stress, &jacobian);
    for (Eigen::Index i = 0; i < stress.size(); ++i, ++row) {
      // The stress of modulus and flow stress scaled together is their derivatives added.
      a(row, 0) = jacobian(i, layout.network_modulus()) / error[row];
      for (std::size_t k = 0; k < layout.branches; ++k)
        a(row, static_cast<Eigen::Index>(k) + 1) =
            (jacobian(i, layout.modulus(k)) + jacobian(i, layout.flow_stress(k))) / error[row];
      b[row] = path.readings[static_cast<std::size_t>(i)].stress / error[row];
    }
  }
  Draw draw{p, 0.0};
  const Eigen::VectorXd moduli = non_negative(a, b, draw.cost);
  const auto place = [&](Eigen::Index i, double value) {
    draw.parameters[i] = std::clamp(value, problem.prior.low[i], problem.prior.high[i]);
  };
  place(layout.network_modulus(), std::log(std::max(moduli[0], 1e5)));
  for (std::size_t k = 0; k < layout.branches; ++k) {
    const double modulus = std::max(moduli[static_cast<Eigen::Index>(k) + 1], 2e6);
    const double yield_strain = p[layout.flow_stress(k)];
    place(layout.modulus(k), std::log(modulus));
    place(layout.flow_stress(k), std::log(modulus) + yield_strain);
  }
  return draw;
}

}  // namespace

std::vector<Eigen::VectorXd> fit_starts(const FitProblem& problem, std::size_t count, std::mt19937& random,
                                        Observer* observer) {
  const Eigen::VectorXd error = problem.errors();
  std::vector<Draw> draws;
  for (std::size_t i = 0; i < draws_per_start * count; ++i) {
    if (observer != nullptr && i % 16 == 0 && !observer->progress(0.0, "looking for starts")) throw Interrupted();
    Draw draw = solve_moduli(problem, draw_shape(problem, random), error);
    if (std::isfinite(draw.cost)) draws.push_back(std::move(draw));
  }
  std::sort(draws.begin(), draws.end(), [](const Draw& a, const Draw& b) { return a.cost < b.cost; });
  std::vector<Eigen::VectorXd> starts;
  for (std::size_t i = 0; i < draws.size() && starts.size() < count; ++i) starts.push_back(draws[i].parameters);
  return starts;
}

}  // namespace hoopfield::detail
