// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Starts of the fit: matching pursuit over branches on a grid.
///
/// For given hardening and network limit the stress is linear in the moduli of branches whose rate and yield strain
/// (flow stress over modulus) are given. So branches on a grid are led along the curves once; of these the one that
/// the residual points to most is taken, all moduli are solved for by non-negative least squares, and so on. A pursuit
/// goes on from one number of branches to the next. (Matching pursuit: Mallat & Zhang 1993, from memory.)
#pragma once

#include "sim/film_lab/fit_problem.hpp"

#include <vector>

namespace hoopfield::detail {

class FitGrid {
 public:
  /// `problem` with one branch; its paths must outlive the grid. Throws Interrupted when the observer asks for it.
  FitGrid(const FitProblem& problem, Observer* observer);

  /// Promising starts for the branches of `problem`, best first. Asked for more and more branches.
  [[nodiscard]] std::vector<Eigen::VectorXd> starts(const FitProblem& problem, std::size_t count);

  /// `smaller`, minimum of a problem with one branch less, with the branch added that its residual points to.
  [[nodiscard]] Eigen::VectorXd grown(const FitProblem& problem, const FitLayout& smaller,
                                      const Eigen::VectorXd& minimum) const;

 private:
  struct Branch {
    double log_rate = 0.0, log_yield = 0.0;
  };
  struct Hardening {
    double log_share = 0.0;
    Eigen::MatrixXd stress;  ///< weighted, of every branch of the grid at a modulus of 1 Pa; a column each
    Eigen::MatrixXd gram;
  };
  /// Branches taken so far with one hardening and one network limit, moduli of the network and of these branches, and
  /// the sum of squares explained.
  struct Pursuit {
    std::size_t hardening = 0;
    double log_limit = 0.0, gain = 0.0;
    Eigen::MatrixXd columns;  ///< weighted stress of the network and of the branches taken, at a modulus of 1 Pa
    std::vector<Eigen::Index> taken;
    Eigen::VectorXd moduli, residual;
  };

  [[nodiscard]] Eigen::VectorXd weighted_stress(const FitLayout& layout, const Eigen::VectorXd& parameters) const;
  [[nodiscard]] Eigen::VectorXd network_stress(double log_limit) const;
  [[nodiscard]] static Eigen::VectorXd pull(const Hardening& hardening, const Eigen::VectorXd& residual);
  void take_one_more(Pursuit& pursuit) const;
  void place_branch(const FitLayout& layout, Eigen::VectorXd& parameters, std::size_t k, const Branch& branch,
                    double log_modulus) const;
  [[nodiscard]] Eigen::VectorXd start_of(const FitProblem& problem, const Pursuit& pursuit) const;

  FitProblem single_;
  std::vector<Branch> branches_;
  std::vector<Hardening> hardenings_;
  std::vector<Pursuit> pursuits_;
  Eigen::VectorXd error_, measured_;  ///< Pa; measured over error
};

}  // namespace hoopfield::detail
