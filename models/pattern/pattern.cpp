// SPDX-License-Identifier: BSD-3-Clause
#include "models/pattern/pattern.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

/// int_0^1 clamp(a + (b - a) x, low, high) dx
double mean_clamped(double a, double b, double low, double high) {
  if (a == b) return std::clamp(a, low, high);
  if (a > b) std::swap(a, b);
  // Antiderivative of the clamped ramp over z, then divided by the rise.
  const auto area = [&](double z) {
    if (z <= low) return low * z;
    const double at_low = low * low;
    if (z <= high) return at_low + 0.5 * (z * z - low * low);
    return at_low + 0.5 * (high * high - low * low) + high * (z - high);
  };
  return (area(b) - area(a)) / (b - a);
}

}  // namespace

double Pattern::times_at(double edge) const {
  const double middle = std::clamp((edge + 0.5 * plan_.laid_width) / plan_.load_height, 0.0, 1.0);
  const bool last = plan_.denser.upto >= 1.0 && middle >= 1.0;
  return middle >= plan_.denser.from && (middle < plan_.denser.upto || last) ? plan_.denser.times : 1.0;
}

/// Turns at which the edge has gone from one height to another; slower where turns are denser.
double Pattern::travel(double turn, double from, double to, double per_turn) {
  const double lower = plan_.denser.from * plan_.load_height - 0.5 * plan_.laid_width;
  const double upper = plan_.denser.upto * plan_.load_height - 0.5 * plan_.laid_width;
  std::vector<double> ends;
  if (plan_.denser.times != 1.0)
    for (const double cut : {lower, upper})
      if (cut > std::min(from, to) && cut < std::max(from, to)) ends.push_back(cut);
  if (from > to) std::reverse(ends.begin(), ends.end());
  ends.push_back(to);
  for (const double end : ends) {
    const double rate = per_turn / times_at(0.5 * (from + end));
    way_.push_back({turn, from, end > from ? rate : -rate});
    turn += std::abs(end - from) / rate;
    from = end;
  }
  return turn;
}

/// Turns that denser ones add to those of the plan.
double Pattern::turns_beyond_usual(PatternPlan plan) const {
  if (plan.denser.times == 1.0) return 0.0;
  plan.denser = {};
  return turns_ - std::ceil(Pattern(plan).descent_end_ - 1e-9);
}

Pattern::Pattern(const PatternPlan& plan) : plan_(plan) {
  top_edge_ = plan_.load_height + plan_.top_overhang - plan_.laid_width;
  const bool one_height = !(plan_.pitch_up > 0.0) || top_edge_ <= plan_.start_height;
  if (one_height) top_edge_ = plan_.start_height;
  const bool down = plan_.descent && !one_height;
  plan_.bottom_turns *= times_at(plan_.start_height);
  plan_.top_turns *= times_at(top_edge_);
  climb_start_ = plan_.bottom_turns + (one_height ? 0.0 : plan_.start_phase);
  climb_end_ = one_height ? climb_start_ : travel(climb_start_, plan_.start_height, top_edge_, plan_.pitch_up);
  descent_start_ = climb_end_ + plan_.top_turns;
  descent_end_ = down ? travel(descent_start_, top_edge_, plan_.start_height, plan_.pitch_down) : descent_start_;
  turns_ = std::ceil(descent_end_ - 1e-9);
  if (plan_.turns > 0.0) turns_ = plan_.turns + turns_beyond_usual(plan);
  if (!(turns_ >= 1.0))
    throw InputError("pattern: no turn is wound; expected at least one bottom or top turn", {}, 0, 0,
                     "pattern.bottom_turns");
}

double Pattern::lower_edge(double turn) const {
  if (turn <= climb_start_) return plan_.start_height;
  if (turn > climb_end_ && (turn <= descent_start_ || descent_end_ == descent_start_)) return top_edge_;
  if (turn > descent_end_) return plan_.start_height;
  const auto after = std::lower_bound(way_.begin(), way_.end(), turn,
                                      [](const Stretch& stretch, double t) { return stretch.turn < t; });
  const Stretch& at = *(after - 1);
  return at.edge + (turn - at.turn) * at.per_turn;
}

double Pattern::film_width(double turn) const {
  return plan_.roping_width > 0.0 && turn <= plan_.bottom_turns ? plan_.roping_width : plan_.laid_width;
}

PatternZone Pattern::zone(double turn) const {
  if (turn <= climb_start_) return PatternZone::bottom;
  if (turn <= climb_end_) return PatternZone::climb;
  if (turn <= descent_start_ || descent_end_ == descent_start_) return PatternZone::top;
  return turn <= descent_end_ ? PatternZone::descent : PatternZone::last;
}

std::vector<Patch> lay_patches(const Pattern& pattern, const std::vector<double>& event_turns,
                               const std::vector<std::size_t>& event_faces) {
  std::vector<Patch> patches;
  double previous = event_turns.back() - 1.0;
  for (double turn = 0.0; turn < pattern.turns(); turn += 1.0) {
    for (std::size_t i = 0; i < event_turns.size(); ++i) {
      const double now = turn + event_turns[i];
      patches.push_back(
          {event_faces[i], now, pattern.lower_edge(previous), pattern.lower_edge(now), pattern.film_width(now)});
      previous = now;
    }
  }
  return patches;
}

double covered_fraction(const Patch& patch, double low, double high) {
  const double upper = mean_clamped(patch.edge_begin + patch.width, patch.edge_end + patch.width, low, high);
  const double lower = mean_clamped(patch.edge_begin, patch.edge_end, low, high);
  const double share = (upper - lower) / (high - low);
  return share < 1e-12 ? 0.0 : share;
}

double mean_width_above(const Patch& patch, double edge) {
  const double top = std::max(patch.edge_begin, patch.edge_end) + patch.width;
  if (top <= edge) return 0.0;
  return mean_clamped(patch.edge_begin + patch.width, patch.edge_end + patch.width, edge, top) - edge;
}

double bare_gap(const PatternPlan& plan) {
  const double pitch = std::max(plan.pitch_up, plan.descent ? plan.pitch_down : 0.0);
  return std::max(0.0, pitch - plan.laid_width);
}

}  // namespace hoopfield
