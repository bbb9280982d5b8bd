// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/report_data.hpp"

#include "models/error.hpp"
#include "models/output_names.hpp"
#include "models/parameter.hpp"
#include "models/units.hpp"
#include "sim/base/build_info.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/io/text/detail/report_parts.hpp"
#include "sim/io/text/report_figures.hpp"
#include "sim/outputs/economics.hpp"
#include "sim/words/band_text.hpp"
#include "sim/words/face_sketch.hpp"
#include "sim/words/inch_pound.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <set>

namespace hoopfield {

namespace {

using detail::Json;

constexpr double zero_celsius = 273.15;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

/// Seven digits: more than any picture shows, half the bytes of a double written in full.
double rounded(double value) {
  if (!std::isfinite(value) || value == 0.0) return value;
  const double scale = std::pow(10.0, 6.0 - std::floor(std::log10(std::abs(value))));
  return std::isfinite(scale) && scale > 0.0 ? std::round(value * scale) / scale : value;
}

Json numbers(const std::vector<double>& values, double factor = 1.0, double offset = 0.0) {
  Json list = Json::array();
  for (const double value : values) list.push_back(number(rounded(value * factor + offset)));
  return list;
}

/// One row of a field (row, face, height), or of a field (face, height) when it has two dimensions.
Json by_face(const Field& field, std::size_t row = 0) {
  Json json = Json::object();
  if (field.data.empty()) return json;
  const std::size_t heights = field.shape.back();
  for (std::size_t f = 0; f < face_count; ++f) {
    Json list = Json::array();
    for (std::size_t h = 0; h < heights; ++h)
      list.push_back(number(rounded(field.shape.size() == 2 ? field.at(f, h) : field.at(row, f, h))));
    json[face_names[f]] = std::move(list);
  }
  std::vector<double> mean(heights, 0.0);
  for (std::size_t f = 0; f < face_count; ++f)
    for (std::size_t h = 0; h < heights; ++h)
      mean[h] += (field.shape.size() == 2 ? field.at(f, h) : field.at(row, f, h)) / static_cast<double>(face_count);
  json["mean"] = numbers(mean);
  return json;
}

Json over_height(const Result& r) {
  Json json = {{"height_m", numbers(r.height)}, {"film_layers", by_face(r.film_layers)}};
  if (r.hoop_tension.data.empty()) return json;
  json["end_N_per_m"] = by_face(r.hoop_tension, 0);
  json["after_storage_N_per_m"] = by_face(r.hoop_tension, r.hoop_tension.shape[0] - 1);
  return json;
}

Json over_time(const Result& r, const ReportFigures& figures) {
  Json json = {{"time_s", numbers(r.time)}, {"temperature_C", numbers(r.temperature, 1.0, -zero_celsius)}};
  for (std::size_t i = 0; i < station_names.size(); ++i)
    json[std::string(station_names[i]) + "_N_per_m"] = numbers(figures.stations[i].over_time);
  return json;
}

Json build_up_rows(const Result& r, const ReportFigures& figures) {
  Json json = {{"turn", numbers(r.turn)}};
  for (std::size_t i = 0; i < station_names.size(); ++i)
    json[station_names[i]] = {{"hoop_tension_N_per_m", numbers(figures.stations[i].over_turns)},
                              {"as_laid_N_per_m", numbers(figures.stations[i].as_laid)}};
  Json layers = {{"as_laid_N_per_m", Json::array()}, {"end_N_per_m", Json::array()}};
  for (const LayerFigure& layer : figures.layers) {
    layers["as_laid_N_per_m"].push_back(number(layer.as_laid));
    layers["end_N_per_m"].push_back(number(layer.at_end));
  }
  json["layers"] = std::move(layers);
  return json;
}

Json film_rows(const ReportFigures& figures) {
  Json curves = Json::array(), points = Json::array();
  for (const FilmCurveFigure& curve : figures.film_curves)
    curves.push_back({{"rate_per_s", number(curve.rate)},
                      {"temperature_C", number(curve.temperature - zero_celsius)},
                      {"stretch_percent", numbers(curve.stretch, 100.0, -100.0)},
                      {"force_N", numbers(curve.force)}});
  for (const WorkingPoint& p : figures.working_points)
    points.push_back({{"name", p.name},
                      {"stretch_percent", number((p.stretch - 1.0) * 100.0)},
                      {"stretch_low_percent", number((p.stretch_low - 1.0) * 100.0)},
                      {"stretch_high_percent", number((p.stretch_high - 1.0) * 100.0)},
                      {"force_N", number(p.force)}});
  // Per percent of stretch counted from the roll: the unit of the picture's axis.
  return {{"curves", curves},
          {"points", points},
          {"laid_stiffness_N_per_relative_stretch", number(figures.film_stiffness)}};
}

Json zone_rows(const ReportFigures& figures, double mass) {
  Json list = Json::array();
  for (const ZoneFigure& zone : figures.zones)
    list.push_back({{"name", zone.name},
                    {"turns", number(zone.turns)},
                    {"mass_kg", number(zone.mass)},
                    {"share", number(zone.mass / mass)},
                    {"above_top_kg", number(zone.above_top)}});
  return list;
}

Json finding_rows(const Result& r, const ReportFigures& figures, double wanted_probability) {
  const ReportFindings& f = figures.findings;
  std::size_t danger = 0, caution = 0, note = 0, met = 0;
  for (const Warning& w : r.warnings) ++(w.severity == "danger" ? danger : w.severity == "caution" ? caution : note);
  for (const TargetResult& t : r.targets) met += t.met ? 1 : 0;
  return {{"weakest_station", station_names.at(f.weakest_station)},
          {"weakest_change", number(f.weakest_change)},
          {"weakest_half_time_s", number(f.weakest_half_time)},
          {"strongest_face", face_names.at(f.strongest_face)},
          {"weakest_face", face_names.at(f.weakest_face)},
          {"strongest_face_mean_N_per_m", number(f.strongest_face_mean)},
          {"weakest_face_mean_N_per_m", number(f.weakest_face_mean)},
          {"face_difference", number(f.face_difference)},
          {"buildup_loss", number(f.build_up_loss)},
          {"span_swing", number(f.span_swing)},
          {"largest_zone", figures.zones.empty() ? "" : figures.zones.at(f.largest_zone).name},
          {"largest_zone_share", number(f.largest_zone_share)},
          {"stretch_given_back_percent", number(f.stretch_given_back * 100.0)},
          {"dangers", danger},
          {"cautions", caution},
          {"notes", note},
          {"targets", r.targets.size()},
          {"targets_met", met},
          {"target_sentence", words::target_sentence(r, wanted_probability, words::UnitStyle::metric)},
          {"bands_note", words::bands_note(r)}};
}

/// Mean over the height of each face after storage.
Json face_means(const Result& r) {
  Json json = Json::object();
  if (r.hoop_tension.data.empty()) return json;
  const std::size_t last = r.hoop_tension.shape[0] - 1, heights = r.hoop_tension.shape[2];
  for (std::size_t f = 0; f < face_count; ++f) {
    double mean = 0.0;
    for (std::size_t h = 0; h < heights; ++h) mean += r.hoop_tension.at(last, f, h) / static_cast<double>(heights);
    json[face_names[f]] = number(mean);
  }
  return json;
}

/// Share of the hoop tension that storage leaves, by station.
Json kept(const Result& r) {
  Json json;
  for (std::size_t i = 0; i < station_names.size(); ++i)
    json[station_names[i]] = number(r.after_storage.stations[i].hoop_tension / r.end.stations[i].hoop_tension);
  return json;
}

/// What the carriage panel shows; there is none when all turns lie at one height.
Json carriage(const Scenario& scenario, const Result& r) {
  if (!(r.pattern.pitch > 0.0)) return nullptr;
  Json json = {{"up_m_per_min", number(r.pattern.speed_up * 60.0)}};
  if (scenario.pattern.descent) json["down_m_per_min"] = number(r.pattern.speed_down * 60.0);
  return json;
}

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

Json detail_json(const Scenario& scenario, const Result& r) {
  const ReportFigures figures = report_figures(scenario, r);
  const SpanResult& span = r.span;
  return {{"load",
           {{"length_m", scenario.load.length}, {"width_m", scenario.load.width}, {"height_m", scenario.load.height}}},
          {"band_height_mm", scenario.stations.band_height * 1e3},
          {"storage_s", scenario.storage.duration},
          {"carriage", carriage(scenario, r)},
          {"kept", kept(r)},
          {"face_means_N_per_m", face_means(r)},
          {"over_height", over_height(r)},
          {"over_time", over_time(r, figures)},
          {"buildup", build_up_rows(r, figures)},
          {"span",
           {{"angle_deg", numbers(span.angle, 180.0 / std::numbers::pi)},
            {"force_N", numbers(span.force)},
            {"take_up_speed_m_per_s", numbers(span.take_up_speed)}}},
          {"film", film_rows(figures)},
          {"zones", zone_rows(figures, r.film.mass)},
          {"findings", finding_rows(r, figures, scenario.target ? scenario.target->probability : 0.0)}};
}

/// "(0 h, 23 degC)" and so on: the one input that is a list of two kinds.
std::string temperature_text(const Scenario& scenario, const char* unit) {
  std::string text;
  for (const auto& [time, kelvin] : scenario.storage.temperature)
    text += (text.empty() ? "" : "; ") + format_input(time, "h") + ": " + format_input(kelvin, unit);
  return text;
}

/// Unit strings of the files in the letters of print.
std::string printed(std::string text) {
  for (const auto& [plain, print] : {std::pair{" um", " \u00b5m"}, {" degC", " \u00b0C"}, {" degF", " \u00b0F"}})
    for (std::size_t at = text.find(plain); at != std::string::npos; at = text.find(plain, at + 1))
      text.replace(at, std::string_view(plain).size(), print);
  return text;
}

/// A number in the unit people write; words, lists and pure numbers as they are.
std::string shown(const InputRow& row, std::string_view unit) {
  if (!std::isfinite(row.number)) return row.text;
  return printed(format_input(row.number, unit));
}

const Parameter* declaration(const std::string& key) {
  if (const Parameter* found = find_parameter(ParameterRoom::scenario, key)) return found;
  return find_parameter(ParameterRoom::film_file, key);
}

/// "scenario.toml:9"; the folder stands once, in the list of files.
std::string source_text(const InputRow& row) {
  const std::string name = std::filesystem::path(row.file).filename().string();
  return row.line > 0 ? name + ":" + std::to_string(row.line) : name;
}

Json file_list(const Scenario& scenario) {
  Json list = Json::array();
  for (const InputRow& row : input_rows(scenario))
    if (!row.file.empty() && std::find(list.begin(), list.end(), row.file) == list.end()) list.push_back(row.file);
  return list;
}

Json input_list(const Scenario& scenario) {
  Json list = Json::array();
  for (const InputRow& row : input_rows(scenario)) {
    const Parameter* p = declaration(row.key);
    const bool history = row.key == "storage.temperature";
    list.push_back({{"key", row.key},
                    {"metric", history ? printed(temperature_text(scenario, "degC"))
                                       : shown(row, p != nullptr ? p->metric : std::string_view(row.unit))},
                    {"inch_pound", history ? printed(temperature_text(scenario, "degF"))
                                           : shown(row, p != nullptr ? p->inch_pound : std::string_view(row.unit))},
                    {"origin", row.origin},
                    {"source", source_text(row)}});
  }
  return list;
}

/// What each input of any side means and how it is measured, once.
Json declaration_list(const std::vector<ReportSide>& sides) {
  Json json = Json::object();
  for (const ReportSide& side : sides) {
    if (!side.scenario) continue;
    for (const InputRow& row : input_rows(*side.scenario))
      if (const Parameter* p = declaration(row.key))
        json[row.key] = {{"sentence", p->sentence}, {"measure", how_to_measure(*p)}, {"caution", caution_text(*p)}};
  }
  return json;
}

/// What the single numbers of the summary are called, and how they become metric or inch-pound, by their place below
/// `summary` ("film/mass_kg"): shown = number * factor + offset.
Json output_list() {
  Json json = Json::object();
  for (const Parameter& p : parameters(ParameterRoom::output)) {
    if (!p.in_summary || !p.axes.empty()) continue;
    std::string place = json_key(p);
    std::replace(place.begin(), place.end(), '.', '/');
    json[place]["label"] = p.label;
    for (const auto& [style, unit] : {std::pair{"metric", p.metric}, std::pair{"inch_pound", p.inch_pound}}) {
      const double zero = to_unit(si_of_json(p, 0.0), unit), one = to_unit(si_of_json(p, 1.0), unit);
      json[place][style] = {
          {"unit", printed(" " + std::string(unit)).substr(1)}, {"factor", one - zero}, {"offset", zero}};
    }
  }
  return json;
}

/// Every text of the object that has a quantity in metric units, with the same text in inch-pound units.
void collect_texts(const Json& json, Json& list, std::set<std::string>& seen) {
  if (json.is_structured()) {
    for (const Json& child : json) collect_texts(child, list, seen);
    return;
  }
  if (!json.is_string()) return;
  const std::string text = json.get<std::string>();
  const std::string other = words::in_inch_pound(text);
  if (other != text && seen.insert(text).second) list.push_back({{"metric", text}, {"inch_pound", other}});
}

/// Texts that the page shows in both units: warnings, unknowns, findings, declarations, messages, adjustments.
Json inch_pound_texts(const Json& report) {
  Json list = Json::array();
  std::set<std::string> seen;
  for (const Json& side : report.at("sides")) {
    collect_texts(side.at("message"), list, seen);
    if (!side.contains("summary")) continue;
    for (const char* part : {"warnings", "assumed"}) collect_texts(side.at("summary").at(part), list, seen);
    if (side.contains("detail")) collect_texts(side.at("detail").at("findings"), list, seen);
  }
  collect_texts(report.at("declarations"), list, seen);
  if (report.at("comparison").is_null()) return list;
  collect_texts(report.at("comparison").at("warnings"), list, seen);
  collect_texts(report.at("comparison").at("differences"), list, seen);
  for (const Json& side : report.at("comparison").at("sides")) {
    collect_texts(side.at("warnings"), list, seen);
    for (const Json& adjustment : side.at("adjustments")) collect_texts(adjustment.at("why"), list, seen);
  }
  return list;
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
    json["detail"] = detail_json(*side.scenario, *side.result);
  }
  json["files"] = side.scenario ? file_list(*side.scenario) : Json::array();
  json["inputs"] = side.scenario ? input_list(*side.scenario) : Json::array();
  return json;
}

/// The comparison without what the sides hold already.
Json comparison_part(const ReportInput& input) {
  if (!input.comparison && input.comparison_json.empty()) return nullptr;
  Json json = input.comparison ? detail::comparison_object(*input.comparison) : Json::parse(input.comparison_json);
  for (Json& alternative : json.at("sides")) {
    const Json cost = alternative.at("cost");
    if (cost.is_object() && cost.contains("currency")) alternative["currency"] = cost.at("currency");
    for (const char* key : {"prediction", "cost", "against_present"}) alternative.erase(key);
  }
  for (Json& alternative : json.at("sides"))
    for (Json& a : alternative.at("adjustments")) {
      const Parameter* p = declaration(a.at("key").get<std::string>());
      for (const auto& [style, unit] : {std::pair{"metric", p->metric}, std::pair{"inch_pound", p->inch_pound}})
        for (const char* when : {"before", "after"})
          a[style][when] =
              a.at(when).is_number() ? printed(format_quantity(a.at(when).get<double>(), unit, 4)) : "not set";
    }
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
               {"sides", Json::array()}};
  const ReportSide& first = input.sides.front();
  for (const ReportSide& side : input.sides) {
    json["sides"].push_back(side_json(side));
    if (&side != &first && side.result && first.result) json["sides"].back()["versus_first"] = versus_json(first, side);
  }
  json["comparison"] = comparison_part(input);
  json["declarations"] = declaration_list(input.sides);
  json["inch_pound_texts"] = inch_pound_texts(json);
  json["kinds"] = detail::report_kinds();
  json["outputs"] = output_list();
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
