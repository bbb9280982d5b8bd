// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/detail/report_parts.hpp"

#include "models/output_names.hpp"
#include "sim/io/text/report_drawing.hpp"
#include "sim/io/text/report_figures.hpp"
#include "sim/words/answer_text.hpp"
#include "sim/words/band_text.hpp"
#include "sim/words/moments.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopfield::detail {

namespace {

constexpr double zero_celsius = 273.15;

Json numbers(const std::vector<double>& values, double factor = 1.0, double offset = 0.0, int digits = picture_digits) {
  Json list = Json::array();
  for (const double value : values) list.push_back(number(rounded(value * factor + offset, digits)));
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
    json[face_names[f]] = number(rounded(sum / count));
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
  return {{"weakest_station", station_names.at(f.weakest_station)},
          {"strongest_face", face_names.at(f.strongest_face)},
          {"weakest_face", face_names.at(f.weakest_face)},
          {"face_difference", number(f.face_difference)},
          {"least_place_best_face", face_names.at(f.least_place_best_face)},
          {"least_place_best_N_per_m", number(f.least_place_best)},
          {"least_place_more", number(f.least_place_more)},
          {"buildup_loss", number(f.build_up_loss)},
          {"span_swing", number(f.span_swing)},
          {"largest_zone", figures.zones.empty() ? "" : figures.zones.at(f.largest_zone).name},
          {"largest_zone_share", number(f.largest_zone_share)},
          {"stretch_given_back_percent", number(f.stretch_given_back * 100.0)},
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

}  // namespace

Json detail_object(const Scenario& scenario, const Result& r) {
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
          {"transit", transit_picture(scenario, r)},
          {"findings", finding_rows(scenario, r, figures)}};
}

}  // namespace hoopfield::detail
