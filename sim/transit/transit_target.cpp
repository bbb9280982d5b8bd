// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/transit_target.hpp"

#include "sim/outputs/outputs.hpp"
#include "sim/transit/levels.hpp"

#include <limits>

namespace hoopfield {

bool targets_transit(const Scenario& s) {
  return s.target && s.target->quantity == TargetQuantity::transit && s.transit.levels &&
         missing_for_transit(s).empty();
}

std::size_t transit_target_moment(const Scenario& s) {
  if (!targets_transit(s) || s.target->at == TargetTime::weakest) return weakest_moment;
  return s.target->at == TargetTime::end ? 0 : transit_moments - 1;
}

std::vector<TargetResult> transit_targets(const Scenario& s, const Result& r) {
  std::vector<TargetResult> targets;
  if (!targets_transit(s)) return targets;
  constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
  const std::size_t moment = transit_target_moment(s);
  const BothStacks stacks = {transit_stack(s, r, moment, 0), transit_stack(s, r, moment, 1)};
  const std::vector<LevelAnswer> answers = judge_levels(s.transit, stacks, {unknown, unknown});
  for (std::size_t d = 0; d < load_direction_names.size(); ++d) {
    double least = std::numeric_limits<double>::infinity();
    for (const LevelAnswer& answer : answers)
      if (answer.direction == d) least = std::min(least, answer.margin());
    if (!(least < std::numeric_limits<double>::infinity())) continue;
    TargetResult target;
    target.station = load_direction_names[d];
    target.quantity = transit_target_quantity;
    target.at = axis_names("moment")[moment];
    target.wanted = 1.0;
    target.predicted = least;
    target.met = least >= 1.0;
    targets.push_back(std::move(target));
  }
  return targets;
}

std::string drawn_name_of(const TargetResult& t) {
  if (is_of_transit(t)) return "transit." + t.at + "." + t.station + ".margin";
  return "containment." + t.at + "." + t.station + "." + t.quantity;
}

}  // namespace hoopfield
