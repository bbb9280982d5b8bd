// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_problem.hpp"

#include "models/film/eyring_activation.hpp"

#include <Eigen/Cholesky>
#include <unsupported/Eigen/NonLinearOptimization>

#include <algorithm>
#include <cmath>

namespace hoopfield::detail {

double assumed_activation(double log_rate, double temperature) {
  const double reference_rate = std::exp(log_rate);
  const double published = reference_rate > 1e-10 ? 109e3 : 192e3;
  return std::max(published, 1.02 * eyring_least_activation(reference_rate, temperature)) / activation_unit;
}

FitPrior fit_prior(const FitLayout& layout, double greatest_invariant) {
  const Eigen::Index n = layout.size();
  FitPrior prior{Eigen::VectorXd(n), Eigen::VectorXd(n), Eigen::VectorXd(n), Eigen::VectorXd(n)};
  const auto set = [&](Eigen::Index i, double centre, double error, double low, double high) {
    prior.centre[i] = centre;
    prior.error[i] = error;
    prior.low[i] = low;
    prior.high[i] = high;
  };
  const auto log_set = [&](Eigen::Index i, double centre, double error, double low, double high) {
    set(i, std::log(centre), error, std::log(low), std::log(high));
  };
  const double least_limit = 1.05 * greatest_invariant + 0.1;
  log_set(layout.network_modulus(), 0.8e6, 1.0, 1e4, 5e7);
  log_set(layout.stretch_limit(), std::max(30.0, 1.5 * least_limit), 0.6, least_limit,
          std::max(1000.0, 40.0 * least_limit));
  log_set(layout.viscous_share(), 0.1, 1.0, 1e-4, 3.0);
  for (std::size_t k = 0; k < layout.branches; ++k) {
    log_set(layout.modulus(k), 60e6, 1.5, 1e5, 5e9);
    log_set(layout.rate(k), 1e-7, 14.0, 1e-24, 1e4);
    log_set(layout.flow_stress(k), 0.35e6, 1.0, 5e3, 5e7);
    set(layout.activation(k), 15.0, 4.0, 1.0, 50.0);
  }
  set(layout.softening(), 0.010, 0.006, 0.0, 0.1);
  set(layout.network_softening(), 0.004, 0.004, -0.03, 0.1);
  return prior;
}

Eigen::Index FitProblem::readings() const {
  std::size_t count = 0;
  for (const FitPath& path : *paths) count += path.readings.size();
  return static_cast<Eigen::Index>(count);
}

Eigen::VectorXd FitProblem::errors() const {
  Eigen::VectorXd errors(readings());
  Eigen::Index row = 0;
  for (const FitPath& path : *paths)
    for (const FitReading& reading : path.readings)
      errors[row++] = reading.scale * std::sqrt(misfit * misfit + path.noise * path.noise / reading.count);
  return errors;
}

void FitProblem::residuals(const Eigen::VectorXd& parameters, Eigen::VectorXd& r, Eigen::MatrixXd* jacobian) const {
  const Eigen::VectorXd error = errors();
  r.resize(error.size());
  if (jacobian != nullptr) jacobian->resize(error.size(), layout.size());
  Eigen::Index row = 0;
  Eigen::VectorXd stress;
  Eigen::MatrixXd part;
  for (const FitPath& path : *paths) {
    model_stress(path, layout, parameters, reference_temperature, stress, jacobian != nullptr ? &part : nullptr);
    for (Eigen::Index i = 0; i < stress.size(); ++i, ++row) {
      const double weight = 1.0 / error[row];
      r[row] = (stress[i] - path.readings[static_cast<std::size_t>(i)].stress) * weight;
      if (jacobian != nullptr) jacobian->row(row) = part.row(i) * weight;
    }
  }
}

Eigen::VectorXd FitProblem::relative_residuals(const Eigen::VectorXd& parameters) const {
  Eigen::VectorXd all(readings());
  Eigen::Index row = 0;
  Eigen::VectorXd stress;
  for (const FitPath& path : *paths) {
    model_stress(path, layout, parameters, reference_temperature, stress);
    for (Eigen::Index i = 0; i < stress.size(); ++i) {
      const FitReading& reading = path.readings[static_cast<std::size_t>(i)];
      all[row++] = (stress[i] - reading.stress) / reading.scale;
    }
  }
  return all;
}

namespace {

/// The problem as MINPACK wants it: unbounded u with `p = low + (high - low) (1 + sin u)/2`, priors as extra rows.
class BoundedFunctor {
 public:
  explicit BoundedFunctor(const FitProblem& problem) : problem_(problem) {
    for (Eigen::Index i = 0; i < problem.layout.size(); ++i)
      if (problem.free[static_cast<std::size_t>(i)]) index_.push_back(i);
  }
  [[nodiscard]] int inputs() const { return static_cast<int>(index_.size()); }
  [[nodiscard]] int values() const { return static_cast<int>(problem_.readings()) + inputs(); }

  [[nodiscard]] Eigen::VectorXd to_unbounded(const Eigen::VectorXd& parameters) const {
    Eigen::VectorXd u(inputs());
    for (int j = 0; j < inputs(); ++j) {
      const Eigen::Index i = index_[static_cast<std::size_t>(j)];
      const double share = (parameters[i] - problem_.prior.low[i]) / (problem_.prior.high[i] - problem_.prior.low[i]);
      u[j] = std::asin(std::clamp(2.0 * share - 1.0, -0.9999, 0.9999));
    }
    return u;
  }
  void set_base(const Eigen::VectorXd& parameters) { base_ = parameters; }
  [[nodiscard]] Eigen::VectorXd to_parameters(const Eigen::VectorXd& u) const {
    Eigen::VectorXd p = base_;
    for (int j = 0; j < inputs(); ++j) {
      const Eigen::Index i = index_[static_cast<std::size_t>(j)];
      p[i] = problem_.prior.low[i] + (problem_.prior.high[i] - problem_.prior.low[i]) * 0.5 * (1.0 + std::sin(u[j]));
    }
    return p;
  }

  int operator()(const Eigen::VectorXd& u, Eigen::VectorXd& f) const {
    const Eigen::VectorXd p = to_parameters(u);
    Eigen::VectorXd r;
    problem_.residuals(p, r);
    f.head(r.size()) = r;
    for (int j = 0; j < inputs(); ++j) {
      const Eigen::Index i = index_[static_cast<std::size_t>(j)];
      f[r.size() + j] = (p[i] - problem_.prior.centre[i]) / problem_.prior.error[i];
    }
    return f.allFinite() ? 0 : -1;
  }
  int df(const Eigen::VectorXd& u, Eigen::MatrixXd& jacobian) const {
    const Eigen::VectorXd p = to_parameters(u);
    Eigen::VectorXd r;
    Eigen::MatrixXd full;
    problem_.residuals(p, r, &full);
    jacobian.setZero();
    for (int j = 0; j < inputs(); ++j) {
      const Eigen::Index i = index_[static_cast<std::size_t>(j)];
      const double chain = (problem_.prior.high[i] - problem_.prior.low[i]) * 0.5 * std::cos(u[j]);
      jacobian.col(j).head(r.size()) = full.col(i) * chain;
      jacobian(r.size() + j, j) = chain / problem_.prior.error[i];
    }
    return jacobian.allFinite() ? 0 : -1;
  }

 private:
  const FitProblem& problem_;
  std::vector<Eigen::Index> index_;
  Eigen::VectorXd base_;
};

}  // namespace

FitMinimum minimise(const FitProblem& problem, const Eigen::VectorXd& start, int most_steps) {
  BoundedFunctor functor(problem);
  functor.set_base(start);
  Eigen::VectorXd u = functor.to_unbounded(start);
  Eigen::LevenbergMarquardt<BoundedFunctor, double> solver(functor);
  solver.parameters.maxfev = most_steps;
  solver.parameters.ftol = 1e-9;
  solver.parameters.xtol = 1e-9;
  solver.minimize(u);
  FitMinimum minimum{functor.to_parameters(u), 0.0};
  Eigen::VectorXd f(functor.values());
  functor(u, f);
  minimum.cost = f.squaredNorm();
  return minimum;
}

Eigen::MatrixXd information(const FitProblem& problem, const Eigen::VectorXd& parameters) {
  Eigen::VectorXd r;
  Eigen::MatrixXd jacobian;
  problem.residuals(parameters, r, &jacobian);
  return jacobian.transpose() * jacobian;
}

Eigen::MatrixXd covariance_of(const Eigen::MatrixXd& information, const Eigen::VectorXd& prior_error) {
  // In units of the prior: well conditioned whatever the parameters are measured in.
  const Eigen::MatrixXd scaled = prior_error.asDiagonal() * information * prior_error.asDiagonal() +
                                 Eigen::MatrixXd::Identity(information.rows(), information.cols());
  const Eigen::MatrixXd inverse =
      scaled.ldlt().solve(Eigen::MatrixXd::Identity(information.rows(), information.cols()));
  return prior_error.asDiagonal() * inverse * prior_error.asDiagonal();
}

}  // namespace hoopfield::detail
