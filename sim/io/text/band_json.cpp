// SPDX-License-Identifier: BSD-3-Clause
// What the draws say, as JSON: bands, ranking, indices.
#include "models/output_names.hpp"
#include "sim/io/text/detail/json_parts.hpp"
#include "sim/outputs/outputs.hpp"

#include <cmath>

namespace hoopfield::detail {
namespace {

Json finite(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }
Json known(const std::optional<double>& value) { return value ? finite(*value) : Json(nullptr); }

/// "containment.end.top.hoop_tension_N_per_m" of "containment.end.top.hoop_tension"
std::string json_name(const std::string& name, const Parameter& p) {
  return name.substr(0, name.rfind('.') + 1) + json_leaf(p);
}

Json values_json(const BandResult& band) {
  Json values = Json::object();
  for (const std::string& name : band.names) {
    const auto ends = band.band(name);
    if (!ends) continue;
    const Parameter& p = *drawn_output(name).declaration;
    values[json_name(name, p)] = {
        {"p05", json_number(p, ends->low)}, {"p50", json_number(p, ends->median)}, {"p95", json_number(p, ends->high)}};
  }
  return values;
}

Json unknowns_json(const BandResult& band) {
  Json list = Json::array();
  for (const DrawnInput& u : band.unknowns)
    list.push_back({{"key", u.key},
                    {"origin", u.origin},
                    {"unit", u.unit},
                    {"p05", finite(u.low)},
                    {"p50", finite(u.value)},
                    {"p95", finite(u.high)},
                    {"scale_below", u.below},
                    {"scale_above", u.above},
                    {"formula_share", u.formula_share}});
  return list;
}

}  // namespace

Json band_json(const BandResult& band) {
  Json failed = Json::object();
  for (const FailedDraws& reason : band.failed) failed[reason.code] = static_cast<std::int64_t>(reason.count);
  Json json = {{"samples", static_cast<std::int64_t>(band.samples)},
               {"failed", static_cast<std::int64_t>(band.failed_draws())},
               {"failed_because", failed},
               {"redrawn", static_cast<std::int64_t>(band.redrawn)},
               {"message", band.message}};
  json["sampling_error_percent_of_width"] = Json(nullptr);
  if (const auto error = band.largest_sampling_error()) json["sampling_error_percent_of_width"] = 100.0 * *error;
  json["unknowns"] = unknowns_json(band);
  json["values"] = values_json(band);
  return json;
}

Json ranking_json(const std::vector<UnknownInput>& unknowns) {
  Json list = Json::array();
  for (const UnknownInput& u : unknowns) {
    list.push_back({{"key", u.key},
                    {"origin", u.origin},
                    {"group", u.group},
                    {"quantity", u.quantity},
                    {"at", u.at},
                    {"station", u.station},
                    {"unit", unit_of_quantity(u.quantity)},
                    {"low", finite(u.low)},
                    {"high", finite(u.high)},
                    {"effect", finite(u.effect)},
                    {"share", known(u.share)},
                    {"r_squared", known(u.r_squared)},
                    {"p05_if_known", known(u.known_low)},
                    {"p95_if_known", known(u.known_high)},
                    {"how_to_measure", u.how_to_measure},
                    {"caution", u.caution}});
  }
  return list;
}

Json indices_json(const std::vector<UnknownIndex>& indices) {
  Json list = Json::array();
  for (const UnknownIndex& i : indices)
    list.push_back({{"key", i.key},
                    {"first", i.index.first},
                    {"total", i.index.total},
                    {"first_error", i.index.first_error},
                    {"total_error", i.index.total_error}});
  return list;
}

}  // namespace hoopfield::detail
