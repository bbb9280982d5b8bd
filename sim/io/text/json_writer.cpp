// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/json_writer.hpp"

#include "sim/base/build_info.hpp"
#include "sim/io/text/detail/json_parts.hpp"
#include "sim/inputs/input_rows.hpp"

#include <cmath>
#include <vector>

namespace hoopfield {

namespace {

using detail::Json;
using detail::replace_not_finite;
using detail::warning_json;

constexpr double mm = 1e3;
constexpr double zero_celsius = 273.15;

Json face_json(const StationFace& face) {
  return {{"hoop_tension_N_per_m", face.hoop_tension},
          {"film_layers", face.film_layers},
          {"strand_force_N", face.strand_force},
          {"pull_force_N", face.pull_force}};
}

Json station_json(const StationResult& station) {
  Json json = {{"height_m", station.height},
               {"hoop_tension_N_per_m", station.hoop_tension},
               {"band_tension_N", station.band_tension},
               {"pull_force_N", station.pull_force},
               {"strand_force_N", station.strand_force},
               {"tent_factor", station.tent_factor},
               {"pull_force_film_stretch_share", station.pull_force_film_stretch_share},
               {"film_layers", station.film_layers},
               {"film_layers_min", station.film_layers_min},
               {"film_layers_max", station.film_layers_max}};
  for (std::size_t f = 0; f < face_count; ++f) json["faces"][face_names[f]] = face_json(station.faces[f]);
  return json;
}

Json containment_json(const ContainmentResult& containment) {
  Json json;
  for (std::size_t s = 0; s < station_names.size(); ++s) json[station_names[s]] = station_json(containment.stations[s]);
  json["least"] = {{"hoop_tension_N_per_m", containment.least_hoop_tension},
                   {"height_m", containment.least_height},
                   {"face", face_names.at(containment.least_face)}};
  return json;
}

Json film_json(const Result& result) {
  const FilmPathResult& path = result.film_path;
  return {{"stretch_on_load_percent", (path.stretch_on_load - 1.0) * 100.0},
          {"prestretch_force_N", path.prestretch_force},
          {"film_temperature_C", path.film_temperature - zero_celsius},
          {"length_on_roll_m", result.film.length_on_roll},
          {"mass_kg", result.film.mass},
          {"laid_width_mm", path.laid_width * mm}};
}

Json pattern_json(const PatternResult& pattern) {
  return {{"turns", pattern.turns},
          {"pitch_mm", pattern.pitch * mm},
          {"overlap", pattern.overlap},
          {"gap_mm", pattern.gap * mm},
          {"uncovered_top_mm", pattern.uncovered_top * mm},
          {"uncovered_bottom_mm", pattern.uncovered_bottom * mm},
          {"cycle_time_s", pattern.cycle_time}};
}

Json assumed_json(const std::vector<UnknownInput>& unknowns) {
  Json list = Json::array();
  for (const UnknownInput& u : unknowns) {
    Json item = {{"key", u.key}, {"value", u.value_text}, {"low", u.low_text}, {"high", u.high_text}};
    // A failed end has no number: null by intent, explained in `message`, no warning of its own.
    item["containment_low_N_per_m"] = std::isfinite(u.containment_low) ? Json(u.containment_low) : Json(nullptr);
    item["containment_high_N_per_m"] = std::isfinite(u.containment_high) ? Json(u.containment_high) : Json(nullptr);
    item["effect"] = std::isfinite(u.effect) ? Json(u.effect) : Json(nullptr);
    item["how_to_measure"] = u.how_to_measure;
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
                    {"unit", t.quantity == "pull_force" ? "N" : "N/m"},
                    {"met", t.met}});
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

std::string summary_json(const Scenario& scenario, const Result& result, const std::optional<RunInfo>& run_info) {
  Json json;
  json["schema"] = scenario.schema;
  json["version"] = build_version();
  json["title"] = scenario.title;
  json["containment"] = {{"end", containment_json(result.end)},
                         {"after_storage", containment_json(result.after_storage)}};
  json["film"] = film_json(result);
  json["span"] = {{"force_set_N", result.span.force_set},
                  {"force_mean_N", result.span.force_mean},
                  {"force_min_N", result.span.force_min},
                  {"force_max_N", result.span.force_max},
                  {"laid_fraction", result.span.laid_fraction}};
  json["pattern"] = pattern_json(result.pattern);
  json["load"] = {{"closing_along_length_mm", result.load.closing_along_length * mm},
                  {"closing_along_width_mm", result.load.closing_along_width * mm},
                  {"corner_force_N_per_m", result.load.corner_force}};
  json["sensitivity"] = nullptr;
  if (result.sensitivity)
    json["sensitivity"] = {{"end", result.sensitivity->end}, {"after_storage", result.sensitivity->after_storage}};
  json["targets"] = targets_json(result.targets);
  json["assumed"] = assumed_json(result.assumed);
  if (economics_asked(scenario.film, scenario.cost)) json["cost"] = detail::economics_json(economics(scenario, result));
  Json warnings = Json::array();
  for (const Warning& w : result.warnings) warnings.push_back(warning_json(w));
  replace_not_finite(json, "", warnings);
  json["warnings"] = std::move(warnings);
  json["inputs"] = inputs_json(scenario);
  json["inputs_hash"] = inputs_hash(scenario);
  if (run_info) json["run_info"] = run_info_json(*run_info);
  return detail::json_text(json);
}

}  // namespace hoopfield
