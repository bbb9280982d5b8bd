// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The most probable standard normal numbers behind some readings, and how well they are known.
#pragma once

#include "sim/calibrate/reading_errors.hpp"

#include <Eigen/Core>

#include <functional>
#include <vector>

namespace hoopfield {

/// Predicted readings on their own scales at standard normal numbers z, and their derivatives.
struct LinearReadings {
  Eigen::VectorXd value;   ///< one per reading
  Eigen::MatrixXd slopes;  ///< (reading, number)
};

/// Called with z; `central` asks for central differences. Throws where the physics has no solution.
using ReadingModel = std::function<LinearReadings(const Eigen::VectorXd& z, bool central)>;

struct Posterior {
  Eigen::VectorXd mean;        ///< of z, most probable
  Eigen::MatrixXd covariance;  ///< of z
  Eigen::VectorXd shared;      ///< shared errors, in their standard deviations
  LinearReadings at;           ///< there
  Eigen::VectorXd weight;      ///< of each reading, 1 = as good as stated, 0 = left out
  double load_scatter = 0.0;   ///< standard deviation, share
  int iterations = 0;
};

/// Student-t errors have this many degrees of freedom: a reading far off is taken for a blunder, not for news.
inline constexpr double degrees_of_freedom = 4.0;

/// The most probable z, standard normal before the readings `y = f(z) + sum_k s_k u_k + e`: u standard normal (what
/// readings share), e Student-t with `degrees_of_freedom` and the scale at which it holds as much information as a
/// normal error of the stated deviation, `s^2 = sigma^2 (nu + 1)/(nu + 3)`. Levenberg-Marquardt with weights
/// `(nu + 1)/(nu + r^2)`; the covariance is that of the Gauss-Newton matrix. The scatter from load to load is the root
/// of the mean of its square over a grid, weighted with the likelihood of the linearised readings and its half-normal
/// prior. With exact normal errors (`normal` true) and a linear f it is the closed form `C = (J^T R^-1 J + I)^-1`, `m =
/// C J^T R^-1 (y - f(0))`. Pinned by tests/unit/posterior_test.cpp.
[[nodiscard]] Posterior most_probable(const ReadingErrors& errors, std::size_t numbers, const ReadingModel& model,
                                      bool normal = false);

}  // namespace hoopfield
