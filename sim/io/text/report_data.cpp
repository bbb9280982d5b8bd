// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/report_data.hpp"

#include "models/error.hpp"
#include "sim/base/build_info.hpp"
#include "sim/io/text/detail/report_parts.hpp"
#include "sim/outputs/economics.hpp"
#include "sim/words/face_sketch.hpp"

#include <algorithm>

namespace hoopfield {

namespace {

using detail::Json;
using detail::number;

/// A side against the first: relative changes, cost only where both know theirs in the same currency.
Json versus_json(const ReportSide& first, const ReportSide& side) {
  Json json = {
      {"containment_change",
       number(least_of_stations(side.result->after_storage) / least_of_stations(first.result->after_storage) - 1.0)},
      {"mass_change", number(side.result->film.mass / first.result->film.mass - 1.0)}};
  const Economics before = economics(*first.scenario, *first.result), after = economics(*side.scenario, *side.result);
  if (!before.cost || !after.cost || before.currency != after.currency) return json;
  if (*before.cost == 0.0 && *after.cost > 0.0)
    json["present_costs_nothing"] = true;  // there is no ratio to show
  else if (*before.cost != 0.0)
    json["cost_change"] = number(*after.cost / *before.cost - 1.0);
  return json;
}

/// What the head of the page says: of each word the first side that gives it speaks.
Json report_words(const std::vector<ReportSide>& sides) {
  constexpr std::pair<const char*, std::string ReportWords::*> words[] = {{"site", &ReportWords::site},
                                                                          {"author", &ReportWords::author},
                                                                          {"customer", &ReportWords::customer},
                                                                          {"date", &ReportWords::date}};
  Json json = Json::object();
  for (const auto& word : words) {
    const auto gives = [&](const ReportSide& s) { return s.scenario && !(s.scenario->report.*word.second).empty(); };
    const auto first = std::find_if(sides.begin(), sides.end(), gives);
    json[word.first] = first == sides.end() ? std::string() : first->scenario->report.*word.second;
  }
  return json;
}

/// The bands that the page shows, so that it stays small; `predict --json` has those of every number.
void keep_shown_bands(Json& summary) {
  if (!summary.contains("band") || summary.at("band").is_null()) return;
  Json kept = Json::object();
  for (const auto& [name, ends] : summary.at("band").at("values").items())
    if (name.starts_with("containment.") && name.find(".faces.") == std::string::npos &&
        (name.ends_with(".hoop_tension_N_per_m") || name.ends_with(".pull_force_N")))
      kept[name] = ends;
  summary.at("band").at("values") = std::move(kept);
}

Json side_json(const ReportSide& side) {
  Json json = {{"name", side.name},
               {"failed", side.result == nullptr && !side.measured},
               {"measured", side.measured},
               {"message", side.message}};
  json["title"] = side.scenario ? side.scenario->title : "";
  json["notes"] = side.scenario ? side.scenario->notes : "";
  json["film"] = side.scenario ? side.scenario->film_description.name : "";
  if (side.scenario && side.result) {
    json["summary"] = detail::summary_object(*side.scenario, *side.result);
    json["summary"].erase("inputs");  // they stand below, as people write them
    keep_shown_bands(json["summary"]);
    json["detail"] = detail::detail_object(*side.scenario, *side.result);
  }
  json["files"] = side.scenario ? detail::file_list(*side.scenario) : Json::array();
  json["inputs"] = side.scenario ? detail::input_list(*side.scenario) : Json::array();
  return json;
}

}  // namespace

std::vector<std::string> report_cautions(const std::vector<ReportSide>& sides) {
  bool table = false, arm = false;
  for (const ReportSide& side : sides)
    if (side.scenario) (side.scenario->rotation.kind == RotationKind::delivery ? arm : table) = true;
  std::vector<std::string> list = {
      std::string(short_caution),
      "The prediction rests on the inputs listed here, including the assumed ones. It does not account for punctures, "
      "sharp edges or how the load is handled: check the wrap on the real load."};
  if (table)
    list.push_back(
        "A load on a turning table can throw goods outwards, and its corners sweep a circle: keep everybody out of "
        "it.");
  if (arm)
    list.push_back(
        "An arm or ring that carries the film sweeps a whole circle round the load: keep everybody out of it.");
  list.push_back("Stop the machine and lock it out before you measure at it.");
  return list;
}

detail::Json detail::report_object(const ReportInput& input) {
  if (input.sides.empty() || input.sides.size() > most_report_sides)
    throw InputError("a report shows 1 to " + std::to_string(most_report_sides) + " sides, not " +
                     std::to_string(input.sides.size()));
  Json json = {{"schema", result_schema},
               {"kind", input.sides.size() == 1 ? "prediction" : "comparison"},
               {"version", build_version()},
               {"units", input.inch_pound ? "inch-pound" : "metric"},
               {"report", report_words(input.sides)},
               {"sides", Json::array()}};
  const ReportSide& first = input.sides.front();
  for (const ReportSide& side : input.sides) {
    json["sides"].push_back(side_json(side));
    if (&side == &first || !side.result || !first.result) continue;
    Json& added = json["sides"].back();
    added["versus_first"] = versus_json(first, side);
    // Many sides are drawn with common axes instead, and their page stays small.
    if (detail::is_pair(input.sides))
      added["versus_first"].update(picture_differences(json["sides"].front().at("detail"), added.at("detail")));
  }
  json["comparison"] = detail::comparison_part(input);
  json["declarations"] = detail::declaration_list(input.sides);
  json["plain_texts"] = detail::plain_texts(json);
  json["inch_pound_texts"] = detail::inch_pound_texts(json);
  json["kinds"] = detail::report_kinds();
  json["outputs"] = detail::report_outputs();
  json["input_labels"] = detail::input_labels();
  json["face_sketch"] = words::face_sketch();
  json["validation"] = Json::array();
  for (const ValidationLine& line : validation_lines())
    json["validation"].push_back({{"title", line.title}, {"label", line.label}, {"result", line.result}});
  json["cautions"] = report_cautions(input.sides);
  return json;
}

std::string detail::report_text(const Json& json) { return json.dump(-1, ' ', false, Json::error_handler_t::replace); }

std::string report_json(const ReportInput& input) { return detail::report_text(detail::report_object(input)); }

std::string script_safe(const std::string& json) {
  std::string text;
  text.reserve(json.size() + json.size() / 16);
  for (std::size_t i = 0; i < json.size(); ++i) {
    const char c = json[i];
    if (c == '<')
      text += "\\u003c";
    else if (c == '>')
      text += "\\u003e";
    else if (c == '&')
      text += "\\u0026";
    else if (json.compare(i, 3, "\xE2\x80\xA8") == 0) {
      text += "\\u2028";
      i += 2;
    } else if (json.compare(i, 3, "\xE2\x80\xA9") == 0) {
      text += "\\u2029";
      i += 2;
    } else
      text += c;
  }
  return text;
}

}  // namespace hoopfield
