// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/json_writer.hpp"

#include "models/caution.hpp"
#include "models/output_names.hpp"
#include "sim/base/build_info.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/io/text/detail/json_parts.hpp"
#include "sim/outputs/outputs.hpp"

#include <cmath>
#include <vector>

namespace hoopfield {

namespace {

using detail::Json;
using detail::replace_not_finite;
using detail::warning_json;

/// Places of a number along the axes of its output, as names; the last axis changes fastest.
std::vector<std::string> place_names(const OutputValue& output, std::size_t index) {
  const std::vector<std::string> axes = axis_list(*output.declaration);
  std::vector<std::string> names(axes.size());
  for (std::size_t a = axes.size(); a-- > 0; index /= output.shape[a])
    names[a] = axis_names(axes[a]).at(index % output.shape[a]);
  return names;
}

/// The object that holds `path`, made on the way where it is missing.
Json& parent_of(Json& root, std::string_view path) {
  Json* at = &root;
  for (std::size_t dot = path.find('.'); dot != std::string_view::npos; dot = path.find('.')) {
    at = &(*at)[std::string(path.substr(0, dot))];
    path.remove_prefix(dot + 1);
  }
  return *at;
}

/// The numbers of the summary, each under its key with the unit behind its name.
void put_numbers(Json& json, const Result& result) {
  visit_outputs(result, [&](const OutputValue& output) {
    if (!output.declaration->in_summary) return;
    const std::string leaf = json_leaf(*output.declaration);
    const bool words = !output.words.empty();
    for (std::size_t i = 0; i < (words ? output.words.size() : output.numbers.size()); ++i) {
      Json& parent = parent_of(json, key_at(*output.declaration, place_names(output, i)));
      if (words)
        parent[leaf] = output.words[i];
      else
        parent[leaf] = json_number(*output.declaration, output.numbers[i]);
    }
  });
}

Json assumed_json(const std::vector<UnknownInput>& unknowns) {
  Json list = Json::array();
  for (const UnknownInput& u : unknowns) {
    if (u.origin != "assumed" && u.key != "film.thickness") continue;  // its tolerance is
    Json item = {{"key", u.key}, {"value", u.value_text}, {"low", u.low_text}, {"high", u.high_text}};
    // A failed end has no number: null by intent, explained in `message`, no warning of its own.
    item["containment_low_N_per_m"] = std::isfinite(u.containment_low) ? Json(u.containment_low) : Json(nullptr);
    item["containment_high_N_per_m"] = std::isfinite(u.containment_high) ? Json(u.containment_high) : Json(nullptr);
    item["effect"] = std::isfinite(u.effect) ? Json(u.effect) : Json(nullptr);
    item["how_to_measure"] = u.how_to_measure;
    item["caution"] = u.caution;
    item["failed"] = u.failed;
    item["message"] = u.message;
    list.push_back(std::move(item));
  }
  return list;
}

Json targets_json(const std::vector<TargetResult>& targets) {
  Json list = Json::array();
  for (const TargetResult& t : targets) {
    list.push_back({{"station", t.station},
                    {"quantity", t.quantity},
                    {"at", t.at},
                    {"wanted", t.wanted},
                    {"predicted", t.predicted},
                    {"unit", detail::unit_of_quantity(t.quantity)},
                    {"met", t.met},
                    {"probability", t.probability ? Json(*t.probability) : Json(nullptr)},
                    {"probability_error", t.probability_error ? Json(*t.probability_error) : Json(nullptr)}});
  }
  return list;
}

Json input_value(const InputRow& row) {
  if (!std::isfinite(row.number)) return row.text;
  if (row.whole) return static_cast<std::int64_t>(row.number);
  return row.number;
}

Json inputs_json(const Scenario& scenario) {
  Json json = Json::object();
  for (const InputRow& row : input_rows(scenario)) {
    json[row.key] = {{"value", input_value(row)},
                     {"unit", row.unit},
                     {"origin", row.origin},
                     {"file", row.file},
                     {"line", row.line}};
  }
  return json;
}

Json run_info_json(const RunInfo& info) {
  return {{"started", info.started},
          {"duration_s", info.duration},
          {"host_system", info.host_system},
          {"host_threads", info.host_threads}};
}

}  // namespace

detail::Json detail::summary_object(const Scenario& scenario, const Result& result,
                                    const std::optional<RunInfo>& run_info) {
  Json json;
  json["schema"] = result_schema;
  json["version"] = build_version();
  json["title"] = scenario.title;
  json["caution"] = short_caution;
  put_numbers(json, result);
  json["sensitivity"] = nullptr;
  if (result.sensitivity)
    json["sensitivity"] = {{"end", result.sensitivity->end}, {"after_storage", result.sensitivity->after_storage}};
  json["targets"] = targets_json(result.targets);
  json["assumed"] = assumed_json(result.assumed);
  json["ranking"] = detail::ranking_json(result.assumed);
  json["indices"] = detail::indices_json(result.indices);
  json["band"] = result.band ? detail::band_json(*result.band) : Json(nullptr);
  if (economics_asked(scenario.film, scenario.cost)) json["cost"] = detail::economics_json(economics(scenario, result));
  json["transit"] = detail::transit_statics_json(scenario, transit_statics(scenario, result), &result);
  Json warnings = Json::array();
  for (const Warning& w : result.warnings) warnings.push_back(warning_json(w));
  replace_not_finite(json, "", warnings);
  json["warnings"] = std::move(warnings);
  json["inputs"] = inputs_json(scenario);
  json["inputs_hash"] = inputs_hash(scenario);
  if (run_info) json["run_info"] = run_info_json(*run_info);
  return json;
}

std::string summary_json(const Scenario& scenario, const Result& result, const std::optional<RunInfo>& run_info) {
  return detail::json_text(detail::summary_object(scenario, result, run_info));
}

}  // namespace hoopfield
