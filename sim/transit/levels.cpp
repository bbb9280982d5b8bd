// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/levels.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

constexpr double most_tension = 4000.0;  // N/m; own assumption: more is not laid
constexpr double usual_ratio = 11.0;     // EA/N where no film tells it

LevelAnswer judge_static(const TransitInput& input, const RequirementCase& level, const TransitStack& stack,
                         std::size_t direction) {
  const StackStatics statics = stack_statics(stack, input.slip_allowed);
  LevelAnswer out{level, direction, statics.withstood(), TransitVerdict::hold, RideFailure::none};
  if (level.level <= out.capacity) return out;
  // What slides first does not tip: friction lets no more act on it.
  const bool tips = statics.tipping < statics.sliding;
  out.verdict = tips ? TransitVerdict::fall : TransitVerdict::slip;
  out.fails_by = tips ? RideFailure::tip : RideFailure::slip;
  return out;
}

LevelAnswer judge_pulse(const RequirementCase& level, const TransitStack& stack, std::size_t direction,
                        double largest) {
  RideOptions options;
  options.limits = {level.lean, level.permanent, level.shift};
  const Ride ridden = ride(stack, held_blow(level.level, level.rise, level.hold), options);
  LevelAnswer out{level, direction, largest, TransitVerdict::hold, ridden.failure};
  if (ridden.fallen)
    out.verdict = TransitVerdict::fall;
  else if (ridden.failure != RideFailure::none)
    out.verdict = TransitVerdict::slip;
  if (std::isnan(largest)) out.capacity = ridden.failure == RideFailure::none ? level.level : 0.0;
  return out;
}

double stiffness_ratio(const TransitTier& tier) {
  return tier.hoop_tension > 0.0 && tier.stiffness > 0.0 ? tier.stiffness / tier.hoop_tension : usual_ratio;
}

void set_tension(TransitTier& tier, double tension) {
  const double ratio = stiffness_ratio(tier);
  tier.hoop_tension = tension;
  tier.stiffness = ratio * tension;
}

BothStacks with_tension(const BothStacks& stacks, const std::vector<double>& tension) {
  BothStacks changed = stacks;
  for (TransitStack& stack : changed)
    for (std::size_t i = 0; i < stack.tiers.size(); ++i) set_tension(stack.tiers[i], tension[i]);
  return changed;
}

/// Least value in [0, most] at which something holds that, once it holds, goes on to; nothing when not even at `most`.
template <typename Holds>
std::optional<double> least_value(double most, double accuracy, Holds&& holds) {
  if (holds(0.0)) return 0.0;
  if (!holds(most)) return {};
  double low = 0.0, high = most;
  while (high - low > accuracy) {
    const double middle = 0.5 * (low + high);
    (holds(middle) ? high : low) = middle;
  }
  return high;
}

/// Every static level at one interface, all tiers at the same tension.
bool interface_holds(const TransitInput& input, const BothStacks& stacks, std::size_t i, double tension) {
  const BothStacks changed = with_tension(stacks, std::vector<double>(stacks[0].tiers.size(), tension));
  for (std::size_t d = 0; d < 2; ++d) {
    const InterfaceStatics at = stack_statics(changed[d], input.slip_allowed).interfaces[i];
    for (const RequirementCase& level : input.levels->cases)
      if (!level.is_pulse && acts_along(input, level, d) &&
          level.level > std::min(std::max(at.first_slip, at.held), at.tipping))
        return false;
  }
  return true;
}

bool asks_pulses(const TransitInput& input) {
  return std::any_of(input.levels->cases.begin(), input.levels->cases.end(), [](const auto& c) { return c.is_pulse; });
}

}  // namespace

bool acts_along(const TransitInput& input, const RequirementCase& level, std::size_t direction) {
  if (input.direction == TransitDirection::worst) return true;
  const std::size_t along_vehicle = input.direction == TransitDirection::along_length ? 0 : 1;
  return (level.direction == VehicleDirection::sideways) != (direction == along_vehicle);
}

std::vector<LevelAnswer> static_levels(const TransitInput& input, const std::array<TransitSide, 2>& sides) {
  std::vector<LevelAnswer> answers;
  if (!input.levels) return answers;
  for (const RequirementCase& level : input.levels->cases)
    for (std::size_t d = 0; d < 2; ++d)
      if (!level.is_pulse && acts_along(input, level, d))
        answers.push_back(judge_static(input, level, sides[d].stack, d));
  return answers;
}

std::vector<LevelAnswer> judge_levels(const TransitInput& input, const BothStacks& stacks,
                                      const std::array<double, 2>& largest) {
  std::vector<LevelAnswer> answers;
  if (!input.levels) return answers;
  for (const RequirementCase& level : input.levels->cases)
    for (std::size_t d = 0; d < 2; ++d) {
      if (!acts_along(input, level, d)) continue;
      answers.push_back(level.is_pulse ? judge_pulse(level, stacks[d], d, largest[d])
                                       : judge_static(input, level, stacks[d], d));
    }
  return answers;
}

bool band_crosses(const BandResult* band, const LevelAnswer& answer) {
  if (band == nullptr) return false;
  const auto ends = band->band(std::string("transit.weakest.") + load_direction_names[answer.direction] +
                               (answer.level.is_pulse ? ".largest_pulse" : ".withstood"));
  return ends && ends->low < answer.level.level && answer.level.level < ends->high;
}

bool meets(const TransitInput& input, const BothStacks& stacks) {
  constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
  for (const LevelAnswer& answer : judge_levels(input, stacks, {unknown, unknown}))
    if (answer.verdict != TransitVerdict::hold) return false;
  return true;
}

std::vector<RequiredTension> required_tension(const TransitInput& input, const BothStacks& stacks) {
  const std::size_t count = stacks[0].tiers.size();
  std::vector<double> tension(count, 0.0);
  for (std::size_t i = 0; i < count; ++i) {
    const auto least = least_value(most_tension, 1.0, [&](double n) { return interface_holds(input, stacks, i, n); });
    if (!least) return {};
    tension[i] = *least;
  }
  // What one tier holds by hangs on the film of the others: all are raised until the whole load holds.
  const auto raised = [&](double share) {
    std::vector<double> now = tension;
    for (double& n : now) n += share * (most_tension - n);
    return now;
  };
  const double accuracy = asks_pulses(input) ? 0.005 : 0.0005;
  const auto share =
      least_value(1.0, accuracy, [&](double x) { return meets(input, with_tension(stacks, raised(x))); });
  if (!share) return {};
  std::vector<RequiredTension> out;
  double height = 0.0;
  const std::vector<double> found = raised(*share);
  for (std::size_t i = 0; i < count; ++i) {
    out.push_back({height, found[i]});
    height += stacks[0].tiers[i].height;
  }
  return out;
}

}  // namespace hoopfield
