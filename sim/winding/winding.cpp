// SPDX-License-Identifier: BSD-3-Clause
#include "sim/winding/winding.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <utility>

namespace hoopfield {

namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;
constexpr double right_angle = 0.5 * std::numbers::pi;
constexpr double stuck = std::numeric_limits<double>::infinity();
constexpr std::size_t start_steps = 8, first_steps = 2, least_steps = 2, most_steps = 4096, held_points = 48;

}  // namespace

double Winder::event_angle(std::size_t index) const {
  const std::size_t whole_turns = (index + skipped_) / 4;
  return event(index).angle + two_pi * static_cast<double>(whole_turns);
}

double Winder::friction(std::size_t crossing) const {
  const bool on_load = static_cast<double>(crossing) < 4.0 * input_.turns_on_load;
  return (on_load ? input_.film_on_load : input_.film_on_film).value_or(stuck);
}

bool Winder::slips() const { return std::isfinite(friction(static_cast<std::size_t>(4.0 * input_.turns_on_load) + 8)); }

WindingState Winder::start() const {
  WindingState state;
  const bool fixed = input_.control.kind == WindingControl::Kind::fixed_length;
  state.span = span_->at_rest(fixed ? span_->film().force(span_->reference()) : input_.force);
  state.steps.fill(first_steps);
  state.steps[0] = start_steps;  // the start is long and uneven: two steps could both miss it
  state.least_force = state.greatest_force = state.span.force;
  return state;
}

/// One solution of a leg, kept or thrown away as a whole.
struct Winder::Leg {
  SpanState span;
  std::vector<LaidFace> live;  ///< the faces that can still slip
  std::vector<SpanPoint> points;
  std::size_t slips = 0;
};

Winder::Leg Winder::try_leg(const WindingState& state, const SpanInterval& interval, std::size_t steps) const {
  Leg leg;
  std::size_t live = state.faces.size();
  if (input_.covered_film_sticks) live = std::min<std::size_t>(live, 4);
  const bool can_slip = live > 0 && std::isfinite(friction(state.events - 1));
  if (can_slip) leg.live.assign(state.faces.end() - static_cast<std::ptrdiff_t>(live), state.faces.end());
  leg.points.reserve(steps + 1);
  leg.points.push_back(span_->point(state.span, interval.begin, interval.corner));
  const double flush_normal =
      can_slip ? take_up_.at(event_angle(state.events - 1), interval.corner).normal_angle : 0.0;
  const auto visit = [&](SpanState& span, SpanPoint point) {
    if (can_slip) {
      const TakeUpPoint at = take_up_.at(point.angle, interval.corner);
      const double limit = friction(state.events - 1) * (flush_normal - at.normal_angle);
      const double length = span_->internal_path() + at.span;
      if (slip_laid_film(leg.live, 0, limit, span_->film(), length, span)) {
        span_->refresh(span, length, point);
        point = span_->point(span, point.time, interval.corner);
        ++leg.slips;
      }
    }
    leg.points.push_back(point);
  };
  leg.span = span_->advance(state.span, interval, steps, visit);
  return leg;
}

/// What two solutions of a second-order step tell together: `fine + (fine - coarse)/3`, at points between by the mean
/// of the corrections beside them. The even error expansion of the trapezoid rule makes it fourth order while nothing
/// jumps within the leg.
Winder::Leg Winder::extrapolated(const Leg& coarse, const Leg& fine) const {
  const auto better = [](double c, double f) { return f + (f - c) / 3.0; };
  Leg leg;
  leg.slips = coarse.slips + fine.slips;
  leg.points = fine.points;
  double last = 0.0;
  for (std::size_t i = 1; i < coarse.points.size(); ++i) {
    const double correction = (fine.points[2 * i].force - coarse.points[i].force) / 3.0;
    leg.points[2 * i].force = std::max(leg.points[2 * i].force + correction, 0.0);
    leg.points[2 * i - 1].force = std::max(leg.points[2 * i - 1].force + 0.5 * (last + correction), 0.0);
    last = correction;
  }
  leg.span = fine.span;
  leg.span.film.stretch *= std::cbrt(fine.span.film.stretch / coarse.span.film.stretch);
  for (std::size_t k = 0; k < input_.law->branch_count(); ++k)
    leg.span.film.strain[k] = better(coarse.span.film.strain[k], fine.span.film.strain[k]);
  leg.span.mass *= fine.span.film.stretch / leg.span.film.stretch;
  leg.span.control.lagged_demand = better(coarse.span.control.lagged_demand, fine.span.control.lagged_demand);
  leg.span.control.feed = std::max(better(coarse.span.control.feed, fine.span.control.feed), 0.0);
  return leg;
}

namespace {

/// Greatest difference in force at every `stride`-th point of a solution and the same instants of one twice as fine.
double difference(const std::vector<SpanPoint>& coarse, const std::vector<SpanPoint>& fine, std::size_t stride) {
  double greatest = 0.0;
  for (std::size_t i = stride; i < coarse.size(); i += stride)
    greatest = std::max(greatest, std::abs(coarse[i].force - fine[2 * i].force));
  return greatest;
}

}  // namespace

/// Error control by halving: the leg is solved with n, 2n and 4n steps; the two extrapolated solutions must agree to
/// the tolerance, else n is doubled. Where film slipped the step is not smooth and the plain solutions 2n and 4n must
/// agree. Nothing of a solution that is thrown away survives.
void Winder::run_leg(WindingState& state, const SpanInterval& interval) const {
  std::size_t& steps = state.steps[state.events % 4];
  const double allowed = input_.tolerance * input_.force;
  Leg first = try_leg(state, interval, steps);
  Leg second = try_leg(state, interval, 2 * steps);
  state.counters.steps += 3 * steps;
  for (;;) {
    Leg third = try_leg(state, interval, 4 * steps);
    state.counters.steps += 4 * steps;
    const bool smooth = first.slips + second.slips + third.slips == 0;
    Leg best = smooth ? extrapolated(second, third) : third;
    // Fourth order would leave a fifteenth of the difference, second order a third: an eighth keeps a margin.
    const double error = smooth ? difference(extrapolated(first, second).points, best.points, 2) / 8.0
                                : difference(second.points, third.points, 1) / 3.0;
    if (error <= allowed) {
      if (16.0 * error < allowed && steps > least_steps) steps /= 2;
      keep(state, std::move(best));
      return;
    }
    state.counters.discarded += steps;
    first = std::move(second);
    second = std::move(third);
    steps *= 2;
    if (steps > most_steps) {
      throw SolverError("the force in the span cannot be resolved to the tolerance", "allow a larger tolerance",
                        interval.end, 1 + static_cast<int>(state.events / 4));
    }
  }
}

void Winder::keep(WindingState& state, Leg&& leg) const {
  if (leg.slips > 0) {
    state.counters.slips += leg.slips;
    std::copy(leg.live.begin(), leg.live.end(), state.faces.end() - static_cast<std::ptrdiff_t>(leg.live.size()));
  }
  state.span = leg.span;
  state.span.force = std::max(span_->film().force(leg.span.film), 0.0);
  auto& points = state.trace.back();
  points.insert(points.end(), leg.points.begin(), leg.points.end());
}

void Winder::hold_leg(WindingState& state, const SpanInterval& interval) const {
  const double dt = (interval.end - interval.begin) / static_cast<double>(held_points);
  for (std::size_t i = 0; i <= held_points; ++i) {
    const double time = i == held_points ? interval.end : interval.begin + dt * static_cast<double>(i);
    state.trace.back().push_back(span_->point(state.span, time, interval.corner));
    state.trace.back().back().force = input_.force;
  }
  const double angle = span_->rotation().angle_at(interval.end);
  state.span.mass = (span_->internal_path() + take_up_.at(angle, interval.corner).span) / state.span.film.stretch;
}

void Winder::lay_face(WindingState& state, const FaceEvent& laid, double angle) const {
  LaidFace face;
  face.face = laid.face;
  face.time = state.time;
  face.angle = angle;
  face.length = take_up_.face_flat(laid.face);
  face.film = state.span.film;
  face.mass = face.length / face.film.stretch;
  face.force = span_->film().force(face.film);
  if (span_->reference().stretch == face.film.stretch && input_.control.kind == WindingControl::Kind::constant)
    face.force = input_.force;  // exactly, not to the rounding of the film law
  face.force = std::max(face.force, 0.0);
  face.force_at_event = face.force;
  face.limit_behind = stuck;
  if (state.events > 0 && std::isfinite(friction(state.events - 1)))
    face.limit_behind = friction(state.events - 1) * right_angle;
  state.faces.push_back(face);
  state.span.mass = (span_->internal_path() + laid.span_after) / face.film.stretch;
  ++state.events;
}

bool Winder::advance(WindingState& state) const {
  const double end_time = span_->rotation().time_at(end_angle_);
  if (!(state.time < end_time)) return false;
  const double angle = event_angle(state.events);
  const bool lays = angle <= end_angle_;
  const double stop = lays ? span_->rotation().time_at(angle) : end_time;
  const std::size_t corner = corner_before_face(event(state.events).face);
  const double ramp_end = span_->rotation().time_at(span_->rotation().ramp_angle);

  if (state.trace.size() == 5) state.trace.erase(state.trace.begin());
  state.trace.emplace_back();
  const bool held = input_.control.kind == WindingControl::Kind::constant;
  while (state.time < stop) {
    const double next = state.time < ramp_end && ramp_end < stop ? ramp_end : stop;
    const SpanInterval interval{corner, state.time, next};
    if (held) {
      hold_leg(state, interval);
    } else {
      run_leg(state, interval);
    }
    state.time = next;
  }
  for (const SpanPoint& p : state.trace.back()) {
    state.least_force = std::min(state.least_force, p.force);
    state.greatest_force = std::max(state.greatest_force, p.force);
    state.went_slack = state.went_slack || !(p.force > 0.0);
  }
  if (lays) lay_face(state, event(state.events), angle);
  if (lays && state.events % 4 == 0) {
    if (settled(state)) copy_settled_turns(state);
    state.last_turn.assign(state.faces.end() - 4, state.faces.end());
  }
  return true;
}

/// A turn is settled when both the faces that can still slip and those now covered repeat the turn before.
bool Winder::settled(const WindingState& state) const {
  if (!input_.repeat_settled || state.events < 12 || state.last_turn.empty()) return false;
  const std::size_t n = state.faces.size();
  if (state.faces[n - 8].angle < span_->rotation().ramp_angle) return false;
  if (friction(state.events) != friction(state.events - 5)) return false;  // what the film lies on has just changed
  if (!input_.covered_film_sticks) return false;
  const auto alike = [&](const LaidFace& a, const LaidFace& b) {
    return std::abs(a.force - b.force) <= 0.1 * input_.tolerance * input_.force &&
           std::abs(a.film.stretch / b.film.stretch - 1.0) <= 0.01 * input_.tolerance;
  };
  for (std::size_t i = 0; i < 4; ++i) {
    if (!alike(state.faces[n - 4 + i], state.last_turn[i])) return false;
    if (slips() && !alike(state.faces[n - 8 + i], state.faces[n - 12 + i])) return false;
  }
  return true;
}

/// The covered faces of the last turn stand for those of every turn copied; the newest four move to the end.
void Winder::copy_settled_turns(WindingState& state) const {
  const double period = two_pi / input_.speed;
  const auto shifted = [&](LaidFace face, std::size_t turns) {
    face.time += period * static_cast<double>(turns);
    face.angle += two_pi * static_cast<double>(turns);
    return face;
  };
  std::size_t copies = 0;
  while (event_angle(state.events + 3) <= end_angle_) {
    state.events += 4;
    ++copies;
  }
  const std::size_t n = state.faces.size();
  const std::vector<LaidFace> newest(state.faces.end() - 4, state.faces.end());
  const std::vector<LaidFace> covered(state.faces.begin() + static_cast<std::ptrdiff_t>(n - (slips() ? 8 : 4)),
                                      state.faces.end() - (slips() ? 4 : 0));
  state.faces.resize(n - 4);
  for (std::size_t turn = 0; turn < copies; ++turn) {
    for (const LaidFace& face : covered) state.faces.push_back(shifted(face, turn + (slips() ? 1 : 0)));
  }
  for (const LaidFace& face : newest) state.faces.push_back(shifted(face, copies));
  state.time += period * static_cast<double>(copies);
  for (auto& leg : state.trace) {
    for (SpanPoint& p : leg) {
      p.time += period * static_cast<double>(copies);
      p.angle += two_pi * static_cast<double>(copies);
    }
  }
  state.counters.copied_turns += copies;
}

WindingResult wind(const WindingInput& input) {
  const Winder winder(input);
  WindingState state = winder.start();
  while (winder.advance(state)) {
  }
  return winder.result(std::move(state));
}

}  // namespace hoopfield
