// SPDX-License-Identifier: BSD-3-Clause
#include "sim/winding/span.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace hoopfield {

namespace {

int turn_of(double angle) { return 1 + static_cast<int>(angle / (2.0 * std::numbers::pi)); }

}  // namespace

double Rotation::time_at(double angle) const {
  if (angle >= ramp_angle) return (angle + ramp_angle) / speed;
  return 2.0 * std::sqrt(ramp_angle * std::max(angle, 0.0)) / speed;
}

double Rotation::angle_at(double time) const {
  const double ramp_time = 2.0 * ramp_angle / speed;
  if (time >= ramp_time) return speed * time - ramp_angle;
  return 0.5 * speed * time * time / ramp_time;
}

double Rotation::speed_at(double time) const {
  const double ramp_time = 2.0 * ramp_angle / speed;
  return time >= ramp_time ? speed : speed * time / ramp_time;
}

Span::Span(const TakeUp& take_up, const Rotation& rotation, SpanFilm film, SpanReference reference,
           std::shared_ptr<const DeliveryControl> control, double internal_path)
    : take_up_(&take_up),
      rotation_(rotation),
      row_law_(std::move(film), std::move(reference)),
      control_(std::move(control)),
      internal_path_(internal_path),
      stretch_limit_(row_law_.film().law->stretch_limit(row_law_.film().mode)),
      usual_force_(row_law_.film().force(row_law_.reference().laid)),
      usual_feed_(rotation.speed * take_up.perimeter() / (2.0 * std::numbers::pi * row_law_.reference().laid.stretch)) {
}

SpanState Span::at_rest(double force) const {
  SpanState state;
  const double length = internal_path_ + take_up_->at(0.0).span;
  state.row = row_law_.at_stress(force / film().section, length);
  state.mass = row_law_.mass(state.row, length);
  state.force = std::max(film().force(state.row.laid), 0.0);
  state.slope = row_law_.slope(state.row, state.mass) * film().section;
  const Node start = node(0.0, take_up_->contact_corner(0.0));
  // The delivery has seen the mean take-up; a control without lag answers the one at angle 0.
  state.control = control_->settled({start.mean_demand, state.force, start.speed, start.mean_demand});
  const ControlSignal now{start.demand, state.force, start.speed, start.mean_demand};
  state.control = control_->advance(state.control, now, now, 0.0);
  return state;
}

Span::Node Span::node(double time, std::size_t corner) const {
  Node n;
  n.time = time;
  n.angle = rotation_.angle_at(time);
  n.speed = rotation_.speed_at(time);
  const TakeUpPoint at = take_up_->at(n.angle, corner);
  n.length = internal_path_ + at.span;
  n.demand = n.speed * at.lever_arm;
  n.mean_demand = n.speed * take_up_->perimeter() / (2.0 * std::numbers::pi);
  n.normal_angle = at.normal_angle;
  n.round_speed = n.speed * at.wrap_rate * take_up_->plan().corner_radius;
  return n;
}

namespace {

/// ln(a/b), by its series in (a - b)/(a + b) where the two are close.
double log_ratio(double a, double b) {
  const double z = (a - b) / (a + b), square = z * z;
  if (square > 1e-4) return std::log(a / b);
  return 2.0 * z * (1.0 + square * (1.0 / 3.0 + square * (0.2 + square / 7.0)));
}

}  // namespace

/// Share of the film that the corner round leaves at the end of a step. It takes film of the stretch at the load, which
/// is taken to keep its ratio to the mean stretch of the span.
double Span::left_by_round(const SpanState& begin, const Node& n0, const Node& n1) const {
  const double ratio = row_law_.stretch_at_load(begin.row, begin.mass) * begin.mass / n0.length;
  return 1.0 / (1.0 + 0.5 * (n1.time - n0.time) * n1.round_speed / (ratio * n1.length));
}

/// Film in the span at the end of a step: conservation, trapezoid feed, the control law and a force linear in ln l
/// about the guess, solved together.
double Span::solve_mass(const SpanState& begin, const Node& n0, const Node& n1, double mass_guess,
                        double force_at_guess, double slope, double precision, ControlState& control) const {
  const double half = 0.5 * (n1.time - n0.time);
  const double kept =
      begin.mass + half * (begin.control.feed - n0.round_speed / row_law_.stretch_at_load(begin.row, begin.mass));
  const double share = left_by_round(begin, n0, n1);
  const ControlSignal s0{n0.demand, begin.force, n0.speed, n0.mean_demand};
  const auto miss = [&](double mass) {
    const double force = std::max(force_at_guess + slope * log_ratio(mass_guess, mass), 0.0);
    control = control_->advance(begin.control, s0, {n1.demand, force, n1.speed, n1.mean_demand}, 2.0 * half);
    return mass - std::max((kept + half * control.feed) * share, 1e-9 * begin.mass);
  };
  double m0 = mass_guess, g0 = miss(m0);
  double m1 = m0 - g0;
  for (int i = 0; i < 30 && std::abs(m1 - m0) > precision * m0; ++i) {
    const double g1 = miss(m1);
    // The miss rises with the mass; a secant that does not is replaced by a plain substitution.
    const double rise = g1 != g0 ? (g1 - g0) / (m1 - m0) : 1.0;
    m0 = m1;
    g0 = g1;
    m1 -= g1 / (rise > 0.1 ? rise : 1.0);
  }
  (void)miss(m1);
  return m1;
}

RowAnswer Span::move_film(SpanRow& row, const Move& move, double mass, double feed, double unslipped) const {
  SpanRowLaw::Step step;
  step.dt = move.to.time - move.from.time;
  // The reference film flows on as fast as film comes; film standing still is not replaced by fresh film.
  step.pace = 0.5 * (move.begin->control.feed + feed) / usual_feed_;
  step.begin_mass = move.begin->mass;
  step.begin_feed = move.begin->control.feed;
  step.end_mass = mass;
  step.end_mass_unslipped = unslipped;
  step.end_feed = feed;
  step.end_length = move.to.length;
  step.drift = &move.drift;
  return row_law_.move(row, step);
}

double Span::mass_before_slip(const Move& move, double feed) const {
  const SpanState& begin = *move.begin;
  if (holds_force()) return move.to.length / begin.row.laid.stretch;
  const double half = 0.5 * (move.to.time - move.from.time);
  const double kept = begin.mass + half * (begin.control.feed -
                                           move.from.round_speed / row_law_.stretch_at_load(begin.row, begin.mass));
  return (kept + half * feed) * left_by_round(begin, move.from, move.to);
}

ControlState Span::control_after(const Move& move, double force) const {
  const Node &n0 = move.from, &n1 = move.to;
  return control_->advance(move.begin->control, {n0.demand, move.begin->force, n0.speed, n0.mean_demand},
                           {n1.demand, force, n1.speed, n1.mean_demand}, n1.time - n0.time);
}

/// The set force whatever happens: as much film as the length asks for.
SpanState Span::held_step(const Move& move) const {
  SpanState end = *move.begin;
  end.mass = move.to.length / end.row.laid.stretch;
  const double taken =
      0.5 * (move.to.time - move.from.time) * (move.from.round_speed + move.to.round_speed) / end.row.laid.stretch;
  end.on_rounds += taken;
  end.fed += end.mass - move.begin->mass + taken;
  return end;
}

SpanState Span::step(const Move& move) const {
  if (holds_force()) return held_step(move);
  const SpanState& begin = *move.begin;
  const Node &n0 = move.from, &n1 = move.to;
  SpanState end = begin;
  ControlState control;
  // The first guess of the force is the film at the beginning, elastically at the new length.
  const double held_mass = begin.mass * n1.length / n0.length;
  const double mass = solve_mass(begin, n0, n1, held_mass, begin.force, begin.slope, 1e-7, control);
  if (!(n1.length / mass < stretch_limit_ && mass > row_law_.young_mass())) {
    throw FilmLimitError("the film between delivery and load would be stretched past its limit",
                         "lower the speed of rotation, let the delivery follow faster, or move it out", n1.time,
                         turn_of(n1.angle));
  }
  const RowAnswer moved = move_film(end.row, move, mass, control.feed, mass);
  const double force = moved.stress.nominal * film().section;
  if (!std::isfinite(force)) {
    throw SolverError("the force in the span is not a number", "", n1.time, turn_of(n1.angle));
  }
  // The true force moves the feed a little: a second solve, and the film follows by the elastic jump.
  end.mass = solve_mass(begin, n0, n1, mass, force, row_law_.slope(end.row, mass) * film().section, 1e-13, control);
  row_law_.age(end.row, mass, end.mass);
  const RowAnswer settled = row_law_.settle(end.row, end.mass, n1.length);
  end.film_steps += moved.film_steps + settled.film_steps;
  end.slope = settled.stress.slope * film().section;
  end.force = std::max(settled.stress.nominal * film().section, 0.0);
  end.control = control;
  end.fed += 0.5 * (n1.time - n0.time) * (begin.control.feed + control.feed);
  end.on_rounds += begin.mass - end.mass + end.fed - begin.fed;
  return end;
}

SpanPoint Span::point(const SpanState& state, const Node& at) const {
  const double rate = state.control.feed - at.round_speed / row_law_.stretch_at_load(state.row, state.mass);
  return {at.time, at.angle, state.force, at.demand, state.mass, rate, state.row};
}

SpanPoint Span::point(const SpanState& state, double time, std::size_t corner) const {
  return point(state, node(time, corner));
}

SpanPoint Span::between(const SpanPoint& a, const SpanPoint& b, double share, std::size_t corner) const {
  const double dt = b.time - a.time, s = share, r = 1.0 - share;
  const Node at = node(a.time + s * dt, corner);
  SpanPoint p{at.time, at.angle, 0.0, at.demand, 0.0, r * a.mass_rate + s * b.mass_rate, {}};
  if (holds_force()) {
    p.row = a.row;
    p.force = a.force;
    p.mass = at.length / p.row.laid.stretch;
    return p;
  }
  p.mass = r * r * (1.0 + 2.0 * s) * a.mass + s * s * (1.0 + 2.0 * r) * b.mass +
           s * r * dt * (r * a.mass_rate - s * b.mass_rate);
  p.row = row_law_.between(a.row, b.row, share);
  (void)row_law_.settle(p.row, p.mass, at.length);
  // What extrapolation knew better than the film at the two points is carried over.
  const double off_a = a.force - std::max(film().force(a.row.laid), 0.0);
  const double off_b = b.force - std::max(film().force(b.row.laid), 0.0);
  p.force = std::max(film().force(p.row.laid) + r * off_a + s * off_b, 0.0);
  return p;
}

}  // namespace hoopfield
