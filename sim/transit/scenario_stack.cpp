// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/scenario_stack.hpp"

#include "sim/stations/containment.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

constexpr double usual_tier = 0.25;     // m
constexpr double stuck_friction = 0.6;  // greatest of the calibration

bool has_field(const Field& field, std::size_t axes) { return field.shape.size() == axes && !field.data.empty(); }

/// Mean over the two faces that run along a direction, per slice.
template <typename AtFace>
std::vector<double> side_mean(std::size_t slices, std::size_t direction, AtFace&& at_face) {
  std::vector<double> mean(slices, 0.0);
  for (std::size_t f = 0; f < face_count; ++f)
    if (direction_of(f) == direction)
      for (std::size_t s = 0; s < slices; ++s) mean[s] += 0.5 * at_face(f, s);
  return mean;
}

double hoop_tension_at(const Result& r, std::size_t moment, std::size_t face, std::size_t slice) {
  if (!has_field(r.hoop_tension, 3)) return 0.0;
  const std::size_t times = r.hoop_tension.shape[0];
  if (moment == 0) return r.hoop_tension.at(0, face, slice);
  if (moment != weakest_moment) return r.hoop_tension.at(times - 1, face, slice);
  double least = r.hoop_tension.at(0, face, slice);
  for (std::size_t t = 1; t < times; ++t) least = std::min(least, r.hoop_tension.at(t, face, slice));
  return least;
}

}  // namespace

std::vector<std::string> missing_for_transit(const Scenario& s) {
  if (!s.load.mass && s.load.tier.empty()) return {"load.mass"};
  return {};
}

std::vector<TierInput> tiers_of(const Scenario& s) {
  if (!s.load.tier.empty()) return s.load.tier;
  if (!s.load.mass) return {};
  const int count =
      s.load.tiers.value_or(std::clamp(static_cast<int>(std::lround(s.load.height / usual_tier)), 1, 100));
  return std::vector<TierInput>(static_cast<std::size_t>(count),
                                TierInput{s.load.height / count, *s.load.mass / count, {}});
}

TransitStack transit_stack(const Scenario& s, const Result& r, std::size_t moment, std::size_t direction) {
  TransitStack stack;
  stack.side = direction == 0 ? s.load.length : s.load.width;
  stack.sliding_share = s.friction.sliding_share;
  stack.sway_stiffness = s.transit.sway_stiffness;
  stack.tier_stiffness = s.transit.tier_stiffness;
  stack.damping = s.transit.damping;
  stack.bearing_share = s.transit.bearing_share;
  stack.columns = s.transit.columns;
  stack.case_friction = s.friction.between_tiers;
  stack.film_friction = s.friction.film_on_load.value_or(stuck_friction);
  stack.film_bottom = s.pattern.start_height;
  stack.film_top = s.load.height - r.pattern.uncovered_top;
  stack.pallet_lock = s.transit.pallet_lock;
  stack.top_fold_hold = s.transit.top_fold_hold;
  const std::size_t slices = r.height.size();
  const double slice = s.load.height / static_cast<double>(slices);
  const auto tension =
      side_mean(slices, direction, [&](std::size_t f, std::size_t i) { return hoop_tension_at(r, moment, f, i); });
  const auto stiffness = side_mean(slices, direction, [&](std::size_t f, std::size_t i) {
    return has_field(r.film_stiffness, 2) ? r.film_stiffness.at(f, i) : 0.0;
  });
  double below = 0.0;
  for (const TierInput& tier : tiers_of(s)) {
    const double centre = below + 0.5 * tier.height;
    const double friction =
        tier.friction_below.value_or(below > 0.0 ? s.friction.between_tiers : s.friction.tier_on_pallet);
    stack.tiers.push_back({tier.height, tier.mass, friction, band_mean(tension, slice, centre, tier.height),
                           band_mean(stiffness, slice, centre, tier.height)});
    below += tier.height;
  }
  return stack;
}

TransitSide transit_side(const Scenario& s, const Result& r, std::size_t moment, std::size_t direction) {
  TransitSide side{transit_stack(s, r, moment, direction), {}};
  side.statics = stack_statics(side.stack, s.transit.slip_allowed);
  return side;
}

TransitStatics transit_statics(const Scenario& s, const Result& r) {
  TransitStatics out;
  out.missing = missing_for_transit(s);
  if (!out.missing.empty()) return out;
  for (std::size_t moment = 0; moment < transit_moments; ++moment)
    for (std::size_t direction = 0; direction < 2; ++direction)
      out.at[moment][direction] = transit_side(s, r, moment, direction);
  return out;
}

}  // namespace hoopfield
