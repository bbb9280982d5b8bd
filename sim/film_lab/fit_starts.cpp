// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_starts.hpp"

#include "models/error.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace hoopfield::detail {

namespace {

constexpr double rate_step = 1.5;                                      // decades
constexpr double fastest = 1.0, slowest = -20.0;                       // powers of ten, 1/s
constexpr double yields[] = {0.001, 0.0025, 0.006, 0.015, 0.04, 0.2};  // strains
constexpr double shares[] = {0.01, 0.05, 0.12, 0.3};                   // viscous share of hardening
constexpr double limits[] = {0.1, 0.6, 1.5};                           // ln above the least network limit
constexpr double nothing = -60.0;                                      // ln of a modulus that carries no stress
constexpr double least_network = 1e5, least_branch = 2e6;              // Pa, of a start

/// Least squares with all unknowns positive, from the normal equations: every subset is tried, there are few.
Eigen::VectorXd non_negative(const Eigen::MatrixXd& gram, const Eigen::VectorXd& right, double& gain) {
  const Eigen::Index n = gram.cols();
  Eigen::VectorXd best = Eigen::VectorXd::Zero(n);
  gain = 0.0;
  for (unsigned subset = 1; subset < (1u << n); ++subset) {
    std::vector<Eigen::Index> in;
    for (Eigen::Index i = 0; i < n; ++i)
      if ((subset >> i & 1u) != 0) in.push_back(i);
    const Eigen::VectorXd part = right(in);
    const Eigen::VectorXd x = Eigen::MatrixXd(gram(in, in)).ldlt().solve(part);
    if (!x.allFinite() || x.minCoeff() <= 0.0 || x.dot(part) <= gain) continue;
    gain = x.dot(part);
    best.setZero();
    best(in) = x;
  }
  return best;
}

}  // namespace

FitGrid::FitGrid(const FitProblem& problem, Observer* observer) : single_(problem), error_(problem.errors()) {
  measured_.resize(error_.size());
  Eigen::Index row = 0;
  for (const FitPath& path : *single_.paths)
    for (const FitReading& reading : path.readings) {
      measured_[row] = reading.stress / error_[row];
      ++row;
    }
  for (double power = fastest; power >= slowest; power -= rate_step)
    for (const double yield : yields) branches_.push_back({power * std::log(10.0), std::log(yield)});
  const FitLayout& layout = single_.layout;
  for (const double share : shares) {
    if (observer != nullptr && !observer->progress(0.0, "looking for starts")) throw Interrupted();
    Hardening hardening{
        std::log(share), Eigen::MatrixXd(error_.size(), static_cast<Eigen::Index>(branches_.size())), {}};
    Eigen::VectorXd p = single_.prior.centre;
    p[layout.network_modulus()] = nothing;
    p[layout.viscous_share()] = hardening.log_share;
    for (std::size_t b = 0; b < branches_.size(); ++b) {
      place_branch(layout, p, 0, branches_[b], 0.0);
      hardening.stress.col(static_cast<Eigen::Index>(b)) = weighted_stress(layout, p);
    }
    hardening.gram = hardening.stress.transpose() * hardening.stress;
    hardenings_.push_back(std::move(hardening));
  }
  const double least_limit = single_.prior.low[layout.stretch_limit()];
  std::vector<Eigen::VectorXd> networks;
  for (const double limit : limits) networks.push_back(network_stress(least_limit + limit));
  for (std::size_t h = 0; h < hardenings_.size(); ++h)
    for (std::size_t l = 0; l < networks.size(); ++l)
      pursuits_.push_back({h, least_limit + limits[l], 0.0, networks[l], {}, Eigen::VectorXd::Zero(1), measured_});
}

Eigen::VectorXd FitGrid::weighted_stress(const FitLayout& layout, const Eigen::VectorXd& parameters) const {
  Eigen::VectorXd all(error_.size());
  Eigen::Index row = 0;
  Eigen::VectorXd stress;
  for (const FitPath& path : *single_.paths) {
    model_stress(path, layout, parameters, single_.reference_temperature, stress);
    all.segment(row, stress.size()) = stress;
    row += stress.size();
  }
  return all.cwiseQuotient(error_);
}

Eigen::VectorXd FitGrid::network_stress(double log_limit) const {
  Eigen::VectorXd p = single_.prior.centre;
  p[single_.layout.network_modulus()] = 0.0;
  p[single_.layout.stretch_limit()] = log_limit;
  p[single_.layout.modulus(0)] = nothing;
  return weighted_stress(single_.layout, p);
}

/// How much of a residual each branch of the grid could take, over its own size.
Eigen::VectorXd FitGrid::pull(const Hardening& hardening, const Eigen::VectorXd& residual) {
  return (hardening.stress.transpose() * residual).cwiseQuotient(hardening.gram.diagonal().cwiseSqrt());
}

void FitGrid::take_one_more(Pursuit& pursuit) const {
  const Hardening& hardening = hardenings_[pursuit.hardening];
  Eigen::VectorXd pulls = pull(hardening, pursuit.residual);
  for (const Eigen::Index taken : pursuit.taken) pulls[taken] = -1.0;
  Eigen::Index best = 0;
  pulls.maxCoeff(&best);
  pursuit.taken.push_back(best);
  Eigen::MatrixXd& columns = pursuit.columns;
  columns.conservativeResize(Eigen::NoChange, columns.cols() + 1);
  columns.rightCols(1) = hardening.stress.col(best);
  pursuit.moduli = non_negative(columns.transpose() * columns, columns.transpose() * measured_, pursuit.gain);
  pursuit.residual = measured_ - columns * pursuit.moduli;
}

void FitGrid::place_branch(const FitLayout& layout, Eigen::VectorXd& parameters, std::size_t k, const Branch& branch,
                           double log_modulus) const {
  parameters[layout.modulus(k)] = log_modulus;
  parameters[layout.rate(k)] = branch.log_rate;
  parameters[layout.flow_stress(k)] = log_modulus + branch.log_yield;
  parameters[layout.activation(k)] = assumed_activation(branch.log_rate, single_.reference_temperature);
}

Eigen::VectorXd FitGrid::start_of(const FitProblem& problem, const Pursuit& pursuit) const {
  const FitLayout& layout = problem.layout;
  Eigen::VectorXd p = problem.prior.centre;
  p[layout.network_modulus()] = std::log(std::max(pursuit.moduli[0], least_network));
  p[layout.stretch_limit()] = pursuit.log_limit;
  p[layout.viscous_share()] = hardenings_[pursuit.hardening].log_share;
  for (std::size_t k = 0; k < layout.branches; ++k) {
    const double modulus = std::max(pursuit.moduli[static_cast<Eigen::Index>(k) + 1], least_branch);
    place_branch(layout, p, k, branches_[static_cast<std::size_t>(pursuit.taken[k])], std::log(modulus));
  }
  return p.cwiseMax(problem.prior.low).cwiseMin(problem.prior.high);
}

std::vector<Eigen::VectorXd> FitGrid::starts(const FitProblem& problem, std::size_t count) {
  std::vector<const Pursuit*> best;
  for (Pursuit& pursuit : pursuits_) {
    while (pursuit.taken.size() < problem.layout.branches) take_one_more(pursuit);
    best.push_back(&pursuit);
  }
  std::stable_sort(best.begin(), best.end(), [](const Pursuit* a, const Pursuit* b) { return a->gain > b->gain; });
  best.resize(std::min(count, best.size()));
  std::vector<Eigen::VectorXd> starts;
  for (const Pursuit* pursuit : best) starts.push_back(start_of(problem, *pursuit));
  return starts;
}

Eigen::VectorXd FitGrid::grown(const FitProblem& problem, const FitLayout& smaller,
                               const Eigen::VectorXd& minimum) const {
  const FitLayout& layout = problem.layout;
  const double share = minimum[smaller.viscous_share()];
  const auto nearest = std::min_element(hardenings_.begin(), hardenings_.end(), [&](const auto& a, const auto& b) {
    return std::abs(a.log_share - share) < std::abs(b.log_share - share);
  });
  const Eigen::VectorXd pulls = pull(*nearest, measured_ - weighted_stress(smaller, minimum));
  Eigen::Index best = 0;
  pulls.maxCoeff(&best);
  const double modulus = std::max(pulls[best] / std::sqrt(nearest->gram(best, best)), least_branch);
  Eigen::VectorXd p = problem.prior.centre;
  p.head(3) = minimum.head(3);
  p.tail(2) = minimum.tail(2);
  for (std::size_t k = 0; k < smaller.branches; ++k) {
    p.segment(layout.modulus(k), 3) = minimum.segment(smaller.modulus(k), 3);
    p[layout.activation(k)] = minimum[smaller.activation(k)];
  }
  place_branch(layout, p, smaller.branches, branches_[static_cast<std::size_t>(best)], std::log(modulus));
  return p.cwiseMax(problem.prior.low).cwiseMin(problem.prior.high);
}

}  // namespace hoopfield::detail
