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

double SpanFilm::force(const FilmState& state) const { return section * law->stress(state, mode, temperature).nominal; }

Span::Span(const TakeUp& take_up, const Rotation& rotation, SpanFilm film, FilmState reference,
           std::shared_ptr<const DeliveryControl> control, double internal_path)
    : take_up_(&take_up),
      rotation_(rotation),
      film_(std::move(film)),
      reference_(reference),
      control_(std::move(control)),
      internal_path_(internal_path),
      stretch_limit_(film_.law->stretch_limit(film_.mode)),
      usual_force_(film_.force(reference_)) {
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k)
    reference_viscous_[k] = std::log(reference_.stretch) - reference_.strain[k];
}

SpanState Span::at_rest(double force) const {
  SpanState state;
  state.film = reference_;
  // The reference film itself when it has that force, not to the rounding of a second solve.
  const bool same = std::abs(film_.force(reference_) - force) < 1e-9 * force;
  const double nominal = force / film_.section;
  const double stretch =
      same ? reference_.stretch : stretch_at_stress(*film_.law, reference_, nominal, film_.mode, film_.temperature);
  const FilmStress stress = film_.law->step(state.film, stretch, 0.0, film_.mode, film_.temperature, film_.temperature);
  state.mass = (internal_path_ + take_up_->at(0.0).span) / stretch;
  state.force = std::max(stress.nominal, 0.0) * film_.section;
  state.slope = stress.slope * film_.section;
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

namespace {

/// ln(a/b), by its series in (a - b)/(a + b) where the two are close.
double log_ratio(double a, double b) {
  const double z = (a - b) / (a + b), square = z * z;
  if (square > 1e-4) return std::log(a / b);
  return 2.0 * z * (1.0 + square * (1.0 / 3.0 + square * (0.2 + square / 7.0)));
}

}  // namespace

/// Film in the span at the end of a step: conservation, trapezoid feed, the control law and a force linear in ln l
/// about the guess, solved together.
double Span::solve_mass(const SpanState& begin, const Node& n0, const Node& n1, double mass_guess,
                        double force_at_guess, double slope, double precision, ControlState& control) const {
  const double half = 0.5 * (n1.time - n0.time);
  const double kept = begin.mass + half * (begin.control.feed - n0.round_speed / begin.film.stretch);
  const double share = 1.0 / (1.0 + half * n1.round_speed / n1.length);  // what the corner round takes at the end
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

FilmStress Span::move_film(FilmState& film, const Move& move, double mass, double feed) const {
  const SpanState& begin = *move.begin;
  const double dt = move.to.time - move.from.time;
  const double stretch = move.to.length / mass;
  // Film standing still is not replaced by fresh film: the drift keeps pace with the rotation.
  const double pace = 0.5 * (move.from.speed + move.to.speed) / rotation_.speed;
  mix(film, std::log(begin.film.stretch), -std::expm1(-0.5 * dt * begin.control.feed / begin.mass));
  add_drift(film, pace, move.drift);
  const FilmStress following = film_.law->step(film, stretch, dt, film_.mode, film_.temperature, film_.temperature);
  add_drift(film, pace, move.drift);
  mix(film, std::log(stretch), -std::expm1(-0.5 * dt * feed / mass));
  return {film_.law->stress(film, film_.mode, film_.temperature).nominal, following.slope};
}

double Span::mass_before_slip(const Move& move, double feed) const {
  const SpanState& begin = *move.begin;
  if (holds_force()) return move.to.length / begin.film.stretch;
  const double half = 0.5 * (move.to.time - move.from.time);
  const double kept = begin.mass + half * (begin.control.feed - move.from.round_speed / begin.film.stretch);
  return (kept + half * feed) / (1.0 + half * move.to.round_speed / move.to.length);
}

ControlState Span::control_after(const Move& move, double force) const {
  const Node &n0 = move.from, &n1 = move.to;
  return control_->advance(move.begin->control, {n0.demand, move.begin->force, n0.speed, n0.mean_demand},
                           {n1.demand, force, n1.speed, n1.mean_demand}, n1.time - n0.time);
}

/// The set force whatever happens: as much film as the length asks for.
SpanState Span::held_step(const Move& move) const {
  SpanState end = *move.begin;
  end.mass = move.to.length / end.film.stretch;
  const double taken =
      0.5 * (move.to.time - move.from.time) * (move.from.round_speed + move.to.round_speed) / end.film.stretch;
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
  if (!(n1.length / mass < stretch_limit_)) {
    throw SolverError("the film between delivery and load would be stretched past its limit",
                      "lower the speed of rotation, let the delivery follow faster, or move it out", n1.time,
                      turn_of(n1.angle));
  }
  (void)move_film(end.film, move, mass, control.feed);
  const FilmStress stress = film_.law->stress(end.film, film_.mode, film_.temperature);
  if (!std::isfinite(stress.nominal)) {
    throw SolverError("the force in the span is not a number", "", n1.time, turn_of(n1.angle));
  }
  // The true force moves the feed a little: a second solve, and the film follows by the elastic jump.
  end.slope = stress.slope * film_.section;
  const double force = stress.nominal * film_.section;
  end.mass = solve_mass(begin, n0, n1, mass, force, end.slope, 1e-13, control);
  const double jump = log_ratio(mass, end.mass);
  end.film.stretch = n1.length / end.mass;
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) end.film.strain[k] += jump;
  end.force = std::max(force + end.slope * jump, 0.0);
  end.control = control;
  const double half = 0.5 * (n1.time - n0.time);
  end.fed += half * (begin.control.feed + control.feed);
  end.on_rounds += half * (n0.round_speed / begin.film.stretch + n1.round_speed / end.film.stretch);
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
  if (holds_force()) {
    p.film = a.film;
    p.force = a.force;
    p.mass = at.length / p.film.stretch;
    return p;
  }
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

}  // namespace hoopfield
