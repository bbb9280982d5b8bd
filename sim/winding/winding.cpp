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
constexpr std::size_t first_steps = 2, held_points = 48;

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
  state.counters.film_steps = input_.film_steps_before;
  state.steps.fill(first_steps);
  state.steps[0] = 4 * first_steps;  // the start is long and uneven: two steps could both miss it
  state.least_force = state.greatest_force = state.span.force;
  return state;
}

/// Whether film can slip over the corner in contact.
bool Winder::can_slip(const WindingState& state) const {
  return state.events > 0 && !state.faces.empty() && std::isfinite(friction(state.events - 1));
}

void Winder::hold_leg(WindingState& state, const SpanInterval& interval) const {
  const double dt = (interval.end - interval.begin) / static_cast<double>(held_points);
  for (std::size_t i = 0; i <= held_points; ++i) {
    const double time = i == held_points ? interval.end : interval.begin + dt * static_cast<double>(i);
    state.trace.back().push_back(span_->point(state.span, time, interval.corner));
    state.trace.back().back().force = input_.force;
  }
  const double angle = span_->rotation().angle_at(interval.end);
  const double before = state.span.mass + state.span.on_rounds;
  state.span.mass = (span_->internal_path() + take_up_.at(angle, interval.corner).span) / state.span.row.laid.stretch;
  state.span.on_rounds = state.rounds_at_event + on_round(state, angle);
  state.span.fed += state.span.mass + state.span.on_rounds - before;
}

/// Film that a held span has laid on the round since the last event, m on the roll.
double Winder::on_round(const WindingState& state, double angle) const {
  const std::size_t corner = corner_before_face(event(state.events).face);
  const double from = state.events > 0 ? event_angle(state.events - 1) : 0.0;
  const double turned = take_up_.at(from, corner).normal_angle - take_up_.at(angle, corner).normal_angle;
  return take_up_.plan().corner_radius * turned / state.span.row.laid.stretch;
}

void Winder::lay_face(WindingState& state, const FaceEvent& laid, double angle) const {
  LaidFace face;
  face.face = laid.face;
  face.time = state.time;
  face.angle = angle;
  face.length = take_up_.face_flat(laid.face);
  const double left = span_->internal_path() + laid.span_after;
  const SpanRowLaw::Laying laying = span_->row_law().lay(state.span.row, state.span.mass, face.length, left);
  face.film = laying.film;
  face.mass = face.length / face.film.stretch;
  face.force = span_->film().force(face.film);
  if (span_->reference().stretch == face.film.stretch && input_.control.kind == WindingControl::Kind::constant)
    face.force = input_.force;  // exactly, not to the rounding of the film law
  face.force = std::max(face.force, 0.0);
  face.force_at_event = face.force;
  face.rested = face.film;
  face.rested_at = state.time;
  face.round = state.span.on_rounds - state.rounds_at_event;
  state.rounds_at_event = state.span.on_rounds;
  face.limit_behind = stuck;
  if (state.events > 0 && std::isfinite(friction(state.events - 1)))
    face.limit_behind = friction(state.events - 1) * right_angle;
  state.faces.push_back(face);
  state.span.mass = laying.mass;
  if (input_.control.kind != WindingControl::Kind::constant)
    state.span.slope = span_->row_law().slope(state.span.row, state.span.mass) * span_->film().section;
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
    if (held && !slips_in(state, interval)) {
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
    face.rested_at += period * static_cast<double>(turns);
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
  for (const LaidFace& face : covered) state.span.fed += static_cast<double>(copies) * (face.mass + face.round);
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
