// SPDX-License-Identifier: BSD-3-Clause
#include "sim/calibrate/posterior.hpp"

#include "models/error.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU>

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

constexpr double nu = degrees_of_freedom;
constexpr double farthest = 5.0;  // standard normals; nobody's range means more
constexpr int most_iterations = 25;
constexpr double settled = 1e-3;     // step of z at which the search ends
constexpr double linear_step = 0.3;  // a step below which the slopes still hold

class Search {
 public:
  Search(const ReadingErrors& errors, std::size_t numbers, const ReadingModel& model, bool normal)
      : errors_(errors),
        model_(model),
        normal_(normal),
        n_(static_cast<Eigen::Index>(numbers)),
        k_(static_cast<Eigen::Index>(errors.shared.size())),
        m_(static_cast<Eigen::Index>(errors.readings.size())) {
    observed_.resize(m_);
    scale_.resize(m_);
    const double narrower = normal ? 1.0 : std::sqrt((nu + 1.0) / (nu + 3.0));
    for (Eigen::Index j = 0; j < m_; ++j) {
      observed_[j] = errors.readings[static_cast<std::size_t>(j)].observed;
      scale_[j] = narrower * errors.readings[static_cast<std::size_t>(j)].deviation;
    }
    set_scatter(load_scatter_prior);
  }

  Posterior run() {
    x_ = Eigen::VectorXd::Zero(n_ + k_);
    at_ = model_(x_.head(n_), false);
    descend();
    if (errors_.loads > 1) {
      set_scatter(probable_scatter());
      descend();
    }
    at_ = model_(x_.head(n_), true);
    polish();
    return result();
  }

 private:
  /// Shares of the shared errors in each reading, in its unit per standard deviation.
  void set_scatter(double scatter) {
    scatter_ = scatter;
    sharing_ = Eigen::MatrixXd::Zero(m_, k_);
    for (Eigen::Index j = 0; j < m_; ++j)
      for (const std::size_t k : errors_.readings[static_cast<std::size_t>(j)].shared)
        sharing_(j, static_cast<Eigen::Index>(k)) = errors_.shared[k].is_load ? scatter : errors_.shared[k].deviation;
  }

  [[nodiscard]] Eigen::VectorXd residuals(const Eigen::VectorXd& value, const Eigen::VectorXd& x) const {
    return (observed_ - value - sharing_ * x.tail(k_)).cwiseQuotient(scale_);
  }

  [[nodiscard]] double loss(const Eigen::VectorXd& r, const Eigen::VectorXd& x) const {
    const double prior = 0.5 * x.squaredNorm();
    if (normal_) return prior + 0.5 * r.squaredNorm();
    return prior + 0.5 * (nu + 1.0) * (r.array().square() / nu).log1p().sum();
  }

  [[nodiscard]] Eigen::VectorXd weights(const Eigen::VectorXd& r) const {
    if (normal_) return Eigen::VectorXd::Ones(m_);
    return ((nu + 1.0) / (nu + r.array().square())).matrix();
  }

  [[nodiscard]] Eigen::MatrixXd design() const {
    Eigen::MatrixXd a(m_, n_ + k_);
    a << at_.slopes, sharing_;
    return scale_.cwiseInverse().asDiagonal() * a;
  }

  /// Minimum of the linearised problem from where the search stands, weights followed to rest.
  [[nodiscard]] Eigen::VectorXd linear_minimum(double damping) const {
    const Eigen::MatrixXd a = design();
    const Eigen::VectorXd r0 = residuals(at_.value, x_);
    Eigen::VectorXd step = Eigen::VectorXd::Zero(n_ + k_);
    for (int pass = 0; pass < 30; ++pass) {
      const Eigen::VectorXd w = weights(r0 - a * step);
      Eigen::MatrixXd h = a.transpose() * w.asDiagonal() * a;
      h.diagonal().array() += 1.0;
      h.diagonal().head(n_).array() += damping;
      const Eigen::VectorXd next = h.ldlt().solve(a.transpose() * w.cwiseProduct(r0) - x_);
      const double change = (next - step).norm();
      step = next;
      if (change < 1e-10 * (1.0 + step.norm())) break;
    }
    return step;
  }

  void descend() {
    double damping = 0.0;
    for (int i = 0; i < most_iterations; ++i) {
      ++iterations_;
      Eigen::VectorXd next = x_ + linear_minimum(damping);
      next.head(n_) = next.head(n_).cwiseMax(-farthest).cwiseMin(farthest);
      const double step = (next - x_).head(n_).lpNorm<Eigen::Infinity>();
      if (step < settled) {
        accept(next, at_.value + at_.slopes * (next - x_).head(n_));
        return;
      }
      LinearReadings there;
      bool better = false;
      try {
        there = model_(next.head(n_), false);
        better = loss(residuals(there.value, next), next) < loss(residuals(at_.value, x_), x_) + 1e-9;
      } catch (const SolverError&) {
        better = false;  // a place without a solution is no better
      }
      if (better) {
        x_ = next;
        at_ = std::move(there);
        damping = damping < 0.1 ? 0.0 : 0.2 * damping;
        if (step < 10.0 * settled) return;
      } else {
        damping = std::max(1.0, 4.0 * damping);
        if (damping > 1e4) return;
      }
    }
  }

  void accept(const Eigen::VectorXd& x, const Eigen::VectorXd& value) {
    x_ = x;
    at_.value = value;
  }

  /// One more linear step on central differences.
  void polish() {
    const Eigen::VectorXd step = linear_minimum(0.0);
    if (step.head(n_).lpNorm<Eigen::Infinity>() < linear_step)
      accept(x_ + step, at_.value + at_.slopes * step.head(n_));
  }

  /// Of the standard deviation from load to load, from what the linearised readings leave.
  [[nodiscard]] double probable_scatter() {
    const Eigen::VectorXd w = weights(residuals(at_.value, x_));
    const Eigen::VectorXd left = observed_ - at_.value + at_.slopes * x_.head(n_);
    double total = 0.0, squares = 0.0, greatest = -1e300;
    std::vector<std::pair<double, double>> grid;  // scatter, log of its weight
    for (int i = 0; i <= 40; ++i) {
      const double scatter = 0.005 * i;
      set_scatter(scatter);
      // Of the covariance D + B B^T of the readings, D = scale^2/w: both terms through the small matrix I + B^T D^-1 B.
      const Eigen::MatrixXd b = design();
      const Eigen::VectorXd scaled = left.cwiseQuotient(scale_);
      const Eigen::VectorXd v = b.transpose() * w.cwiseProduct(scaled);
      Eigen::MatrixXd small = b.transpose() * w.asDiagonal() * b;
      small.diagonal().array() += 1.0;
      const Eigen::LDLT<Eigen::MatrixXd> factor(small);
      const double log_weight = 0.5 * v.dot(factor.solve(v)) - 0.5 * factor.vectorD().array().log().sum() -
                                0.5 * (scatter / load_scatter_prior) * (scatter / load_scatter_prior);
      grid.emplace_back(scatter, log_weight);
      greatest = std::max(greatest, log_weight);
    }
    for (const auto& [scatter, log_weight] : grid) {
      const double p = std::exp(log_weight - greatest);
      total += p;
      squares += p * scatter * scatter;
    }
    return std::sqrt(squares / total);
  }

  [[nodiscard]] Posterior result() const {
    Posterior out;
    out.mean = x_.head(n_);
    out.shared = x_.tail(k_);
    out.at = at_;
    out.weight = weights(residuals(at_.value, x_)).cwiseMin(1.0);
    out.load_scatter = scatter_;
    out.iterations = iterations_;
    // Expected information of the t errors, none from readings that were taken for blunders.
    const double information = normal_ ? 1.0 : (nu + 1.0) / (nu + 3.0);
    const Eigen::MatrixXd a = design();
    Eigen::MatrixXd h = a.transpose() * (information * out.weight).asDiagonal() * a;
    h.diagonal().array() += 1.0;
    out.covariance = h.inverse().topLeftCorner(n_, n_);
    return out;
  }

  const ReadingErrors& errors_;
  const ReadingModel& model_;
  const bool normal_;
  const Eigen::Index n_, k_, m_;
  Eigen::VectorXd observed_, scale_, x_;
  Eigen::MatrixXd sharing_;
  LinearReadings at_;
  double scatter_ = 0.0;
  int iterations_ = 0;
};

}  // namespace

Posterior most_probable(const ReadingErrors& errors, std::size_t numbers, const ReadingModel& model, bool normal) {
  return Search(errors, numbers, model, normal).run();
}

}  // namespace hoopfield
