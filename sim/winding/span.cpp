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

double SpanFilm::force(const FilmState& state) const {
  return section * law->stress(state, mode, temperature).nominal;
}

Span::Span(const TakeUp& take_up, const Rotation& rotation, SpanFilm film, FilmState reference,
           std::shared_ptr<const DeliveryControl> control, double internal_path)
    : take_up_(&take_up),
      rotation_(rotation),
      film_(std::move(film)),
      reference_(reference),
      control_(std::move(control)),
      internal_path_(internal_path),
      stretch_limit_(film_.law->stretch_limit(film_.mode)) {
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k)
    reference_viscous_[k] = std::log(reference_.stretch) - reference_.strain[k];
}

SpanState Span::at_rest(double force) const {
  SpanState state;
  state.film = reference_;
  // The reference film itself when it has that force, not to the rounding of a second solve.
  const bool same = std::abs(film_.force(reference_) - force) < 1e-9 * force;
  const double nominal = force / film_.section;
  const double stretch = same ? reference_.stretch
                              : stretch_at_stress(*film_.law, reference_, nominal, film_.mode, film_.temperature);
  const FilmStress stress = film_.law->step(state.film, stretch, 0.0, film_.mode, film_.temperature, film_.temperature);
  state.mass = (internal_path_ + take_up_->at(0.0).span) / stretch;
  state.force = std::max(stress.nominal, 0.0) * film_.section;
  state.slope = stress.slope * film_.section;
  const Node start = node(0.0, take_up_->contact_corner(0.0));
  state.control = control_->settled({start.demand, state.force, start.speed});
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
  n.round_speed = n.speed * at.wrap_rate * take_up_->plan().corner_radius;
  return n;
}

/// Half the reference film's own flow over a step: the shift x of each branch strain for which shift, film law at held
/// stretch and shift again give the reference back, `S(e + x) + x = e`. The left side rises with x by a rate between 1
/// and 2, so a secant from there settles in a few evaluations; symmetric, hence the even error expansion of the step is
/// kept.
Span::Strains Span::half_drift(double dt) const {
  Strains shift{}, before{}, miss_before{};
  const std::size_t branches = film_.law->branch_count();
  for (int i = 0; i < 12 && branches > 0; ++i) {
    FilmState rested = reference_;
    for (std::size_t k = 0; k < branches; ++k) rested.strain[k] += shift[k];
    film_.law->step(rested, reference_.stretch, dt, film_.mode, film_.temperature, film_.temperature);
    double greatest = 0.0;
    for (std::size_t k = 0; k < branches; ++k) {
      const double miss = rested.strain[k] + shift[k] - reference_.strain[k];
      const double moved = shift[k] - before[k];
      const double rise = moved != 0.0 ? std::clamp((miss - miss_before[k]) / moved, 1.0, 2.0) : 2.0;
      before[k] = shift[k];
      miss_before[k] = miss;
      shift[k] -= miss / rise;
      greatest = std::max(greatest, std::abs(miss));
    }
    if (greatest < 1e-11) break;
  }
  return shift;
}

/// Fresh film comes in at the same force and stretch: only its viscous strains differ.
void Span::mix(FilmState& film, double log_stretch, double share) const {
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k)
    film.strain[k] += share * (log_stretch - reference_viscous_[k] - film.strain[k]);
}

void Span::add_drift(FilmState& film, double pace, const Strains& drift) const {
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) film.strain[k] += pace * drift[k];
}

/// ln l at the end of a step: conservation of film, trapezoid feed, control law and a force linear in ln l about the
/// guess.
double Span::solve_stretch(const SpanState& begin, const Node& n0, const Node& n1, double log_guess,
                           double force_at_guess, double slope, double precision, ControlState& control) const {
  const double half = 0.5 * (n1.time - n0.time);
  const double kept = begin.mass + half * (begin.control.feed - n0.round_speed / begin.film.stretch);
  const ControlSignal s0{n0.demand, begin.force, n0.speed};
  const auto miss = [&](double x) {
    const ControlSignal s1{n1.demand, std::max(force_at_guess + slope * (x - log_guess), 0.0), n1.speed};
    control = control_->advance(begin.control, s0, s1, 2.0 * half);
    const double mass = kept + half * (control.feed - n1.round_speed * std::exp(-x));
    return x - std::log(n1.length / std::max(mass, 1e-9 * begin.mass));
  };
  double x0 = log_guess, g0 = miss(x0);
  double x1 = x0 - g0;
  for (int i = 0; i < 30 && std::abs(x1 - x0) > precision; ++i) {
    const double g1 = miss(x1);
    // The miss rises with x; a secant outside that is replaced by a plain substitution.
    const double rise = g1 != g0 ? (g1 - g0) / (x1 - x0) : 1.0;
    x0 = x1;
    g0 = g1;
    x1 -= g1 / (rise > 0.1 ? rise : 1.0);
  }
  (void)miss(x1);
  return x1;
}

SpanState Span::step(const SpanState& begin, const Node& n0, const Node& n1, const Strains& drift) const {
  const double dt = n1.time - n0.time;
  SpanState end = begin;
  ControlState control;
  const double log_begin = std::log(begin.film.stretch);
  const double log_first = solve_stretch(begin, n0, n1, log_begin, begin.force, begin.slope, 1e-7, control);
  const double stretch = std::exp(log_first);
  if (!(stretch < stretch_limit_)) {
    throw SolverError("the film between delivery and load would be stretched past its limit",
                      "lower the speed of rotation, let the delivery follow faster, or move it out", n1.time,
                      turn_of(n1.angle));
  }
  // Film standing still is not replaced by fresh film: the drift keeps pace with the rotation.
  const double pace = 0.5 * (n0.speed + n1.speed) / rotation_.speed;
  mix(end.film, log_begin, -std::expm1(-0.5 * dt * begin.control.feed / begin.mass));
  add_drift(end.film, pace, drift);
  film_.law->step(end.film, stretch, dt, film_.mode, film_.temperature, film_.temperature);
  add_drift(end.film, pace, drift);
  mix(end.film, log_first, -std::expm1(-0.5 * dt * control.feed * stretch / n1.length));
  const FilmStress stress = film_.law->stress(end.film, film_.mode, film_.temperature);
  if (!std::isfinite(stress.nominal)) {
    throw SolverError("the force in the span is not a number", "", n1.time, turn_of(n1.angle));
  }
  // The true force moves the feed a little: a second solve, and the film follows by the elastic jump.
  end.slope = stress.slope * film_.section;
  const double force = stress.nominal * film_.section;
  const double log_end = solve_stretch(begin, n0, n1, log_first, force, end.slope, 1e-13, control);
  const double jump = log_end - log_first;
  end.film.stretch = stretch * std::exp(jump);
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) end.film.strain[k] += jump;
  end.force = std::max(force + end.slope * jump, 0.0);
  end.mass = n1.length / end.film.stretch;
  end.control = control;
  return end;
}

SpanPoint Span::point(const SpanState& state, const Node& at) {
  const double rate = state.control.feed - at.round_speed / state.film.stretch;
  return {at.time, at.angle, state.force, at.demand, state.mass, rate, state.film};
}

SpanPoint Span::point(const SpanState& state, double time, std::size_t corner) const {
  return point(state, node(time, corner));
}

SpanPoint Span::between(const SpanPoint& a, const SpanPoint& b, double share, std::size_t corner) const {
  const double dt = b.time - a.time, s = share, r = 1.0 - share;
  const Node at = node(a.time + s * dt, corner);
  SpanPoint p{at.time, at.angle, 0.0, at.demand, 0.0, r * a.mass_rate + s * b.mass_rate, {}};
  p.mass = r * r * (1.0 + 2.0 * s) * a.mass + s * s * (1.0 + 2.0 * r) * b.mass +
           s * r * dt * (r * a.mass_rate - s * b.mass_rate);
  p.film.stretch = at.length / p.mass;
  const double from_a = std::log(p.film.stretch / a.film.stretch), from_b = std::log(p.film.stretch / b.film.stretch);
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k)
    p.film.strain[k] = r * (a.film.strain[k] + from_a) + s * (b.film.strain[k] + from_b);
  // What extrapolation knew better than the film at the two points is carried over.
  const double off_a = a.force - std::max(film_.force(a.film), 0.0);
  const double off_b = b.force - std::max(film_.force(b.film), 0.0);
  p.force = std::max(film_.force(p.film) + r * off_a + s * off_b, 0.0);
  return p;
}

void Span::refresh(SpanState& state, double length, const SpanPoint& at) const {
  const double stretch = length / state.mass;
  const FilmStress stress =
      film_.law->step(state.film, stretch, 0.0, film_.mode, film_.temperature, film_.temperature);
  state.force = std::max(stress.nominal, 0.0) * film_.section;
  state.slope = stress.slope * film_.section;
  const ControlSignal signal{at.take_up_speed, state.force, rotation_.speed_at(at.time)};
  state.control = control_->advance(state.control, signal, signal, 0.0);
}

}  // namespace hoopfield
