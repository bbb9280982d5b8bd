// SPDX-License-Identifier: BSD-3-Clause
#include "sim/winding/take_up.hpp"

#include "models/error.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <numbers>
#include <string>

namespace hoopfield {

namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;

double reduced(double angle) {
  const double rest = std::fmod(angle, two_pi);
  return rest < 0.0 ? rest + two_pi : rest;
}

std::string metres(double value) { return short_number(value) + " m"; }

void check_plan(const TakeUpPlan& plan) {
  if (!(plan.length > 0.0) || !(plan.width > 0.0) || !std::isfinite(plan.length) || !std::isfinite(plan.width)) {
    throw OutOfRange("load.length and load.width must be positive lengths");
  }
  if (!std::isfinite(plan.offset) || !std::isfinite(plan.distance)) {
    throw OutOfRange("delivery.distance and delivery.offset must be finite");
  }
  const double shorter = std::min(plan.length, plan.width);
  if (!(plan.corner_radius >= 0.0) || plan.corner_radius >= 0.5 * shorter) {
    throw OutOfRange("load.corner_radius: " + metres(plan.corner_radius) + ", must be at least 0 and less than half " +
                     "the shorter side (" + metres(0.5 * shorter) + ")");
  }
  if (!(std::abs(plan.axis_offset) < 0.5 * plan.length)) {
    throw OutOfRange("load.axis_offset: " + metres(plan.axis_offset) + ", the rotation axis would lie outside the " +
                     "load (half its length is " + metres(0.5 * plan.length) + ")");
  }
}

}  // namespace

TakeUp::TakeUp(const TakeUpPlan& plan) : plan_(plan) {
  check_plan(plan);
  const double half_length = 0.5 * plan.length - plan.corner_radius;
  const double half_width = 0.5 * plan.width - plan.corner_radius;
  corner_x_ = {plan.axis_offset + half_length, plan.axis_offset - half_length, plan.axis_offset - half_length,
               plan.axis_offset + half_length};
  corner_y_ = {half_width, half_width, -half_width, -half_width};
  flat_ = {2.0 * half_width, 2.0 * half_length, 2.0 * half_width, 2.0 * half_length};
  perimeter_ = 2.0 * (flat_[0] + flat_[1]) + two_pi * plan.corner_radius;
  reach_ = std::hypot(plan.distance, plan.offset);
  start_angle_ = std::atan2(plan.offset, plan.distance);

  const double load_reach = std::hypot(half_length + std::abs(plan.axis_offset), half_width) + plan.corner_radius;
  if (!(plan.distance > 0.0) || !(reach_ > load_reach)) {
    throw OutOfRange("delivery.distance: the outlet turns at " + metres(reach_) + " from the rotation axis but the " +
                     "corners of the load reach " + metres(load_reach) + "; move it out by more than " +
                     metres(std::max(load_reach - reach_, 0.0)));
  }
  find_events();
  find_mean_span();
}

void TakeUp::find_events() {
  for (std::size_t face = 0; face < 4; ++face) {
    const double psi = 0.5 * std::numbers::pi * static_cast<double>(face);
    const std::size_t near_corner = corner_after_face(face);
    const double support =
        std::abs(face % 2 == 0 ? corner_x_[near_corner] : corner_y_[near_corner]) + plan_.corner_radius;
    FaceEvent event;
    event.face = face;
    event.angle = reduced(start_angle_ + std::acos(support / reach_) - psi);
    event.span_before = at(event.angle, corner_before_face(face)).span;
    event.span_after = event.span_before - flat_[face];
    events_.push_back(event);
  }
  std::sort(events_.begin(), events_.end(), [](const FaceEvent& a, const FaceEvent& b) { return a.angle < b.angle; });
}

void TakeUp::find_mean_span() {
  using Quadrature = boost::math::quadrature::gauss_kronrod<double, 15>;
  double integral = 0.0;
  for (std::size_t i = 0; i < events_.size(); ++i) {
    const double begin = events_[i].angle;
    const double end = i + 1 < events_.size() ? events_[i + 1].angle : events_[0].angle + two_pi;
    const std::size_t corner = corner_after_face(events_[i].face);
    integral += Quadrature::integrate([&](double angle) { return at(angle, corner).span; }, begin, end, 12, 1e-12);
  }
  mean_span_ = integral / two_pi;
}

TakeUpPoint TakeUp::at(double angle, std::size_t corner) const {
  const double direction = start_angle_ - angle;
  const double dx = reach_ * std::cos(direction) - corner_x_[corner];
  const double dy = reach_ * std::sin(direction) - corner_y_[corner];
  const double square = dx * dx + dy * dy;
  const double r = plan_.corner_radius;
  TakeUpPoint point;
  point.corner = corner;
  point.span = std::sqrt(square - r * r);
  // The normal lies counter-clockwise of the line from the round's centre to the outlet, by arccos(r/distance).
  const double nx = (r * dx - point.span * dy) / square;
  const double ny = (r * dy + point.span * dx) / square;
  point.lever_arm = corner_x_[corner] * nx + corner_y_[corner] * ny + r;
  const double foot = std::sqrt(std::max(reach_ * reach_ - point.lever_arm * point.lever_arm, 0.0));
  point.wrap_rate = foot / point.span;
  point.normal_angle = direction + std::atan2(foot, point.lever_arm);
  return point;
}

TakeUpPoint TakeUp::at(double angle) const { return at(angle, contact_corner(angle)); }

std::size_t TakeUp::contact_corner(double angle) const {
  const double rest = reduced(angle);
  std::size_t face = events_.back().face;
  for (const FaceEvent& event : events_) {
    if (event.angle > rest) break;
    face = event.face;
  }
  return corner_after_face(face);
}

}  // namespace hoopfield
