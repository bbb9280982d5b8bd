// SPDX-License-Identifier: BSD-3-Clause
// One leg between two events: solved with film slipping or not, extrapolated, its error kept within the tolerance.
#include "sim/winding/winding.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <utility>

namespace hoopfield {

namespace {

constexpr double stuck = std::numeric_limits<double>::infinity();
constexpr std::size_t look_steps = 8, least_steps = 2, most_steps = 4096;
constexpr double leg_share = 0.5;  // of the tolerance that one leg may use: film remembers the legs before

}  // namespace

/// One solution of a leg, kept or thrown away as a whole.
struct Winder::Leg {
  SpanState span;
  std::vector<LaidFace> live;  ///< the faces that can still slip
  std::vector<SpanPoint> points;
  std::size_t slips = 0;
  std::size_t film_steps = 0;  ///< since the start of the wrap, those of solutions thrown away with them
};

Winder::Leg Winder::try_leg(const WindingState& state, const SpanInterval& interval, std::size_t steps) const {
  Leg leg;
  leg.film_steps = state.counters.film_steps;
  const double most = input_.most_film_steps * std::max(std::sqrt(1e-3 / input_.tolerance), 1.0);
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
    const SlipWork work =
        slippery ? slip_laid_film(leg.live, mu * (flush_normal - move.to.normal_angle), *span_, move, end) : SlipWork{};
    leg.film_steps += work.film_steps + (end.film_steps - move.begin->film_steps);
    if (static_cast<double>(leg.film_steps) > most) {
      throw SolverError("winding takes more than " + std::to_string(static_cast<long>(most)) + " steps of the film law",
                        "allow a larger tolerance; film that nearly loses its force and slips round corners is slowest",
                        move.to.time, 1 + static_cast<int>(state.events / 4));
    }
    leg.points.push_back(span_->point(end, move.to));
    if (!work.slipped) return;
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

/// At points between those of the coarse solution the mean of the corrections beside them. The even error expansion of
/// the trapezoid rule makes it fourth order while nothing jumps within the leg.
Winder::Leg Winder::extrapolated(const Leg& coarse, const Leg& fine, std::size_t corner) const {
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
  leg.span.row = span_->row_law().extrapolated(coarse.span.row, fine.span.row);
  const double length = span_->internal_path() + take_up_.at(fine.points.back().angle, corner).span;
  (void)span_->row_law().settle(leg.span.row, leg.span.mass, length);
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

/// Force that an error is measured by: the least of the leg, but of a leg that runs slack a twentieth of the usual
/// force.
double force_scale(const std::vector<SpanPoint>& points, double usual) {
  double least = usual;
  for (const SpanPoint& p : points) least = std::min(least, p.force);
  return std::max(least, 0.05 * usual);
}

}  // namespace

/// What points between those of a leg err by: every second point is left out and found again from its neighbours.
/// Second order, so the points kept are four times as good.
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
/// the tolerance, and so must points between the steps (for the least and greatest force), else n is doubled; where
/// film slipped, the laid faces must agree, too. Nothing of a solution that is thrown away survives.
void Winder::run_leg(WindingState& state, const SpanInterval& interval) const {
  std::size_t& steps = state.steps[state.events % 4];
  const auto solve = [&](std::size_t count) {
    Leg leg = try_leg(state, interval, count);
    state.counters.film_steps = leg.film_steps;
    return leg;
  };
  Leg first = solve(steps);
  Leg second = solve(2 * steps);
  state.counters.steps += 3 * steps;
  for (;;) {
    Leg third = solve(4 * steps);
    state.counters.steps += 4 * steps;
    const bool smooth = first.slips + second.slips + third.slips == 0;
    Leg best = extrapolated(second, third, interval.corner);
    const Leg before = extrapolated(first, second, interval.corner);
    const double allowed = leg_share * input_.tolerance * force_scale(best.points, span_->usual_force());
    // Fourth order would leave a fifteenth of the difference; where film starts or stops to slip within the leg, second
    // order leaves a third. An eighth and one half keep a margin.
    const double error = smooth ? difference(before.points, best.points, 2) / 8.0
                                : std::max(difference(before.points, best.points, 2),
                                           difference(before.live, best.live, span_->film())) /
                                      2.0;
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
  state.span.force = std::max(span_->film().force(leg.span.row.laid), 0.0);
  auto& points = state.trace.back();
  points.insert(points.end(), leg.points.begin(), leg.points.end());
}

/// Whether the faces, relaxing, would let film slip under a held span.
bool Winder::slips_in(const WindingState& state, const SpanInterval& interval) const {
  return can_slip(state) && try_leg(state, interval, look_steps).slips > 0;
}

}  // namespace hoopfield
