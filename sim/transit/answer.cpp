// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/answer.hpp"

#include "models/error.hpp"
#include "sim/transit/levels.hpp"
#include "sim/transit/remedies.hpp"
#include "sim/transit/transit_numbers.hpp"

#include <algorithm>
#include <numbers>

namespace hoopfield {
namespace {

constexpr double shown_level = 0.5 * standard_gravity;  // of a ride nobody asked for

double greatest_pulse(const TransitInput& input, std::size_t direction) {
  double greatest = 0.0;
  if (input.levels)
    for (const RequirementCase& level : input.levels->cases)
      if (level.is_pulse && acts_along(input, level, direction)) greatest = std::max(greatest, level.level);
  return greatest > 0.0 ? greatest : shown_level;
}

void add_tilt(const TransitStack& stack, double slip_allowed, DirectionAnswer& out) {
  constexpr double rate = 2.0 * std::numbers::pi / 180.0, most = 45.0 * std::numbers::pi / 180.0;
  RideOptions options;
  options.limits.shift = slip_allowed / stack.height();
  options.stop_at_failure = true;
  options.duration = most / rate;
  const Ride tilted = ride(stack, slow_tilt(rate, most), options);
  if (tilted.first_slip) out.tilt_slip = rate * tilted.tiers[*tilted.first_slip].slip_time;
  if (tilted.failure != RideFailure::none) out.tilt_passed = rate * tilted.end;
}

}  // namespace

const char* verdict_name(TransitVerdict verdict) {
  static constexpr std::array<const char*, 3> names = {"hold", "slip", "fall"};
  return names[static_cast<std::size_t>(verdict)];
}

const char* failure_name(RideFailure failure) {
  static constexpr std::array<const char*, 6> names = {"none", "slip", "lean", "tip", "shift", "shift"};
  return names[static_cast<std::size_t>(failure)];
}

BlowShape blow_shape(const TransitInput& input) {
  BlowShape shape;
  if (!input.levels) return shape;
  for (const RequirementCase& level : input.levels->cases)
    if (level.is_pulse) return {level.rise, level.hold, {level.lean, level.permanent, level.shift}};
  return shape;
}

double largest_of(const TransitStack& stack, const BlowShape& shape) {
  return largest_blow(
      stack, [&](double level) { return held_blow(level, shape.rise, shape.hold); }, shape.limits);
}

std::optional<double> least_margin(const std::vector<LevelAnswer>& levels, std::optional<std::size_t> direction) {
  std::optional<double> least;
  for (const LevelAnswer& level : levels)
    if (level.direction == direction.value_or(level.direction))
      least = std::min(least.value_or(level.margin()), level.margin());
  return least;
}

const std::vector<std::string>& pulse_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> list;
    for (const char* direction : load_direction_names)
      for (const char* number : {"largest_pulse", "lean", "slip"})
        list.push_back(std::string("transit.weakest.") + direction + "." + number);
    return list;
  }();
  return names;
}

std::vector<double> pulse_numbers(const Scenario& s, const Result& r) {
  std::vector<double> numbers;
  const BlowShape shape = blow_shape(s.transit);
  for (std::size_t d = 0; d < load_direction_names.size(); ++d) {
    const TransitStack stack = transit_stack(s, r, weakest_moment, d);
    const Ride told = ride(stack, held_blow(greatest_pulse(s.transit, d), shape.rise, shape.hold), {});
    numbers.push_back(largest_of(stack, shape));
    numbers.push_back(told.fallen ? stack.height() : told.lean);
    numbers.push_back(told.fallen ? stack.height() : told.greatest_slip());
  }
  return numbers;
}

TransitAnswer answer_transit(const Scenario& s, const Result& r, const TransitOptions& options, Observer* observer) {
  const auto report = [&](double share) {
    if (observer != nullptr && !observer->progress(share, "blows to the load")) throw Interrupted();
  };
  require_transit_inputs(s);
  TransitAnswer out;
  out.statics = transit_statics(s, r);
  const BlowShape shape = blow_shape(s.transit);
  const BothStacks stacks = {out.statics.at[weakest_moment][0].stack, out.statics.at[weakest_moment][1].stack};
  std::array<double, 2> largest{};
  for (std::size_t d = 0; d < 2; ++d) {
    report(0.05 + 0.1 * static_cast<double>(d));
    DirectionAnswer& answer = out.direction[d];
    answer.largest_blow = largest[d] = largest_of(stacks[d], shape);
    answer.ridden = greatest_pulse(s.transit, d);
    RideOptions ridden;
    ridden.limits = shape.limits;
    ridden.record_interval = options.record_interval;
    answer.ride = ride(stacks[d], held_blow(answer.ridden, shape.rise, shape.hold), ridden);
    if (options.tilt) add_tilt(stacks[d], s.transit.slip_allowed, answer);
  }
  out.levels = judge_levels(s.transit, stacks, largest);
  out.margin = least_margin(out.levels);
  if (s.transit.levels) {
    report(0.3);
    out.required = required_tension(s.transit, stacks);
    out.cannot_meet = out.required.empty();
  }
  if (options.predictor) {
    const std::vector<Remedy> list = remedies_of(stacks[0]);
    for (std::size_t i = 0; i < list.size(); ++i) {
      report(0.4 + 0.6 * static_cast<double>(i) / static_cast<double>(list.size()));
      out.remedies.push_back(try_remedy(list[i], s, r, options.predictor));
    }
  }
  report(1.0);
  return out;
}

}  // namespace hoopfield
