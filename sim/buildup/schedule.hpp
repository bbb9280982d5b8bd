// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What happens to the slices and when: patches, finished turns, output times, temperature.
#pragma once

#include "models/film/film_law.hpp"
#include "models/pattern/pattern.hpp"

#include <cstddef>
#include <utility>
#include <vector>

namespace hoopfield {

/// One patch as the build-up needs it: geometry, time and the film in it.
struct LaidPatch {
  Patch patch;
  double time = 0.0;               ///< s, 0 = end of wrapping, so negative
  FilmState state;                 ///< at lay-down, after folding in at the top edge; its own in every patch
  double force = 0.0;              ///< N, that the whole film width carries on this face once it has slipped
  double laid_force = 0.0;         ///< N, that `state` carried before folding in
  double section_per_width = 0.0;  ///< w0 t0 / own laid width, m: tension per height = nominal stress * this
};

/// Temperature of the film (K): that of wrapping up to time 0, the end of wrapping, then the history of storage over s
/// since then, linear between knots, constant outside. Between the two it may jump. Pinned by
/// tests/unit/film_state_test.cpp.
class TemperatureHistory {
 public:
  TemperatureHistory(double wrapping, std::vector<std::pair<double, double>> storage)
      : wrapping_(wrapping), knots_(std::move(storage)) {}
  [[nodiscard]] double at(double time) const { return time > 0.0 ? in_storage(time) : wrapping_; }
  [[nodiscard]] double in_storage(double time) const;  ///< at 0: just after the end of wrapping
  [[nodiscard]] const std::vector<std::pair<double, double>>& knots() const { return knots_; }

 private:
  double wrapping_;
  std::vector<std::pair<double, double>> knots_;
};

/// Times at which results are kept: 0, log-spaced from 1 s (`per_decade`), temperature knots, marks at 1 min, 1 h, 1 d,
/// and the end. Sorted, without near-duplicates. s.
[[nodiscard]] std::vector<double> output_times(double duration, const TemperatureHistory& history, int per_decade);

/// Rotation time: a uniform acceleration over `ramp_turns`, then constant speed (rad/s). Returns s since the start.
[[nodiscard]] double rotation_time(double turns, double speed, double ramp_turns);

}  // namespace hoopfield
