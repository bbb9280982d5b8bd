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
  double time = 0.0;              ///< s, 0 = end of wrapping, so negative
  FilmState state;                ///< at lay-down, after folding in at the top edge
  double force = 0.0;             ///< N, that the whole film width carries on this face
  double section_per_width = 0.0;  ///< w0 t0 / laid width, m: tension per height = nominal stress * this
};

/// Temperature history (K over s since the end of wrapping), linear between knots, constant outside. Before 0: as at 0.
class TemperatureHistory {
 public:
  explicit TemperatureHistory(std::vector<std::pair<double, double>> knots) : knots_(std::move(knots)) {}
  [[nodiscard]] double at(double time) const;
  [[nodiscard]] const std::vector<std::pair<double, double>>& knots() const { return knots_; }

 private:
  std::vector<std::pair<double, double>> knots_;
};

/// Times at which results are kept: 0, log-spaced from 1 s (`per_decade`), temperature knots, marks at 1 min, 1 h, 1 d, and
/// the end. Sorted, without near-duplicates. s.
[[nodiscard]] std::vector<double> output_times(double duration, const TemperatureHistory& history, int per_decade);

/// Rotation time: a uniform acceleration over `ramp_turns`, then constant speed (rad/s). Returns s since the start.
[[nodiscard]] double rotation_time(double turns, double speed, double ramp_turns);

}  // namespace hoopfield
