// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Where the film goes: height of the film edge over the rotation, and how much of a slice a patch covers.
#pragma once

#include <cstddef>
#include <vector>

namespace hoopfield {

/// Turns that are more over a part of the load's height: the carriage climbs and descends `times` slower while the
/// middle of the film is there, and turns at one height there are `times` as many.
struct DenserTurns {
  double times = 1.0;             ///< >= 1
  double from = 0.0, upto = 1.0;  ///< shares of the load's height; below 0 counts as 0, above 1 as 1
};

/// A wrap pattern in lengths (m) and turns.
struct PatternPlan {
  double load_height = 0.0;
  double laid_width = 0.0;
  double roping_width = 0.0;  ///< width of the gathered film of the bottom turns; 0 = full width
  double pitch_up = 0.0;      ///< m per turn; 0 = all turns at one height
  double pitch_down = 0.0;
  double bottom_turns = 2.0;
  double top_turns = 2.0;
  double top_overhang = 0.0;
  double start_height = 0.0;
  bool descent = true;
  double turns = 0.0;        ///< whole turns that were counted; 0 = those the parts need, the last one completed
  double start_phase = 0.0;  ///< extra share of a turn before the climb, 0..1: where the carriage happens to start
  DenserTurns denser;
};

/// The parts of a wrap, in the order they are laid.
enum class PatternZone : std::size_t { bottom, climb, top, descent, last };
inline constexpr std::size_t pattern_zone_count = 5;

/// Lower film edge over the rotation: bottom turns at `start_height`, climb at the pitch until the upper edge stands at
/// `load_height + top_overhang`, top turns, descent. The last turn is completed, so the wrap ends where it began. Where
/// turns were counted the wrap ends after them: what is more stands at the start, what is less is left out.
/// Pinned by tests/unit/pattern_test.cpp.
class Pattern {
 public:
  /// Throws InputError when the pattern has no turn.
  explicit Pattern(const PatternPlan& plan);
  [[nodiscard]] double turns() const { return turns_; }  ///< whole number
  [[nodiscard]] double lower_edge(double turn) const;    ///< m, at a number of turns since the start
  [[nodiscard]] double film_width(double turn) const;    ///< m, gathered in the bottom turns when roping
  [[nodiscard]] PatternZone zone(double turn) const;     ///< part of the wrap at a number of turns
  [[nodiscard]] double climb() const { return top_edge_ - plan_.start_height; }  ///< m of carriage travel
  [[nodiscard]] const PatternPlan& plan() const { return plan_; }

 private:
  /// From a turn on, the edge starts there and rises evenly.
  struct Stretch {
    double turn = 0.0, edge = 0.0, per_turn = 0.0;
  };
  [[nodiscard]] double times_at(double edge) const;
  [[nodiscard]] double turns_beyond_usual(PatternPlan plan) const;
  double travel(double turn, double from, double to, double per_turn);

  PatternPlan plan_;
  double top_edge_ = 0.0;     // lower film edge in the top turns
  double climb_start_ = 0.0;  // turns
  double climb_end_ = 0.0;
  double descent_start_ = 0.0;
  double descent_end_ = 0.0;
  double turns_ = 0.0;
  std::vector<Stretch> way_;  // of the climb, then of the descent
};

/// Film laid on one face: the lower edge runs straight from one corner to the next.
struct Patch {
  std::size_t face = 0;
  double angle = 0.0;       ///< rotation at which it is laid, in turns since the start
  double edge_begin = 0.0;  ///< lower edge at the corner laid first, m
  double edge_end = 0.0;    ///< at the corner laid last, m
  double width = 0.0;       ///< m
};

/// Patches of the whole wrap in the order they are laid. `event_turns` are the fractions of a turn at which the four
/// faces are laid and `event_faces` their names (see FaceEvent in sim/winding/take_up.hpp).
[[nodiscard]] std::vector<Patch> lay_patches(const Pattern& pattern, const std::vector<double>& event_turns,
                                             const std::vector<std::size_t>& event_faces);

/// Covered share of the strip of face between heights `low` and `high`: area of the sloping band inside it over its
/// area. Exact for straight edges. Pinned by tests/unit/pattern_test.cpp.
[[nodiscard]] double covered_fraction(const Patch& patch, double low, double high);

/// Mean height of a patch above `edge` (m of strand width per m of face), exact for straight edges.
[[nodiscard]] double mean_width_above(const Patch& patch, double edge);

/// Greatest bare height between neighbouring turns of one pass, m; 0 when closed.
[[nodiscard]] double bare_gap(const PatternPlan& plan);

}  // namespace hoopfield
