// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/detail/json_parts.hpp"

#include "models/output_names.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/transit/transit_target.hpp"

#include <cmath>

namespace hoopfield::detail {

const char* unit_of_quantity(const std::string& quantity) {
  if (quantity == transit_target_quantity) return "";
  return quantity == "pull_force" ? "N" : "N/m";
}

Json warning_json(const Warning& w) {
  return {{"code", w.code}, {"severity", w.severity}, {"key", w.key}, {"text", w.text}};
}

Json economics_json(const Economics& e) {
  Json json = {{"currency", e.currency}};
  const std::string cost = "cost.", year = "year.";
  visit_outputs(e, [&](const OutputValue& output) {
    const double number = json_number(*output.declaration, output.numbers.front());
    const bool yearly = output.declaration->key.substr(cost.size()).starts_with(year);
    const std::string leaf = json_leaf(*output.declaration);
    (yearly ? json["year"] : json)[leaf] = number;
    if (output.declaration->key == "cost.co2e_factor_high") json["co2e_source"] = e.co2e_factor.source;
    if (output.declaration->key == "cost.energy_factor_high") json["energy_source"] = e.energy_factor.source;
  });
  return json;
}

void replace_not_finite(Json& json, const std::string& place, Json& warnings) {
  if (json.is_number_float() && !std::isfinite(json.get<double>())) {
    json = nullptr;
    warnings.push_back(
        warning_json({"not-finite", "caution", place, "no finite number could be computed for " + place}));
  } else if (json.is_structured()) {
    const std::string above = place.empty() ? place : place + ".";
    for (auto& [key, child] : json.items()) replace_not_finite(child, above + key, warnings);
  }
}

std::string json_text(const Json& json) { return json.dump(2, ' ', false, Json::error_handler_t::replace); }

}  // namespace hoopfield::detail
