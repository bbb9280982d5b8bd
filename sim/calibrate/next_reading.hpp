// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Which reading would narrow the answer most.
#pragma once

#include "sim/calibrate/calibration.hpp"
#include "sim/calibrate/unknown_space.hpp"

namespace hoopfield::calibrate_detail {

/// Where and when each quantity can be read: forces at the three stations right after wrapping and after storage, the
/// rest once. Values are 1.
[[nodiscard]] std::vector<Reading> readable_on(const Scenario& scenario);

/// Slopes of everything that could be read on this load, and of the hoop tension or pull force that is asked for, at a
/// place among the unknowns.
struct Outlook {
  std::string measure;                      ///< name of the output
  std::vector<ObservedReading> candidates;  ///< the last one stands for the measure
  LinearReadings at;
};
[[nodiscard]] Outlook outlook(const Scenario& scenario, const UnknownSpace& space, const Eigen::VectorXd& z,
                              Observer* observer);

/// For a linear model and normal errors: with g the slopes of the measure, a those of a candidate and s^2 the variance
/// of all its errors, the band keeps `sqrt(1 - (g^T C a)^2 / ((a^T C a + s^2) g^T C g))` of its width.
[[nodiscard]] std::vector<NextReading> ranked_readings(const Outlook& outlook, const Eigen::MatrixXd& covariance,
                                                       double load_scatter);

/// The candidate that leaves least of the deviation of one unknown, and what it leaves of it.
[[nodiscard]] std::pair<std::string, double> best_for(const Outlook& outlook, const Eigen::MatrixXd& covariance,
                                                      double load_scatter, std::size_t unknown);

}  // namespace hoopfield::calibrate_detail
