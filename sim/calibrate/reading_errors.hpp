// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How far a reading may be off, and what readings share of it.
#pragma once

#include "sim/base/reading.hpp"
#include "sim/calibrate/predicted_readings.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace hoopfield {

/// Share of a force on the load by which the equations themselves may be off, half of the central 90 %: own assumption.
/// All readings of one quantity share it.
inline constexpr double model_error = 0.03;
/// Scale of the half-normal prior of the scatter of hoop tension from load to load, a standard deviation as a share.
inline constexpr double load_scatter_prior = 0.05;

/// One reading as the calibration sees it: on the logarithm where its error is a share, else as it is.
struct ObservedReading {
  ReadingPlace place;
  bool is_log = false;
  double observed = 0.0;            ///< on that scale
  double deviation = 0.0;           ///< standard deviation of its own error, on that scale
  std::vector<std::size_t> shared;  ///< places of its shared errors
  /// A predicted value on the scale of the reading.
  [[nodiscard]] double scaled(double predicted) const;
  /// And back.
  [[nodiscard]] double unscaled(double value) const;
};

/// An error that several readings share: an instrument's, the model's, or what one load has more than another.
struct SharedError {
  std::string name;        ///< "instrument balance 2, pull_force", "model, pull_force", "load A"
  double deviation = 0.0;  ///< standard deviation, on the scale of its readings
  bool is_load = false;    ///< its deviation is the scatter from load to load
};

struct ReadingErrors {
  std::vector<ObservedReading> readings;
  std::vector<SharedError> shared;
  std::size_t loads = 0;  ///< that forces on the load were read on
};

/// Readings of counted turns are left out: they fix the pattern. Throws InputError for a height that is not on the
/// load.
[[nodiscard]] ReadingErrors reading_errors(const Scenario& scenario, const std::vector<Reading>& readings);

}  // namespace hoopfield
