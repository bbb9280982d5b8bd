// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/report_data.hpp"

#include "models/error.hpp"
#include "models/output_names.hpp"
#include "models/parameter.hpp"
#include "models/units.hpp"
#include "sim/base/build_info.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/io/text/detail/report_parts.hpp"
#include "sim/io/text/report_drawing.hpp"
#include "sim/io/text/report_figures.hpp"
#include "sim/outputs/economics.hpp"
#include "sim/words/answer_text.hpp"
#include "sim/words/band_text.hpp"
#include "sim/words/face_sketch.hpp"
#include "sim/words/inch_pound.hpp"
#include "sim/words/moments.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <set>

namespace hoopfield {

namespace {

using detail::Json;
using detail::rounded;

constexpr double zero_celsius = 273.15;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json numbers(const std::vector<double>& values, double factor = 1.0, double offset = 0.0,
             int digits = detail::picture_digits) {
  Json list = Json::array();
  for (const double value : values) list.push_back(number(detail::rounded(value * factor + offset, digits)));
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
      list.push_back(number(detail::rounded(field.shape.size() == 2 ? field.at(f, h) : field.at(row, f, h))));
    json[face_names[f]] = std::move(list);
  }
  std::vector<double> mean(heights, 0.0);
  for (std::size_t f = 0; f < face_count; ++f)
    for (std::size_t h = 0; h < heights; ++h)
      mean[h] += (field.shape.size() == 2 ? field.at(f, h) : field.at(row, f, h)) / static_cast<double>(face_count);
  json["mean"] = numbers(mean);
  return json;
}

Json over_height(const Result& r, const ReportDrawing& drawing) {
  Json json = {{"height_m", numbers(r.height)}, {"film_layers", by_face(r.film_layers)}};
  if (r.hoop_tension.data.empty()) return json;
  json["end_N_per_m"] = by_face(r.hoop_tension, 0);
  json["weakest_N_per_m"] = by_face(drawing.weakest_tension);
  json["weakest_N_per_m"].erase("mean");  // no picture shows it
  json["weakest_station"] = station_names.at(drawing.weakest_station);
  json["weakest_time_s"] = number(drawing.weakest_time);
  json["weakest_temperature_C"] = number(drawing.weakest_temperature - zero_celsius);
  json["after_storage_N_per_m"] = by_face(r.hoop_tension, r.hoop_tension.shape[0] - 1);
  return json;
}

/// Mean of each face over the heights that have film; null where there is none.
Json wrapped_means(const Field& layers, const Field& tension, std::size_t row = 0) {
  Json json = Json::object();
  for (std::size_t f = 0; f < face_count; ++f) {
    double sum = 0.0, count = 0.0;
    for (std::size_t h = 0; h < layers.shape.back(); ++h) {
      if (!(layers.at(f, h) > 0.0)) continue;
      sum += tension.shape.size() == 2 ? tension.at(f, h) : tension.at(row, f, h);
      count += 1.0;
    }
    json[face_names[f]] = number(detail::rounded(sum / count));
  }
  return json;
}

Json moment_means(const Result& r, const ReportDrawing& drawing) {
  if (r.hoop_tension.data.empty()) return nullptr;
  return {{"end", wrapped_means(r.film_layers, r.hoop_tension)},
          {"weakest", wrapped_means(r.film_layers, drawing.weakest_tension)},
          {"after_storage", wrapped_means(r.film_layers, r.hoop_tension, r.hoop_tension.shape[0] - 1)}};
}

Json drawing_json(const Scenario& scenario, const Result& r, const ReportDrawing& drawing) {
  Json order = Json::array();
  for (const std::size_t face : drawing.laid_order) order.push_back(face_names.at(face));
  return {{"turning", scenario.rotation.kind == RotationKind::load ? "load" : "delivery"},
          {"laid_order", std::move(order)},
          {"film_bottom_m", number(drawing.film_bottom)},
          {"film_top_m", number(drawing.film_top)},
          {"top_overhang_m", number(drawing.film_top - scenario.load.height)},
          {"face_means_N_per_m", moment_means(r, drawing)}};
}

Json over_time(const Result& r, const ReportFigures& figures) {
  Json json = {{"time_s", numbers(r.time, 1.0, 0.0, 9)}, {"temperature_C", numbers(r.temperature, 1.0, -zero_celsius)}};
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

/// What the first sheet says of every target, in the words of the first sentence.
Json told_targets(const Scenario& scenario, const Result& r) {
  Json list = Json::array();
  for (const TargetResult& t : r.targets) {
    const words::Holding how = words::holding(t, scenario.target ? scenario.target->probability : 0.0);
    list.push_back({{"verdict", how == words::Holding::holds    ? "met"
                                : how == words::Holding::misses ? "missed"
                                                                : "not sure"},
                    {"moment", words::moment_words(t.at)}});
  }
  return list;
}

Json finding_rows(const Scenario& scenario, const Result& r, const ReportFigures& figures) {
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
          {"least_place_best_face", face_names.at(f.least_place_best_face)},
          {"least_place_best_N_per_m", number(f.least_place_best)},
          {"least_place_more", number(f.least_place_more)},
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
          {"first_sentence", words::first_sentence(scenario, r, words::UnitStyle::metric)},
          {"stations_sentence", words::stations_sentence(scenario, r, words::UnitStyle::metric)},
          {"targets_told", told_targets(scenario, r)},
          {"largest_unknown", words::largest_unknown(r)},
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

/// One predicted candidate beside a predicted first side; readings may stand with them.
bool is_pair(const std::vector<ReportSide>& sides) {
  const auto predicted = [](const ReportSide& side) { return side.result != nullptr; };
  return sides.front().result != nullptr && std::count_if(sides.begin(), sides.end(), predicted) == 2;
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
  const ReportDrawing drawing = report_drawing(scenario, r);
  const SpanResult& span = r.span;
  return {{"load",
           {{"length_m", scenario.load.length}, {"width_m", scenario.load.width}, {"height_m", scenario.load.height}}},
          {"band_height_mm", scenario.stations.band_height * 1e3},
          {"storage_s", scenario.storage.duration},
          {"carriage", carriage(scenario, r)},
          {"kept", kept(r)},
          {"face_means_N_per_m", face_means(r)},
          {"over_height", over_height(r, drawing)},
          {"drawing", drawing_json(scenario, r, drawing)},
          {"over_time", over_time(r, figures)},
          {"buildup", build_up_rows(r, figures)},
          {"span",
           {{"angle_deg", numbers(span.angle, 180.0 / std::numbers::pi)},
            {"force_N", numbers(span.force)},
            {"take_up_speed_m_per_s", numbers(span.take_up_speed)}}},
          {"film", film_rows(figures)},
          {"zones", zone_rows(figures, r.film.mass)},
          {"findings", finding_rows(scenario, r, figures)}};
}

/// "(0 h, 23 degC)" and so on: the one input that is a list of two kinds.
std::string temperature_text(const Scenario& scenario, const char* unit) {
  std::string text;
  for (const auto& [time, kelvin] : scenario.storage.temperature)
    text += (text.empty() ? "" : "; ") + format_input(time, "h") + ": " + format_input(kelvin, unit);
  return text;
}

/// A number in the unit people write; words, lists and pure numbers as they are.
std::string shown(const InputRow& row, std::string_view unit) {
  if (!std::isfinite(row.number)) return row.text;
  return detail::printed_unit(format_input(row.number, unit));
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
                    {"metric", history ? detail::printed_unit(temperature_text(scenario, "degC"))
                                       : shown(row, p != nullptr ? p->metric : std::string_view(row.unit))},
                    {"inch_pound", history ? detail::printed_unit(temperature_text(scenario, "degF"))
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

/// What an input is called on the settings card.
Json input_labels() {
  Json json = Json::object();
  for (const Parameter& p : parameters(ParameterRoom::scenario))
    if (!p.label.empty()) json[p.key] = p.label;
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
  collect_texts(report.at("plain_texts"), list, seen);
  if (report.at("comparison").is_null()) return list;
  collect_texts(report.at("comparison").at("warnings"), list, seen);
  collect_texts(report.at("comparison").at("differences"), list, seen);
  for (const Json& side : report.at("comparison").at("sides")) {
    for (const char* part : {"warnings", "sentence", "film_sentence", "trial_sentence", "savings_sentence"})
      collect_texts(side.at(part), list, seen);
    for (const Json& adjustment : side.at("adjustments")) collect_texts(adjustment.at("why"), list, seen);
  }
  return list;
}

/// Warnings of any side or of the comparison that name a key, with the words that stand for it on the first sheet.
Json plain_texts(const Json& report) {
  Json list = Json::array();
  std::set<std::string> seen;
  const auto collect = [&](const Json& warnings) {
    for (const Json& warning : warnings) {
      const std::string text = warning.at("text"), plain = words::without_keys(text);
      if (plain != text && seen.insert(text).second) list.push_back({{"text", text}, {"plain", plain}});
    }
  };
  for (const Json& side : report.at("sides"))
    if (side.contains("summary")) collect(side.at("summary").at("warnings"));
  if (report.at("comparison").is_null()) return list;
  collect(report.at("comparison").at("warnings"));
  for (const Json& side : report.at("comparison").at("sides")) collect(side.at("warnings"));
  return list;
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
    json["detail"] = detail_json(*side.scenario, *side.result);
  }
  json["files"] = side.scenario ? file_list(*side.scenario) : Json::array();
  json["inputs"] = side.scenario ? input_list(*side.scenario) : Json::array();
  return json;
}

/// What the draws say of a candidate in the containment the comparison is judged by, as shares of the present wrap.
Json versus_present(const Json& against, const Json& measure) {
  if (!measure.is_string() || !against.contains(measure.get<std::string>())) return nullptr;
  const Json& found = against.at(measure.get<std::string>());
  if (!found.contains("band") || found.at("band").is_null()) return nullptr;
  std::string words = found.at("words");
  std::replace(words.begin(), words.end(), '_', ' ');
  return {{"words", words},
          {"low_change", found.at("band").at("p05").get<double>() - 1.0},
          {"high_change", found.at("band").at("p95").get<double>() - 1.0}};
}

/// So many wraps stand beside each other with their differences; more of them stand in rows.
constexpr std::size_t most_beside = 3;

/// Candidate less present, number by number: the difference, its share of the present number, and between which ends
/// nine of ten draws lie (null without draws).
Json differences_from_present(const Json& against) {
  Json kept = Json::object();
  for (const auto& [name, found] : against.items()) {
    const bool drawn = found.contains("difference_band") && !found.at("difference_band").is_null();
    const Json& ratio = found.at("ratio");
    kept[name] = {{"difference", found.at("difference")},
                  {"change", ratio.is_number() ? Json(ratio.get<double>() - 1.0) : Json(nullptr)},
                  {"low", drawn ? found.at("difference_band").at("p05") : Json(nullptr)},
                  {"high", drawn ? found.at("difference_band").at("p95") : Json(nullptr)}};
  }
  return kept;
}

/// Changes against the present wrap with the ends between which they lie nine times in ten, of the numbers that the
/// page sets beside each other; of `only` alone where it is a name.
Json shown_changes(const Json& against, const Json& only) {
  Json list = Json::object();
  if (!against.is_object()) return list;
  for (const auto& [name, found] : against.items()) {
    if (!name.starts_with("containment.") && name != "film.mass_kg" && !name.starts_with("cost.")) continue;
    if (only.is_string() && only != name) continue;
    if (!found.contains("ratio") || !found.at("ratio").is_number()) continue;
    Json row = {{"change", found.at("ratio").get<double>() - 1.0}};
    if (found.contains("band") && found.at("band").is_object()) {
      row["low_change"] = found.at("band").at("p05").get<double>() - 1.0;
      row["high_change"] = found.at("band").at("p95").get<double>() - 1.0;
    }
    list[name] = std::move(row);
  }
  return list;
}

/// The comparison without what the sides hold already.
Json comparison_part(const ReportInput& input) {
  if (!input.comparison && input.comparison_json.empty()) return nullptr;
  Json json = input.comparison ? detail::comparison_object(*input.comparison) : Json::parse(input.comparison_json);
  const Json measure = json.at("measures").at("containment");
  for (Json& alternative : json.at("sides")) {
    alternative["versus"] = versus_present(alternative.at("against_present"), measure);
    alternative["changes"] =
        shown_changes(alternative.at("against_present"), input.sides.size() > 2 ? measure : Json());
    if (is_pair(input.sides)) alternative["told"] = detail::told_differences(alternative.at("against_present"));
    const Json cost = alternative.at("cost");
    if (cost.is_object() && cost.contains("currency")) alternative["currency"] = cost.at("currency");
    const Json against = alternative.at("against_present");
    for (const char* key : {"prediction", "cost", "against_present"}) alternative.erase(key);
    if (input.sides.size() <= most_beside) alternative["against_present"] = differences_from_present(against);
  }
  for (Json& alternative : json.at("sides"))
    for (Json& a : alternative.at("adjustments")) {
      const Parameter* p = declaration(a.at("key").get<std::string>());
      for (const auto& [style, unit] : {std::pair{"metric", p->metric}, std::pair{"inch_pound", p->inch_pound}})
        for (const char* when : {"before", "after"})
          a[style][when] = a.at(when).is_number()
                               ? detail::printed_unit(format_quantity(a.at(when).get<double>(), unit, 4))
                               : "not set";
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
               {"report", report_words(input.sides)},
               {"sides", Json::array()}};
  const ReportSide& first = input.sides.front();
  for (const ReportSide& side : input.sides) {
    json["sides"].push_back(side_json(side));
    if (&side == &first || !side.result || !first.result) continue;
    Json& added = json["sides"].back();
    added["versus_first"] = versus_json(first, side);
    // Many sides are drawn with common axes instead, and their page stays small.
    if (is_pair(input.sides))
      added["versus_first"].update(picture_differences(json["sides"].front().at("detail"), added.at("detail")));
  }
  json["comparison"] = comparison_part(input);
  json["declarations"] = declaration_list(input.sides);
  json["plain_texts"] = plain_texts(json);
  json["inch_pound_texts"] = inch_pound_texts(json);
  json["kinds"] = detail::report_kinds();
  json["outputs"] = detail::report_outputs();
  json["input_labels"] = input_labels();
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
