// SPDX-License-Identifier: BSD-3-Clause
#include "sim/winding/laid_film.hpp"

#include "models/load/corner_slip.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {

namespace {

constexpr double slack_share = 1e-5;   // of the usual force: floor that keeps ln T finite
constexpr double limit_slack = 1e-10;  // in ln T; below it nothing is worth moving
constexpr double settled = 1e-7;  // relative change of what slips and is fed after which a last round is not needed
constexpr int most_rounds = 20;   // mixing and feed change tensions a little: repeat until nothing moves

using Lengths = std::vector<double>;

/// Below the floor: a straight continuation of T in ln T, so that a slack face still asks for less film.
LogTension log_tension(const FilmStress& stress, double section, double mass, double floor) {
  const double force = stress.nominal * section;
  const double slope = std::max(stress.slope * section, floor);
  if (force < floor) return {std::log(floor) + (force - floor) / floor, -slope / (floor * mass)};
  return {std::log(force), -slope / (force * mass)};
}

std::array<double, max_branches> viscous(const FilmState& film, std::size_t branches) {
  std::array<double, max_branches> v{};
  for (std::size_t k = 0; k < branches; ++k) v[k] = std::log(film.stretch) - film.strain[k];
  return v;
}

/// Mixes a share of what slips into the film it slips to, each at its stretch. `mass` is that before.
void mix_in(std::vector<FilmState>& films, const Lengths& mass, const Lengths& slip, double share,
            std::size_t branches) {
  const std::vector<FilmState> before = films;
  for (std::size_t i = 0; i < films.size(); ++i) {
    const double from_behind = i > 0 ? share * std::max(slip[i - 1], 0.0) : 0.0;
    const double from_ahead = i < slip.size() ? share * std::max(-slip[i], 0.0) : 0.0;
    if (!(from_behind > 0.0 || from_ahead > 0.0)) continue;
    const double to_behind = i > 0 ? share * std::max(-slip[i - 1], 0.0) : 0.0;
    const double to_ahead = i < slip.size() ? share * std::max(slip[i], 0.0) : 0.0;
    const double kept = mass[i] - to_behind - to_ahead;
    const double sum = kept + from_behind + from_ahead;
    const auto own = viscous(before[i], branches);
    for (std::size_t k = 0; k < branches; ++k) {
      double v = kept * own[k];
      if (from_behind > 0.0) v += from_behind * viscous(before[i - 1], branches)[k];
      if (from_ahead > 0.0) v += from_ahead * viscous(before[i + 1], branches)[k];
      films[i].strain[k] = std::log(films[i].stretch) - v / sum;
    }
  }
}

/// The chain of faces and, as the last link, the span, over one step.
class SlidingStep {
 public:
  SlidingStep(const std::vector<LaidFace>& faces, double limit_to_span, const Span& span, const Span::Move& move,
              const SpanState& end)
      : span_(span),
        move_(move),
        film_(span.film()),
        branches_(film_.law->branch_count()),
        feed_(end.control.feed),
        floor_(slack_share * span.usual_force()) {
    for (std::size_t i = 0; i < faces.size(); ++i) {
      start_.push_back(faces[i].rested);
      length_.push_back(faces[i].length);
      mass_.push_back(faces[i].mass);
      limit_.push_back(i + 1 < faces.size() ? faces[i + 1].limit_behind : limit_to_span);
    }
    start_.push_back(move.begin->row.laid);
    row_ = move.begin->row;
    length_.push_back(move.to.length);
    mass_.push_back(end.mass);
  }

  /// Film at the end of the step if nothing slips; true when some corner is beyond its limit.
  bool is_beyond(const SpanState& end, std::vector<FilmState>& rested) const {
    Lengths logs;
    for (std::size_t i = 0; i + 1 < length_.size(); ++i) {
      rested.push_back(start_[i]);
      logs.push_back(log_tension(over_step(i, rested.back(), mass_[i]), film_.section, mass_[i], floor_).value);
    }
    logs.push_back(std::log(std::max(end.force, floor_)));
    return greatest_excess(logs, limit_) > limit_slack;
  }

  void solve() {
    slip_.assign(limit_.size(), 0.0);
    for (int round = 0; round < most_rounds; ++round) {
      std::vector<FilmState> start = start_;
      if (round > 0) mix_in(start, to_mix(mass_), slip_, 0.5, branches_);
      mass_.back() = span_.mass_before_slip(move_, feed_);
      const FaceTension tension = [&](std::size_t i, double mass) {
        FilmState moved = start[i];
        return link_tension(i, over_step(i, moved, mass), mass);
      };
      const CornerSlip found = slip_corners(mass_, limit_, tension, 10.0 * limit_slack);  // even_out() does the rest
      double change = 0.0;
      for (std::size_t c = 0; c < slip_.size(); ++c) change += std::abs(found.slip[c] - slip_[c]) / mass_[c];
      slip_ = found.slip;
      after_ = found.mass;
      end_ = start;
      for (std::size_t i = 0; i < end_.size(); ++i) (void)over_step(i, end_[i], after_[i]);
      mix_in(end_, to_mix(mass_), slip_, 0.5, branches_);
      settle_span();
      control_ = span_.control_after(move_, std::max(film_.force(end_.back()), 0.0));
      if (!span_.holds_force())
        change += std::abs(control_.feed - feed_) * (move_.to.time - move_.from.time) / mass_.back();
      feed_ = control_.feed;
      if (round > 0 && change < settled) break;
    }
    even_out();
  }

  [[nodiscard]] std::size_t film_steps() const { return film_steps_; }

  void hand_over(std::vector<LaidFace>& faces, SpanState& end) const {
    std::vector<FilmState> laid;
    for (const LaidFace& face : faces) laid.push_back(face.film);
    laid.push_back(end_.back());
    mix_in(laid, to_mix(mass_), slip_, 1.0, branches_);
    for (std::size_t i = 0; i < faces.size(); ++i) {
      LaidFace& face = faces[i];
      face.rested = end_[i];
      face.rested_at = move_.to.time;
      if (after_[i] == face.mass) continue;
      face.mass = after_[i];
      face.film = laid[i];
      (void)film_.law->step(face.film, face.length / face.mass, 0.0, film_.mode, film_.temperature, film_.temperature);
      face.force = std::max(film_.force(face.rested), 0.0);
    }
    if (span_.holds_force()) {
      end.fed += slip_.empty() ? 0.0 : -slip_.back();  // the span stays as it is: what slips in need not be fed
      return;
    }
    end.row = row_;
    end.mass = after_.back();
    end.control = control_;
    end.force = std::max(film_.force(end_.back()), 0.0);
    end.slope = span_.row_law().slope(row_, end.mass) * film_.section;
    const double half = 0.5 * (move_.to.time - move_.from.time);
    end.fed = move_.begin->fed + half * (move_.begin->control.feed + control_.feed);
    end.on_rounds = move_.begin->on_rounds + move_.begin->mass + (end.fed - move_.begin->fed) + slip_.back() - end.mass;
  }

 private:
  /// Moves the film of a link over the step to the stretch that `mass` leaves it.
  FilmStress over_step(std::size_t i, FilmState& film, double mass) const {
    ++film_steps_;
    const bool is_span = i + 1 == length_.size();
    if (is_span && span_.holds_force()) return film_.law->stress(film, film_.mode, film_.temperature);
    if (is_span) {
      row_ = move_.begin->row;
      row_.laid = film;
      const RowAnswer moved = span_.move_film(row_, move_, mass, feed_, mass_.back());
      film = row_.laid;
      film_steps_ += moved.film_steps;
      return moved.stress;
    }
    return film_.law->step(film, length_[i] / mass, move_.to.time - move_.from.time, film_.mode, film_.temperature,
                           film_.temperature);
  }

  /// Film that slips into the span comes to the film at the load: what each link mixes with.
  [[nodiscard]] Lengths to_mix(const Lengths& mass) const {
    Lengths out = mass;
    out.back() -= span_.row_law().young_mass();
    return out;
  }

  /// One stress for all film of the span again, after film came to its end.
  void settle_span() {
    if (span_.holds_force()) return;
    row_.laid = end_.back();
    film_steps_ += span_.row_law().settle(row_, after_.back(), length_.back()).film_steps;
    end_.back() = row_.laid;
  }

  [[nodiscard]] LogTension link_tension(std::size_t i, const FilmStress& stress, double mass) const {
    LogTension tension = log_tension(stress, film_.section, mass, floor_);
    if (i + 1 == length_.size() && span_.holds_force()) tension.slope = -1e-6 / mass;  // as good as level
    return tension;
  }

  /// Tension of the span after an elastic slip.
  [[nodiscard]] LogTension span_tension(FilmState film, double mass) const {
    const std::size_t i = length_.size() - 1;
    if (span_.holds_force()) return link_tension(i, over_step(i, film, mass), mass);
    SpanRow row = row_;
    row.laid = film;
    const RowAnswer at = span_.row_law().settle(row, mass, length_[i]);
    film_steps_ += at.film_steps;
    return link_tension(i, at.stress, mass);
  }

  /// What mixing at the end of the step has moved beyond the limits slips elastically.
  void even_out() {
    for (int round = 0; round < most_rounds; ++round) {
      const Lengths before = after_;
      const FaceTension tension = [&](std::size_t i, double mass) {
        FilmState moved = end_[i];
        ++film_steps_;
        if (i + 1 == length_.size()) return span_tension(moved, mass);
        return link_tension(
            i, film_.law->step(moved, length_[i] / mass, 0.0, film_.mode, film_.temperature, film_.temperature), mass);
      };
      Lengths logs;
      for (std::size_t i = 0; i < end_.size(); ++i) logs.push_back(tension(i, before[i]).value);
      if (greatest_excess(logs, limit_) <= limit_slack) return;
      const CornerSlip found = slip_corners(before, limit_, tension, 0.1 * limit_slack);
      mix_in(end_, to_mix(before), found.slip, 1.0, branches_);
      for (std::size_t c = 0; c < slip_.size(); ++c) slip_[c] += found.slip[c];
      after_ = found.mass;
      for (std::size_t i = 0; i + 1 < end_.size(); ++i)
        (void)film_.law->step(end_[i], length_[i] / after_[i], 0.0, film_.mode, film_.temperature, film_.temperature);
      settle_span();
    }
  }

  const Span& span_;
  const Span::Move& move_;
  const SpanFilm& film_;
  std::size_t branches_;
  double feed_, floor_;
  std::vector<FilmState> start_, end_;
  Lengths length_, mass_, after_, limit_, slip_;
  ControlState control_;
  mutable SpanRow row_;  ///< the span as it was last moved
  mutable std::size_t film_steps_ = 0;
};

}  // namespace

void rest_faces(std::vector<LaidFace>& faces, const SpanFilm& film, double time) {
  for (LaidFace& face : faces) {
    if (!(time > face.rested_at)) continue;
    (void)film.law->step(face.rested, face.rested.stretch, time - face.rested_at, film.mode, film.temperature,
                         film.temperature);
    face.rested_at = time;
  }
}

SlipWork slip_laid_film(std::vector<LaidFace>& faces, double limit_to_span, const Span& span, const Span::Move& move,
                        SpanState& end) {
  if (faces.empty()) return {};
  SlidingStep step(faces, limit_to_span, span, move, end);
  std::vector<FilmState> rested;
  if (!step.is_beyond(end, rested)) {
    for (std::size_t i = 0; i < faces.size(); ++i) {
      faces[i].rested = rested[i];
      faces[i].rested_at = move.to.time;
    }
    return {false, step.film_steps()};
  }
  step.solve();
  step.hand_over(faces, end);
  return {true, step.film_steps()};
}

}  // namespace hoopfield
