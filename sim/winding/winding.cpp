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
constexpr double leg_share = 0.5;  // of the tolerance that one leg may use: film remembers the legs before

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

/// Whether film can slip over the corner in contact.
bool Winder::can_slip(const WindingState& state) const {
  return state.events > 0 && !state.faces.empty() && std::isfinite(friction(state.events - 1));
}

Winder::Leg Winder::try_leg(const WindingState& state, const SpanInterval& interval, std::size_t steps) const {
  Leg leg;
  const bool slippery = can_slip(state);
  if (slippery) {
    std::size_t live = state.faces.size();
    if (input_.covered_film_sticks) live = std::min<std::size_t>(live, 4);
    leg.live.assign(state.faces.end() - static_cast<std::ptrdiff_t>(live), state.faces.end());
    rest_faces(leg.live, span_->film(), interval.begin);
  }
  leg.points.reserve(steps + 1);
  leg.points.push_back(span_->point(state.span, interval.begin, interval.corner));
  const double mu = slippery ? friction(state.events - 1) : stuck;
  const double flush_normal = slippery ? take_up_.at(event_angle(state.events - 1), interval.corner).normal_angle : 0.0;
  leg.span = span_->march(state.span, interval, steps, [&](const Span::Move& move, SpanState& end) {
    const bool slipped =
        slippery && slip_laid_film(leg.live, mu * (flush_normal - move.to.normal_angle), *span_, move, end);
    leg.points.push_back(Span::point(end, move.to));
    if (!slipped) return;
    ++leg.slips;
    leg.points.back().mass_rate = std::numeric_limits<double>::quiet_NaN();  // no rate that points between could use
  });
  return leg;
}

namespace {

/// `fine + (fine - coarse)/3`: what two solutions of a second-order step tell together.
double better(double coarse, double fine) { return fine + (fine - coarse) / 3.0; }

/// The same for the strains of film, at a stretch known already.
FilmState better(const FilmState& coarse, const FilmState& fine, double stretch) {
  FilmState film = fine;
  film.stretch = stretch;
  for (std::size_t k = 0; k < film.strain.size(); ++k) film.strain[k] = better(coarse.strain[k], fine.strain[k]);
  return film;
}

}  // namespace

/// At points between those of the coarse solution the mean of the corrections beside them. The even error expansion of the
/// trapezoid rule makes it fourth order while nothing jumps within the leg.
Winder::Leg Winder::extrapolated(const Leg& coarse, const Leg& fine) const {
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
  // Masses are extrapolated, not stretches: film is conserved in both solutions and so in what they tell together.
  leg.span.mass = better(coarse.span.mass, fine.span.mass);
  leg.span.film = better(coarse.span.film, fine.span.film, fine.span.film.stretch * (fine.span.mass / leg.span.mass));
  leg.span.control.lagged_demand = better(coarse.span.control.lagged_demand, fine.span.control.lagged_demand);
  leg.span.control.feed = std::max(better(coarse.span.control.feed, fine.span.control.feed), 0.0);
  leg.span.fed = better(coarse.span.fed, fine.span.fed);
  leg.span.on_rounds = better(coarse.span.on_rounds, fine.span.on_rounds);
  leg.live = fine.live;
  for (std::size_t i = 0; i < leg.live.size(); ++i) {
    if (coarse.live[i].mass == fine.live[i].mass) continue;
    LaidFace& face = leg.live[i];
    face.mass = better(coarse.live[i].mass, fine.live[i].mass);
    face.film = better(coarse.live[i].film, fine.live[i].film, face.length / face.mass);
    face.rested = better(coarse.live[i].rested, fine.live[i].rested, face.length / face.mass);
    face.force = std::max(better(coarse.live[i].force, fine.live[i].force), 0.0);
  }
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

/// The same of the forces of laid faces at the end of a leg.
double difference(const std::vector<LaidFace>& coarse, const std::vector<LaidFace>& fine, const SpanFilm& film) {
  double greatest = 0.0;
  for (std::size_t i = 0; i < coarse.size(); ++i)
    greatest = std::max(greatest, std::abs(film.force(coarse[i].rested) - film.force(fine[i].rested)));
  return greatest;
}

/// Force that an error is measured by: the least of the leg, but of a leg that runs slack a twentieth of the usual force.
double force_scale(const std::vector<SpanPoint>& points, double usual) {
  double least = usual;
  for (const SpanPoint& p : points) least = std::min(least, p.force);
  return std::max(least, 0.05 * usual);
}

}  // namespace

/// What points between those of a leg err by: every second point is left out and found again from its neighbours. Second
/// order, so the points kept are four times as good.
double Winder::error_between(const std::vector<SpanPoint>& points, std::size_t corner) const {
  double greatest = 0.0;
  for (std::size_t i = 1; i + 1 < points.size(); i += 2) {
    const SpanPoint &a = points[i - 1], &b = points[i + 1];
    if (!std::isfinite(a.mass_rate) || !std::isfinite(b.mass_rate)) continue;  // film slipped
    const SpanPoint found = span_->between(a, b, (points[i].time - a.time) / (b.time - a.time), corner);
    greatest = std::max(greatest, std::abs(found.force - points[i].force));
  }
  return 0.25 * greatest;
}

/// Error control by halving: the leg is solved with n, 2n and 4n steps; the two extrapolated solutions must agree to
/// the tolerance, and so must points between the steps (for the least and greatest force), else n is doubled; where film
/// slipped, the laid faces must agree, too. Nothing of a solution that is thrown away survives.
void Winder::run_leg(WindingState& state, const SpanInterval& interval) const {
  std::size_t& steps = state.steps[state.events % 4];
  Leg first = try_leg(state, interval, steps);
  Leg second = try_leg(state, interval, 2 * steps);
  state.counters.steps += 3 * steps;
  for (;;) {
    Leg third = try_leg(state, interval, 4 * steps);
    state.counters.steps += 4 * steps;
    const bool smooth = first.slips + second.slips + third.slips == 0;
    Leg best = extrapolated(second, third);
    const Leg before = extrapolated(first, second);
    const double allowed = leg_share * input_.tolerance * force_scale(best.points, usual_force_);
    // Fourth order would leave a fifteenth of the difference; where film starts or stops to slip within the leg, second order
    // leaves a third. An eighth and one half keep a margin.
    const double error = smooth ? difference(before.points, best.points, 2) / 8.0
                                : std::max(difference(before.points, best.points, 2),
                                           difference(before.live, best.live, span_->film())) / 2.0;
    if (error <= allowed && error_between(best.points, interval.corner) <= allowed) {
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
  if (!leg.live.empty()) {
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
  const double before = state.span.mass + state.span.on_rounds;
  state.span.mass = (span_->internal_path() + take_up_.at(angle, interval.corner).span) / state.span.film.stretch;
  state.span.on_rounds = state.rounds_at_event + on_round(state, angle);
  state.span.fed += state.span.mass + state.span.on_rounds - before;
}

/// Film that a held span has laid on the round since the last event, m on the roll.
double Winder::on_round(const WindingState& state, double angle) const {
  const std::size_t corner = corner_before_face(event(state.events).face);
  const double from = state.events > 0 ? event_angle(state.events - 1) : 0.0;
  const double turned = take_up_.at(from, corner).normal_angle - take_up_.at(angle, corner).normal_angle;
  return take_up_.plan().corner_radius * turned / state.span.film.stretch;
}

/// Whether the faces, relaxing, would let film slip under a held span.
bool Winder::slips_in(const WindingState& state, const SpanInterval& interval) const {
  return can_slip(state) && try_leg(state, interval, start_steps).slips > 0;
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
  face.rested = face.film;
  face.rested_at = state.time;
  face.round = state.span.on_rounds - state.rounds_at_event;
  state.rounds_at_event = state.span.on_rounds;
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
