// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/blows.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace hoopfield {

Blow held_blow(double level, double rise, double hold) {
  const double end = 2.0 * rise + hold;
  return {[=](double t) {
            if (t < 0.0 || t > end) return Drive{};
            if (t < rise) return Drive{level * t / rise};
            if (t > rise + hold) return Drive{level * (end - t) / rise};
            return Drive{level};
          },
          end};
}

Blow half_sine_blow(double level, double duration) {
  return {[=](double t) {
            return t < 0.0 || t > duration ? Drive{} : Drive{level * std::sin(std::numbers::pi * t / duration)};
          },
          duration};
}

Blow rectangular_blow(double level, double duration) {
  return {[=](double t) { return t < 0.0 || t >= duration ? Drive{} : Drive{level}; }, duration};
}

Blow slow_tilt(double rate, double greatest) {
  return {[=](double t) {
            const double angle = std::clamp(rate * t, 0.0, greatest);
            return Drive{standard_gravity * std::sin(angle), standard_gravity * std::cos(angle)};
          },
          greatest / rate};
}

Blow sampled_blow(std::vector<DrivePoint> points) {
  if (points.empty()) throw OutOfRange("a course of acceleration needs a point");
  for (std::size_t i = 1; i < points.size(); ++i)
    if (!(points[i].time > points[i - 1].time)) throw OutOfRange("times of a course of acceleration must rise");
  const double end = points.back().time;
  return {[points = std::move(points)](double t) {
            if (t < points.front().time || t > points.back().time) return Drive{};
            const auto above = std::upper_bound(points.begin(), points.end(), t,
                                                [](double time, const DrivePoint& p) { return time < p.time; });
            if (above == points.begin() || above == points.end()) return points.back().drive;
            const DrivePoint &before = *std::prev(above), &after = *above;
            const double share = (t - before.time) / (after.time - before.time);
            return Drive{std::lerp(before.drive.along, after.drive.along, share),
                         std::lerp(before.drive.normal, after.drive.normal, share)};
          },
          end};
}

}  // namespace hoopfield
