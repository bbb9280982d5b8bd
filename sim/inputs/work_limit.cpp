// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/work_limit.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/inputs/inputs_detail.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopfield {
namespace {

/// The key that a user would change for fewer turns.
const char* key_of_turns(const Scenario& s, double turns) {
  const PatternInput& p = s.pattern;
  const double held = p.bottom_turns + p.top_turns;
  if (held > 0.5 * turns) return p.bottom_turns >= p.top_turns ? "pattern.bottom_turns" : "pattern.top_turns";
  if (p.speed_up || p.speed_down) {
    const bool down = p.speed_down && p.speed_up.value_or(*p.speed_down) > *p.speed_down;
    return down ? "carriage.speed_down" : "carriage.speed_up";
  }
  return p.pitch ? "pattern.pitch" : "pattern.overlap";
}

/// Climb per turn, m; 0 where the film on the load decides it or nothing climbs.
double pitch_of(const Scenario& s, const std::optional<double>& speed, const std::optional<double>& other) {
  if (speed || other) return speed.value_or(other.value_or(0.0)) * 2.0 * std::numbers::pi / s.rotation.speed;
  return s.pattern.pitch.value_or(0.0);
}

}  // namespace

void require_workable(const Scenario& s, double turns, double laid_width) {
  // An element is the film of one turn on one face of one slice, whole or in part.
  const double slices = s.numerics.slices;
  const double elements = 4.0 * turns * std::min(1.0, (laid_width + s.load.height / slices) / s.load.height);
  if (turns <= most_turns && turns * elements <= most_turn_elements) return;
  const double most = std::min(most_turns, turns * std::sqrt(most_turn_elements / (turns * elements)));
  detail::fail_range_at(
      s, key_of_turns(s, turns),
      {"asks for some " + short_number(turns) + " turns and " + short_number(elements * slices) + " film elements in " +
           short_number(slices) + " slices",
       "at most some " + short_number(std::floor(most)) +
           " turns of such film on such a load: a larger pattern.pitch or carriage speed, or fewer turns at one height",
       {}});
}

void require_workable_inputs(const Scenario& s) {
  const PatternInput& p = s.pattern;
  const double rise = s.load.height + p.top_overhang - s.film.width - p.start_height;  // no film is laid wider
  const double up = pitch_of(s, p.speed_up, p.speed_down), down = pitch_of(s, p.speed_down, p.speed_up);
  double turns = p.bottom_turns + p.top_turns;
  if (rise > 0.0 && up > 0.0) turns += rise / up + (p.descent && down > 0.0 ? rise / down : 0.0);
  require_workable(s, turns, 0.0);
}

double most_work(double slices, double turns, double moments, double tolerance) {
  constexpr double usual = 60.0 * (17.0 + 45.0);  // slices, turns and moments of the reference case
  constexpr double most = 8e7;                    // for one such, at the usual tolerance
  return most * std::max(slices * (turns + moments) / usual, 1.0) * std::max(std::sqrt(1e-3 / tolerance), 1.0);
}

}  // namespace hoopfield
