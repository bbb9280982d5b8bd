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
      internal_path_(internal_path) {
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k)
    reference_viscous_[k] = std::log(reference_.stretch) - reference_.strain[k];
}

SpanState Span::at_rest(double force) const {
  SpanState state;
  state.film = reference_;
  const double stretch = stretch_at_stress(*film_.law, reference_, force / film_.section, film_.mode, film_.temperature);
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

/// Half the reference film's own flow over a step, such that drift/2, the film law's step at rest and drift/2 together give the
/// reference back: with the share `q = e_1/e_0` left after dt at held stretch, `drift/2 = e_0 (1-q)/(1+q)`.
Span::Strains Span::half_drift(double dt) const {
  Strains drift{};
  if (film_.law->branch_count() == 0) return drift;
  FilmState rested = reference_;
  film_.law->step(rested, reference_.stretch, dt, film_.mode, film_.temperature, film_.temperature);
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) {
    const double sum = reference_.strain[k] + rested.strain[k];
    if (sum != 0.0) drift[k] = reference_.strain[k] * (reference_.strain[k] - rested.strain[k]) / sum;
  }
  return drift;
}

void Span::mix(FilmState& film, double share, double pace, const Strains& drift) const {
  const double log_stretch = std::log(film.stretch);
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) {
    const double fresh = log_stretch - reference_viscous_[k];
    film.strain[k] += pace * drift[k] + share * (fresh - film.strain[k]);
  }
}

/// ln l at the end of a step: conservation of film, trapezoid feed, control law and a force linear in ln l about the guess.
double Span::solve_stretch(const SpanState& begin, const Node& n0, const Node& n1, double log_guess,
                           double force_at_guess, double slope, ControlState& control) const {
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
  for (int i = 0; i < 30 && std::abs(x1 - x0) > 1e-14; ++i) {
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
  const double log_first = solve_stretch(begin, n0, n1, log_begin, begin.force, begin.slope, control);
  const double stretch = std::exp(log_first);
  if (!(stretch < film_.law->stretch_limit(film_.mode))) {
    throw SolverError("the film between delivery and load would be stretched past its limit",
                      "lower the speed of rotation, let the delivery follow faster, or move it out", n1.time,
                      turn_of(n1.angle));
  }
  const double pace = 0.5 * (n0.speed + n1.speed) / rotation_.speed;  // film standing still is not replaced by fresh film
  mix(end.film, -std::expm1(-0.5 * dt * begin.control.feed / begin.mass), pace, drift);
  film_.law->step(end.film, stretch, dt, film_.mode, film_.temperature, film_.temperature);
  mix(end.film, -std::expm1(-0.5 * dt * control.feed * stretch / n1.length), pace, drift);
  const FilmStress stress = film_.law->stress(end.film, film_.mode, film_.temperature);
  if (!std::isfinite(stress.nominal)) {
    throw SolverError("the force in the span is not a number", "", n1.time, turn_of(n1.angle));
  }
  // The true force moves the feed a little: a second solve, and the film follows by the elastic jump.
  end.slope = stress.slope * film_.section;
  const double force = stress.nominal * film_.section;
  const double log_end = solve_stretch(begin, n0, n1, log_first, force, end.slope, control);
  const double jump = log_end - log_first;
  end.film.stretch = stretch * std::exp(jump);
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) end.film.strain[k] += jump;
  end.force = std::max(force + end.slope * jump, 0.0);
  end.mass = n1.length / end.film.stretch;
  end.control = control;
  return end;
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
