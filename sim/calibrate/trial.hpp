// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Which readings on how many loads tell two settings or films apart.
#pragma once

#include "sim/calibrate/predicted_readings.hpp"
#include "sim/calibrate/reading_errors.hpp"

#include <vector>

namespace hoopfield {

struct TrialOptions {
  std::size_t loads = 3;                     ///< to be wrapped of each side
  double minutes = 0.0;                      ///< of reading for each load; 0 = no limit
  double load_scatter = load_scatter_prior;  ///< standard deviation from load to load, share
};

/// One reading taken on both sides with the same instrument.
struct TrialReading {
  ReadingPlace place;
  double present = 0.0, candidate = 0.0;  ///< predicted, SI
  double difference = 0.0;                ///< of the scaled values, in standard deviations of one reading on one load
  double loads_needed =
      0.0;                 ///< of each side, to be right nine times in ten at one false alarm in twenty; may be large
  double power = 0.0;      ///< with the loads of the trial
  bool is_chosen = false;  ///< stands on the form
};

struct Trial {
  TrialOptions options;
  std::vector<TrialReading> readings;  ///< least work first
  double minutes_per_load = 0.0;       ///< of the chosen ones
};

/// For normal errors, a difference d of means and a standard deviation s of one reading on one load (its own error and
/// the scatter from load to load; what the instrument or the model shares drops out of a difference):
/// `n = 2 (s/d)^2 (z_95 + z_90)^2` loads of each side, and with n loads the power is `Phi(|d|/(s sqrt(2/n)) - z_95)`.
/// Pinned by tests/unit/trial_test.cpp.
[[nodiscard]] double loads_to_tell(double difference);
[[nodiscard]] double power_to_tell(double difference, double loads);

/// Chosen are the readings that tell the sides apart with the loads of the trial, least work first, within the minutes;
/// where none does, the one that comes nearest. Throws what predict() throws.
[[nodiscard]] Trial plan_trial(const Scenario& present, const Scenario& candidate, const TrialOptions& options = {});

}  // namespace hoopfield
