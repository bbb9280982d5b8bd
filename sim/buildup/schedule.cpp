// SPDX-License-Identifier: BSD-3-Clause
#include "sim/buildup/schedule.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopfield {

double TemperatureHistory::in_storage(double time) const {
  if (knots_.empty()) return wrapping_;
  if (time <= knots_.front().first) return knots_.front().second;
  if (time >= knots_.back().first) return knots_.back().second;
  const auto next = std::upper_bound(knots_.begin(), knots_.end(), time,
                                     [](double t, const std::pair<double, double>& knot) { return t < knot.first; });
  const auto& [t0, value0] = *(next - 1);
  const auto& [t1, value1] = *next;
  return value0 + (value1 - value0) * (time - t0) / (t1 - t0);
}

std::vector<double> output_times(double duration, const TemperatureHistory& history, int per_decade) {
  std::vector<double> times = {0.0};
  if (!(duration > 0.0)) return times;
  for (int i = 0;; ++i) {
    const double t = std::pow(10.0, static_cast<double>(i) / per_decade);
    if (t >= duration) break;
    times.push_back(t);
  }
  for (const double mark : {60.0, 3600.0, 7200.0, 86400.0})
    if (mark < duration) times.push_back(mark);
  for (const auto& [t, value] : history.knots())
    if (t > 0.0 && t < duration) times.push_back(t);
  times.push_back(duration);
  std::sort(times.begin(), times.end());
  const auto near = [](double a, double b) { return b - a <= 1e-9 * b; };
  times.erase(std::unique(times.begin(), times.end(), near), times.end());
  return times;
}

double rotation_time(double turns, double speed, double ramp_turns) {
  const double angle = 2.0 * std::numbers::pi * turns;
  const double ramp = 2.0 * std::numbers::pi * ramp_turns;
  if (angle >= ramp) return (angle + ramp) / speed;  // the ramp takes twice the time of its angle at full speed
  return 2.0 * std::sqrt(std::max(0.0, angle) * ramp) / speed;
}

}  // namespace hoopfield
