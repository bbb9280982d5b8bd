// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The film between the delivery and the load: how its force answers take-up and feed.
#pragma once

#include "models/delivery/control.hpp"
#include "models/film/film_law.hpp"
#include "sim/winding/span_film.hpp"
#include "sim/winding/take_up.hpp"

#include <memory>

namespace hoopfield {

/// Rotation from rest: constant angular acceleration over the first `ramp_angle`, constant speed afterwards.
struct Rotation {
  double speed = 0.0;       ///< rad/s, > 0
  double ramp_angle = 0.0;  ///< rad, >= 0
  [[nodiscard]] double angle_at(double time) const;
  [[nodiscard]] double speed_at(double time) const;
  [[nodiscard]] double time_at(double angle) const;
};

/// State of the span: a small value; copying it is a checkpoint.
struct SpanState {
  double mass = 0.0;  ///< unstretched film in the carriage's path and the free span, m on the roll
  SpanRow row;        ///< the film, from the roller to the load
  ControlState control;
  double force = 0.0;          ///< N; 0 when slack
  double slope = 0.0;          ///< elastic -d force / d ln(film added at the load), N
  double fed = 0.0;            ///< since the start, m on the roll
  double on_rounds = 0.0;      ///< taken by the corner rounds since the start, m on the roll
  std::size_t film_steps = 0;  ///< of the film law, since the start: what the steps of the span took
};

/// One point on the way, for traces.
struct SpanPoint {
  double time = 0.0;           ///< s
  double angle = 0.0;          ///< rad
  double force = 0.0;          ///< N
  double take_up_speed = 0.0;  ///< m/s
  double mass = 0.0;           ///< m on the roll
  double mass_rate = 0.0;      ///< feed less what the corner round takes, m/s on the roll
  SpanRow row;                 ///< the film, from the roller to the load
};

/// A stretch of time within which one corner is in contact and nothing jumps.
struct SpanInterval {
  std::size_t corner = 0;
  double begin = 0.0, end = 0.0;  ///< s
};

/// The free span: a row of bodies of film under one force (see SpanRowLaw for its mechanics).
///
/// Unstretched length is conserved: `dm/dt = feed - r (d psi/dt)/l`, the last term being film laid on the round of the
/// corner (r its radius, l the stretch of the film at the load); `F = section P(l, e)`. The bodies' references are film
/// that has crept for its time since the roller at the reference force, so a span held at that force keeps exactly the
/// state of control "constant"; what is lumped is only the ripple about it. Film near the roller is young and flows far
/// faster than film about to be laid; a single body of laid film, which cannot take up ripple by flowing, gave face
/// forces up to 1.3 % too high where film draws on between roller and load.
///
/// Step: the film's own closed-form step between two half steps of mixing, with the feed by the trapezoid rule solved
/// together with the control law: second order, stable for any branch rate. An explicit Runge-Kutta method would have
/// to follow the fastest dashpot (nanoseconds against seconds); a Rosenbrock method costs several times more per step.
/// Pinned by tests/unit/span_test.cpp and tests/convergence/winding_test.cpp.
class Span {
 public:
  Span(const TakeUp& take_up, const Rotation& rotation, SpanFilm film, SpanReference reference,
       std::shared_ptr<const DeliveryControl> control, double internal_path);

  /// Film at rest at a force, delivery at rest, at rotation angle 0.
  [[nodiscard]] SpanState at_rest(double force) const;

  /// Geometry and speeds at one instant.
  struct Node {
    double time = 0.0, angle = 0.0, speed = 0.0, length = 0.0, demand = 0.0, mean_demand = 0.0, round_speed = 0.0;
    double normal_angle = 0.0;  ///< of the film line, rad, unwrapped
  };
  /// One step: where it begins, and the reference film's own flow in half of it.
  struct Move {
    const SpanState* begin = nullptr;
    Node from, to;
    SpanRowLaw::Drift drift;
  };
  /// One interval in `steps` equal steps of time. `visit(state, point)` is called after each step
  /// and may change the state (slip of film at the corner). Throws SolverError where the film cannot follow.
  template <class Visit>
  SpanState advance(const SpanState& begin, const SpanInterval& interval, std::size_t steps, Visit&& visit) const;

  /// A point between two points of one leg, `share` of the time from the first: mass by the cubic through masses and
  /// rates, geometry exact, viscous strains straight, force by the film law.
  [[nodiscard]] SpanPoint between(const SpanPoint& a, const SpanPoint& b, double share, std::size_t corner) const;
  [[nodiscard]] SpanPoint point(const SpanState& state, double time, std::size_t corner) const;

  /// The parts of a step, for a step in which film slips into or out of the span as well.
  /// Film of the span at the end of a step that leaves `mass` in it and ends at the feed given; `row` is begin.row,
  /// with whatever slips already mixed in. Returns its stress (Pa, dashpots following).
  /// `unslipped`: the mass without what slips in at the load, m on the roll.
  RowAnswer move_film(SpanRow& row, const Move& move, double mass, double feed, double unslipped) const;
  [[nodiscard]] double mass_before_slip(const Move& move, double feed) const;  ///< m on the roll
  [[nodiscard]] ControlState control_after(const Move& move, double force) const;
  [[nodiscard]] bool holds_force() const { return control_->holds_force(); }
  /// Like advance(), with `visit(move, state)`.
  template <class Visit>
  SpanState march(const SpanState& begin, const SpanInterval& interval, std::size_t steps, Visit&& visit) const;
  [[nodiscard]] SpanPoint point(const SpanState& state, const Node& at) const;
  [[nodiscard]] double internal_path() const { return internal_path_; }
  [[nodiscard]] const SpanFilm& film() const { return row_law_.film(); }
  [[nodiscard]] const SpanRowLaw& row_law() const { return row_law_; }
  [[nodiscard]] const FilmState& reference() const { return row_law_.reference().laid; }
  [[nodiscard]] double usual_force() const { return usual_force_; }  ///< of the reference film, N
  [[nodiscard]] const TakeUp& take_up() const { return *take_up_; }
  [[nodiscard]] const Rotation& rotation() const { return rotation_; }

 private:
  [[nodiscard]] Node node(double time, std::size_t corner) const;
  [[nodiscard]] double left_by_round(const SpanState& begin, const Node& n0, const Node& n1) const;
  [[nodiscard]] double solve_mass(const SpanState& begin, const Node& n0, const Node& n1, double mass_guess,
                                  double force_at_guess, double slope, double precision, ControlState& control) const;
  [[nodiscard]] SpanState step(const Move& move) const;
  [[nodiscard]] SpanState held_step(const Move& move) const;

  const TakeUp* take_up_;
  Rotation rotation_;
  SpanRowLaw row_law_;
  std::shared_ptr<const DeliveryControl> control_;
  double internal_path_;
  double stretch_limit_;
  double usual_force_, usual_feed_;
};

template <class Visit>
SpanState Span::march(const SpanState& begin, const SpanInterval& interval, std::size_t steps, Visit&& visit) const {
  const double dt = (interval.end - interval.begin) / static_cast<double>(steps);
  Move move;
  const double fed = usual_feed_ * rotation_.speed_at(interval.end) / rotation_.speed * (interval.end - interval.begin);
  move.drift = row_law_.half_drift(dt, begin.mass, begin.mass + fed);
  SpanState state = begin;
  move.from = node(interval.begin, interval.corner);
  for (std::size_t i = 1; i <= steps; ++i) {
    move.to = node(i == steps ? interval.end : interval.begin + dt * static_cast<double>(i), interval.corner);
    move.begin = &state;
    SpanState end = step(move);
    visit(static_cast<const Move&>(move), end);
    state = end;
    move.from = move.to;
  }
  return state;
}

template <class Visit>
SpanState Span::advance(const SpanState& begin, const SpanInterval& interval, std::size_t steps, Visit&& visit) const {
  return march(begin, interval, steps, [&](const Move& move, SpanState& end) { visit(end, point(end, move.to)); });
}

}  // namespace hoopfield
