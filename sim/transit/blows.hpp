// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a vehicle does to the load: acceleration over time.
#pragma once

#include <functional>
#include <vector>

namespace hoopfield {

inline constexpr double standard_gravity = 9.80665;  ///< m/s^2, exact by definition (gn)

/// Acceleration that acts on the load: along the motion (m a pushes toward +x) and normal to the deck, m/s^2.
struct Drive {
  double along = 0.0;
  double normal = standard_gravity;
};

/// A course of acceleration and the time at which it is over, s.
struct Blow {
  std::function<Drive(double)> at;
  double end = 0.0;
};

/// Rises evenly within `rise` to `level` (m/s^2), stays for `hold`, and falls as it rose.
[[nodiscard]] Blow held_blow(double level, double rise, double hold);
/// Half of a sine wave of the greatest value `level` over `duration`.
[[nodiscard]] Blow half_sine_blow(double level, double duration);
/// At `level` from 0 to `duration`.
[[nodiscard]] Blow rectangular_blow(double level, double duration);
/// Deck tilted at an even `rate`, rad/s, up to `greatest`, rad: gravity turns, `g sin` and `g cos`.
[[nodiscard]] Blow slow_tilt(double rate, double greatest);

/// One point of a measured or made-up course.
struct DrivePoint {
  double time = 0.0;  ///< s
  Drive drive;
};
/// Linear between points, nothing but gravity before the first and after the last. Throws OutOfRange unless times rise.
[[nodiscard]] Blow sampled_blow(std::vector<DrivePoint> points);

}  // namespace hoopfield
