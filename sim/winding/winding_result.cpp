// SPDX-License-Identifier: BSD-3-Clause
// What is read off a wound wrap: the trace of a settled turn, force statistics, film used.
#include "sim/winding/winding.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace hoopfield {

namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;
constexpr double right_angle = 0.5 * std::numbers::pi;
constexpr std::size_t trace_points = 48, first_parts = 12;

}  // namespace

namespace {

/// Extremes of a sampled curve, with the vertex of the parabola through three points where the middle one is extreme.
void widen_extremes(const std::vector<SpanPoint>& p, double& least, double& greatest) {
  for (std::size_t i = 0; i < p.size(); ++i) {
    least = std::min(least, p[i].force);
    greatest = std::max(greatest, p[i].force);
    if (i == 0 || i + 1 == p.size()) continue;
    const double left = p[i - 1].time - p[i].time, right = p[i + 1].time - p[i].time;
    if (!(left < 0.0 && right > 0.0)) continue;
    const double fl = p[i - 1].force - p[i].force, fr = p[i + 1].force - p[i].force;
    if (fl * fr <= 0.0) continue;  // not extreme
    const double curve = (fr / right - fl / left) / (right - left);
    const double slope = fl / left - curve * left;
    const double vertex = p[i].force - 0.25 * slope * slope / curve;
    if (vertex > 0.0 || p[i].force == 0.0) {
      least = std::min(least, std::max(vertex, 0.0));
      greatest = std::max(greatest, vertex);
    }
  }
}

}  // namespace

/// A leg with enough points to draw and to find its extremes by.
std::vector<SpanPoint> Winder::dense(const std::vector<SpanPoint>& leg) const {
  std::vector<SpanPoint> out;
  const std::size_t parts = leg.size() > trace_points ? 1 : trace_points / std::max<std::size_t>(leg.size() - 1, 1);
  for (std::size_t i = 0; i < leg.size(); ++i) {
    const bool is_smooth = i > 0 && std::isfinite(leg[i - 1].mass_rate) && std::isfinite(leg[i].mass_rate);
    if (is_smooth && leg[i].time > leg[i - 1].time) {
      const std::size_t corner = take_up_.contact_corner(0.5 * (leg[i - 1].angle + leg[i].angle));
      // The force turns most sharply just after an event.
      const std::size_t pieces = i == 1 ? std::max(parts, first_parts) : parts;
      for (std::size_t k = 1; k < pieces; ++k) {
        const double share = static_cast<double>(k) / static_cast<double>(pieces);
        out.push_back(span_->between(leg[i - 1], leg[i], i == 1 ? share * share : share, corner));
      }
    }
    out.push_back(leg[i]);
  }
  return out;
}

/// Stretch of what was laid: the newest turn may still slip where film slips on film, so the one before counts then.
void Winder::find_stretches(const std::vector<LaidFace>& faces, WindingResult& out) const {
  out.stretch_mean = out.stretch_min = out.stretch_max = span_->reference().stretch;
  if (faces.empty()) return;
  out.turn_end = faces.size() - (slips() && faces.size() >= 8 ? 4 : 0);
  out.turn_begin = out.turn_end - std::min<std::size_t>(out.turn_end, 4);
  // The round before the first face is cut short by the clamp.
  const double round = out.turn_begin > 0 ? right_angle * take_up_.plan().corner_radius : 0.0;
  double length = 0.0, mass = 0.0;
  for (std::size_t i = out.turn_begin; i < out.turn_end; ++i) {
    length += faces[i].length + round;
    mass += faces[i].mass + (out.turn_begin > 0 ? faces[i].round : 0.0);
  }
  out.stretch_mean = length / mass;
  out.stretch_min = out.stretch_max = faces[0].film.stretch;
  for (const LaidFace& face : faces) {
    out.stretch_min = std::min(out.stretch_min, face.film.stretch);
    out.stretch_max = std::max(out.stretch_max, face.film.stretch);
  }
}

WindingResult Winder::result(WindingState state) const {
  WindingResult out;
  out.force_set = input_.force;
  out.reference = span_->reference();
  out.went_slack = state.went_slack;
  out.least_force = state.least_force;
  out.greatest_force = state.greatest_force;
  out.end_time = state.time;
  out.counters = state.counters;
  // The trace is the last four whole legs: a leg cut short by the end of the wrap counts only when there are fewer.
  const bool cut = state.faces.empty() || state.faces.back().angle < end_angle_;
  if (state.trace.size() == 5) state.trace.erase(cut ? state.trace.end() - 1 : state.trace.begin());
  double time = 0.0, impulse = 0.0;
  out.force_min = std::numeric_limits<double>::infinity();
  for (const auto& computed : state.trace) {
    const std::vector<SpanPoint> leg = dense(computed);
    widen_extremes(leg, out.force_min, out.force_max);
    for (std::size_t i = 0; i < leg.size(); ++i) {
      if (i > 0) {
        time += leg[i].time - leg[i - 1].time;
        impulse += 0.5 * (leg[i].force + leg[i - 1].force) * (leg[i].time - leg[i - 1].time);
      }
      SpanPoint p = leg[i];
      p.angle = std::fmod(p.angle, two_pi);
      out.trace.push_back(p);
    }
  }
  out.force_mean = time > 0.0 ? impulse / time : input_.force;
  out.least_force = std::min(out.least_force, out.force_min);
  out.greatest_force = std::max(out.greatest_force, out.force_max);
  std::stable_sort(out.trace.begin(), out.trace.end(),
                   [](const SpanPoint& a, const SpanPoint& b) { return a.angle < b.angle; });
  for (const LaidFace& face : state.faces) out.film_used += face.mass + face.round;
  out.film_fed = state.span.fed;
  find_stretches(state.faces, out);
  out.film_used += take_up_.at(end_angle_).span / state.span.row.laid.stretch;
  out.faces = std::move(state.faces);
  return out;
}

}  // namespace hoopfield
