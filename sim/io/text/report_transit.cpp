// SPDX-License-Identifier: BSD-3-Clause
// What the page draws of the load in transit: the direction and level it shows, and the ride there. What interfaces
// withstand stands in the summary.
#include "models/error.hpp"
#include "sim/inputs/requirement.hpp"
#include "sim/io/text/detail/report_parts.hpp"
#include "sim/transit/levels.hpp"
#include "sim/words/transit_target_text.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield::detail {
namespace {

constexpr double usual_level = 0.5 * standard_gravity;  // where nothing is required
constexpr std::size_t most_moments = 60, most_lines = 6;

Json in_gn(double acceleration) { return number(rounded(acceleration / standard_gravity)); }
Json in_mm(double length) { return number(rounded(1e3 * length)); }

/// The direction and level that the page shows: the level with the least margin, pulses ridden at their level.
struct Shown {
  std::size_t direction = 0;
  double level = usual_level;
  bool is_pulse = true;
  bool asked = false;
  std::string verdict;
  std::string vehicle;
};

Shown worst_of(const std::vector<LevelAnswer>& levels, const std::array<TransitSide, 2>& sides) {
  Shown shown;
  const auto least = std::min_element(levels.begin(), levels.end(),
                                      [](const auto& a, const auto& b) { return a.margin() < b.margin(); });
  if (least == levels.end()) {
    shown.direction = sides[1].statics.withstood() < sides[0].statics.withstood() ? 1 : 0;
    return shown;
  }
  return {least->direction,
          least->level.level,
          least->level.is_pulse,
          true,
          verdict_name(least->verdict),
          vehicle_direction_name(least->level.direction)};
}

/// Row of the record nearest to a time; the last one of a load that fell.
std::size_t row_of(const Ride& ride, double time) {
  if (ride.fallen) return ride.time.size() - 1;
  const auto after = std::lower_bound(ride.time.begin(), ride.time.end(), time);
  return std::min(static_cast<std::size_t>(after - ride.time.begin()), ride.time.size() - 1);
}

/// Every tier at one moment, from below.
Json worst_tiers(const TransitStack& stack, const Ride& ride, std::size_t row) {
  Json list = Json::array();
  const std::size_t count = stack.tiers.size();
  for (std::size_t i = 0; i < count; ++i)
    list.push_back({{"tier", i + 1},
                    {"height_m", number(rounded(stack.tiers[i].height))},
                    {"shift_mm", in_mm(ride.shift[row * count + i])},
                    {"turn_rad", number(rounded(ride.turn[row * count + i]))},
                    {"slip_mm", in_mm(ride.slip[row * count + i])}});
  return list;
}

/// Displacement over time of a few tiers, the lowest and the top one among them.
Json tier_lines(const TransitStack& stack, const Ride& ride, std::size_t step) {
  Json lines = Json::array();
  const std::size_t count = stack.tiers.size(), drawn = std::min(count, most_lines);
  for (std::size_t k = 0; k < drawn; ++k) {
    const std::size_t tier = drawn == 1 ? 0 : k * (count - 1) / (drawn - 1);
    Json shift = Json::array();
    for (std::size_t row = 0; row < ride.time.size(); row += step)
      shift.push_back(in_mm(ride.shift[row * count + tier]));
    lines.push_back({{"tier", tier + 1}, {"shift_mm", std::move(shift)}});
  }
  return lines;
}

Json ride_json(const TransitInput& input, const TransitStack& stack, const Shown& shown) {
  const BlowShape shape = blow_shape(input);
  RideOptions options;
  options.limits = shape.limits;
  options.record_interval = 0.005;
  const Ride done = ride(stack, held_blow(shown.level, shape.rise, shape.hold), options);
  if (done.time.empty()) return nullptr;
  const std::size_t row = row_of(done, done.lean_time),
                    step = std::max<std::size_t>(1, done.time.size() / most_moments);
  Json times = Json::array();
  for (std::size_t r = 0; r < done.time.size(); r += step) times.push_back(number(rounded(done.time[r])));
  return {{"rise_ms", in_mm(shape.rise)},
          {"hold_ms", in_mm(shape.hold)},
          {"fallen", done.fallen},
          {"lean_mm", in_mm(done.lean)},
          {"moment_s", number(rounded(done.time[row]))},
          {"first_interface", done.first_slip ? Json(*done.first_slip + 1) : Json(nullptr)},
          {"time_s", std::move(times)},
          {"tiers", tier_lines(stack, done, step)},
          {"worst", worst_tiers(stack, done, row)}};
}

}  // namespace

Json transit_picture(const Scenario& s, const Result& r) {
  const TransitStatics statics = transit_statics(s, r);
  Json json = {{"missing", statics.missing}};
  if (!statics.missing.empty()) return json;
  const auto& sides = statics.at[weakest_moment];
  const BothStacks stacks = {sides[0].stack, sides[1].stack};
  constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
  try {
    const Shown shown = worst_of(judge_levels(s.transit, stacks, {unknown, unknown}), sides);
    const TransitSide& side = sides[shown.direction];
    json["load_direction"] = load_direction_names[shown.direction];
    json["direction"] = words::direction_words(load_direction_names[shown.direction]);
    json["requirement"] = shown.asked ? Json(s.transit.levels->name) : Json(nullptr);
    json["status"] = shown.asked ? Json(s.transit.levels->status) : Json(nullptr);
    json["level_gn"] = in_gn(shown.level);
    json["is_pulse"] = shown.is_pulse;
    json["vehicle_direction"] = shown.vehicle;
    json["verdict"] = shown.verdict;
    json["side_m"] = side.stack.side;
    json["ride"] = ride_json(s.transit, side.stack, shown);
  } catch (const SolverError& error) {
    json["message"] = error.what();
  }
  return json;
}

}  // namespace hoopfield::detail
