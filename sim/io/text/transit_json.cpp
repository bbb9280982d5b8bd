// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/transit_json.hpp"

#include "models/caution.hpp"
#include "models/output_names.hpp"
#include "sim/base/build_info.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/inputs/requirement.hpp"
#include "sim/io/text/detail/json_parts.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/transit/levels.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopfield {
namespace {

using detail::Json;

constexpr double degree = std::numbers::pi / 180.0;

Json finite(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }
Json in_gn(double acceleration) { return finite(acceleration / standard_gravity); }
Json in_mm(double length) { return finite(1e3 * length); }

/// A declared number under its name with its unit.
void put(Json& json, const char* key, double in_si) {
  const Parameter& p = *find_parameter(ParameterRoom::output, key);
  json[json_leaf(p)] = finite(json_number(p, in_si));
}
void put_nothing(Json& json, const char* key) {
  json[json_leaf(*find_parameter(ParameterRoom::output, key))] = nullptr;
}

Json interfaces_json(const TransitSide& side) {
  Json list = Json::array();
  for (const InterfaceStatics& at : side.statics.interfaces)
    list.push_back({{"height_m", at.height},
                    {"first_slip_gn", in_gn(at.first_slip)},
                    {"held_gn", in_gn(at.held)},
                    {"tipping_gn", in_gn(at.tipping)},
                    {"film_force_N", finite(at.film_force)}});
  return list;
}

void put_verdict(Json& json, const std::vector<LevelAnswer>& levels, std::size_t direction,
                 const BandResult* band = nullptr) {
  const LevelAnswer* worst = nullptr;
  for (const LevelAnswer& level : levels)
    if (level.direction == direction && (worst == nullptr || level.margin() < worst->margin())) worst = &level;
  if (worst == nullptr) {
    put_nothing(json, "transit.margin");
    json["prediction"] = nullptr;
    json["fails_by"] = nullptr;
    return;
  }
  put(json, "transit.margin", worst->margin());
  const bool open = band_crosses(band, *worst);
  json["prediction"] = open ? "band_crosses" : verdict_name(worst->verdict);
  json["fails_by"] = failure_name(worst->fails_by);
}

Json side_json(const TransitSide& side) {
  Json json;
  put(json, "transit.first_slip", side.statics.first_slip);
  put(json, "transit.held", side.statics.held);
  put(json, "transit.tipping", side.statics.tipping);
  put(json, "transit.withstood", side.statics.withstood());
  put(json, "transit.film_share", side.statics.film_share);
  json["weakest_interface"] = side.statics.weakest + 1;
  return json;
}

void put_ride(Json& json, const DirectionAnswer& answer) {
  put(json, "transit.largest_pulse", answer.largest_blow);
  const Ride& ride = answer.ride;
  json["ridden_gn"] = in_gn(answer.ridden);
  json["first_interface"] = ride.first_slip ? Json(*ride.first_slip + 1) : Json(nullptr);
  json["first_slip_s"] = ride.first_slip ? finite(ride.tiers[*ride.first_slip].slip_time) : Json(nullptr);
  put(json, "transit.lean", ride.lean);
  put(json, "transit.slip", ride.greatest_slip());
  json["fallen"] = ride.fallen;
  Json tiers = Json::array();
  for (const RideTier& tier : ride.tiers)
    tiers.push_back({{"slip_mm", in_mm(tier.slip)},
                     {"peak_mm", in_mm(tier.peak)},
                     {"permanent_mm", in_mm(tier.permanent)},
                     {"film_force_N", finite(tier.film_force)},
                     {"film_share_of_need", finite(tier.film_share)}});
  json["tiers"] = std::move(tiers);
  json["tilt_slip_deg"] = answer.tilt_slip ? Json(*answer.tilt_slip / degree) : Json(nullptr);
  json["tilt_passed_deg"] = answer.tilt_passed ? Json(*answer.tilt_passed / degree) : Json(nullptr);
}

/// What both answers begin with.
Json head_json(const Scenario& scenario, const TransitStatics& statics) {
  Json json;
  json["missing"] = statics.missing;
  if (!statics.missing.empty()) return json;
  json["requirement"] = nullptr;
  if (const auto& set = scenario.transit.levels)
    json["requirement"] = {{"name", set->name}, {"source", set->source}, {"status", set->status}};
  const auto& deck = scenario.transit.deck_friction;
  json["deck_slip_gn"] = deck ? Json(*deck) : Json(nullptr);
  return json;
}

Json levels_json(const std::vector<LevelAnswer>& levels, const BandResult* band) {
  Json list = Json::array();
  for (const LevelAnswer& at : levels)
    list.push_back({{"direction", vehicle_direction_name(at.level.direction)},
                    {"load_direction", load_direction_names[at.direction]},
                    {"kind", at.level.is_pulse ? "pulse" : "static"},
                    {"level_gn", in_gn(at.level.level)},
                    {"capacity_gn", in_gn(at.capacity)},
                    {"margin", finite(at.margin())},
                    {"prediction", band_crosses(band, at) ? "band_crosses" : verdict_name(at.verdict)},
                    {"fails_by", failure_name(at.fails_by)},
                    {"status", at.level.status}});
  return list;
}

Json required_json(const TransitAnswer& answer) {
  Json list = Json::array();
  for (const RequiredTension& at : answer.required) list.push_back({{"height_m", at.height}, {"N_per_m", at.tension}});
  return list;
}

Json remedies_json(const TransitAnswer& answer) {
  Json list = Json::array();
  for (const TransitRemedy& remedy : answer.remedies) {
    const auto lesser = [&](const std::array<double, 2>& of) {
      return remedy.message.empty() ? in_gn(std::min(of[0], of[1])) : Json(nullptr);
    };
    list.push_back({{"name", remedy.name},
                    {"static_gn", lesser(remedy.withstood)},
                    {"largest_pulse_gn", lesser(remedy.largest_blow)},
                    {"margin", remedy.margin ? finite(*remedy.margin) : Json(nullptr)},
                    {"more_film_kg", remedy.message.empty() ? finite(remedy.more_film) : Json(nullptr)},
                    {"message", remedy.message}});
  }
  return list;
}

Json influences_json(const TransitAnswer& answer) {
  Json list = Json::array();
  for (const PulseInfluence& at : answer.influences)
    list.push_back({{"key", at.key},
                    {"low", at.low},
                    {"high", at.high},
                    {"at_low_gn", in_gn(at.at_low)},
                    {"at_high_gn", in_gn(at.at_high)}});
  return list;
}

}  // namespace

detail::Json detail::transit_statics_json(const Scenario& scenario, const TransitStatics& statics,
                                          const Result* result) {
  Json json = head_json(scenario, statics);
  if (!statics.missing.empty()) return json;
  const std::vector<std::string> moments = axis_names("moment");
  for (std::size_t m = 0; m < transit_moments; ++m) {
    const auto levels = static_levels(scenario.transit, statics.at[m]);
    for (std::size_t d = 0; d < 2; ++d) {
      Json& at = json[moments[m]][load_direction_names[d]] = side_json(statics.at[m][d]);
      put_verdict(at, levels, d, m == weakest_moment && result != nullptr && result->band ? &*result->band : nullptr);
      at["interfaces"] = interfaces_json(statics.at[m][d]);
    }
  }
  return json;
}

std::string transit_json(const Scenario& scenario, const TransitAnswer& answer) {
  Json json;
  json["schema"] = result_schema;
  json["version"] = build_version();
  json["title"] = scenario.title;
  json["caution"] = short_caution;
  Json transit = detail::transit_statics_json(scenario, answer.statics);
  const BandResult* band = answer.band ? &*answer.band : nullptr;
  Json& weakest = transit[axis_names("moment")[weakest_moment]];
  for (std::size_t d = 0; d < 2; ++d) {
    Json& at = weakest[load_direction_names[d]];
    put_verdict(at, answer.levels, d, band);
    put_ride(at, answer.direction[d]);
  }
  transit["levels"] = levels_json(answer.levels, band);
  transit["required_hoop_tension"] = required_json(answer);
  transit["cannot_meet"] = answer.cannot_meet;
  transit["remedies"] = remedies_json(answer);
  transit["influences"] = influences_json(answer);
  json["transit"] = std::move(transit);
  json["band"] = band != nullptr ? detail::band_json(*band) : Json(nullptr);
  json["inputs_hash"] = inputs_hash(scenario);
  return detail::json_text(json);
}

}  // namespace hoopfield
