// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/compare_writer.hpp"

#include "models/caution.hpp"
#include "sim/base/build_info.hpp"
#include "sim/base/number_text.hpp"
#include "sim/io/text/detail/json_parts.hpp"
#include "sim/words/answer_text.hpp"
#include "sim/words/compare_text.hpp"
#include "sim/words/paired_text.hpp"

#include <array>
#include <string_view>

namespace hoopfield {

namespace {

using detail::Json;
using detail::warning_json;

/// The unit of a number in JSON, from the SI unit and the ending of its name.
std::string shown_unit(const CompareQuantity& q) {
  if (q.unit == "money" || q.unit == "money/kg" || q.per_si == 1.0) return q.unit;
  if (q.per_si == 100.0) return "%";
  if (q.unit == "Pa") return "MPa";
  if (q.unit == "m") return "mm";
  return q.unit == "s" ? "h" : q.unit;
}

Json quantities_json() {
  Json list = Json::array();
  for (const CompareQuantity& q : compare_quantities())
    list.push_back(
        {{"name", q.json_name}, {"unit", shown_unit(q)}, {"long_name", q.long_name}, {"short_name", q.short_name}});
  return list;
}

Json numbers_json(const ComparedSide& side) {
  Json json = Json::object();
  for (const CompareQuantity& q : compare_quantities())
    if (const auto value = q.value(side)) json[q.json_name] = *value * q.per_si;
  return json;
}

Json band_json(const Band& band, double per_si) {
  return {{"p05", band.low * per_si}, {"p50", band.median * per_si}, {"p95", band.high * per_si}};
}

void add_paired(Json& entry, const PairedBand& paired, double per_si) {
  entry["band"] = paired.ratio ? band_json(*paired.ratio, 1.0) : Json(nullptr);
  entry["difference_band"] = band_json(paired.difference, per_si);
  entry["probability_more"] = paired.probability_more;
  entry["probability_less"] = paired.probability_less;
  entry["words"] = verdict_word(paired.verdict);
  entry["loads_to_tell"] = paired.loads_to_tell ? Json(*paired.loads_to_tell) : Json(nullptr);
}

Json savings_json(const ComparedSide& side) {
  Json json = Json::object();
  for (const Saving& saving : side.savings) {
    const bool mass = saving.name == "film" || saving.name == "co2e";
    json[saving.name + (mass ? "_kg" : "") + "_per_year"] = {
        {"value", saving.value},
        {"p05", saving.band ? Json(saving.band->low) : Json(nullptr)},
        {"p95", saving.band ? Json(saving.band->high) : Json(nullptr)}};
  }
  return json;
}

Json against_json(const ComparedSide& present, const ComparedSide& side) {
  Json json = Json::object();
  for (const CompareQuantity& q : compare_quantities()) {
    const auto a = q.value(present), b = q.value(side);
    if (!a || !b) continue;
    Json& entry = json[q.json_name];
    entry = {{"difference", (*b - *a) * q.per_si}, {"ratio", *a != 0.0 ? Json(*b / *a) : Json(nullptr)}};
    if (const PairedBand* paired = paired_band(side, q.name)) add_paired(entry, *paired, q.per_si);
  }
  return json;
}

Json adjustments_json(const ComparedSide& side) {
  Json list = Json::array();
  for (const Adjustment& a : side.adjustments)
    list.push_back({{"key", a.key},
                    {"unit", a.unit},
                    {"before", a.before ? Json(*a.before) : Json(nullptr)},
                    {"after", a.after},
                    {"why", a.why}});
  return list;
}

Json measured_json(const std::optional<MeasuredValue>& value, double per_si) {
  if (!value) return nullptr;
  return {{"mean", value->mean * per_si},
          {"standard_error", value->standard_error ? Json(*value->standard_error * per_si) : Json(nullptr)},
          {"loads", value->loads}};
}

Json readings_json(const MeasuredNumbers& r) {
  Json json;
  for (std::size_t moment = 0; moment < 2; ++moment)
    for (std::size_t s = 0; s < station_names.size(); ++s)
      json[moment == 0 ? "end" : "after_storage"][station_names[s]]["pull_force_N"] =
          measured_json(r.pull_force[moment][s], 1.0);
  json["film_mass_kg"] = measured_json(r.film_mass, 1.0);
  json["film_mass_derived"] = r.mass_derived;
  json["stretch_on_load_percent"] = measured_json(r.stretch_on_load, 100.0);
  json["laid_width_mm"] = measured_json(r.laid_width, 1e3);
  json["turns"] = measured_json(r.turns, 1.0);
  json["girth_before_mm"] = measured_json(r.girth_before, 1e3);
  json["girth_after_mm"] = measured_json(r.girth_after, 1e3);
  return json;
}

Json side_json(const Comparison& comparison, std::size_t place) {
  const ComparedSide& side = comparison.sides[place];
  Json json = {{"name", side.name},
               {"title", side.title},
               {"file", side.file},
               {"kind", side.measured ? "measured" : "predicted"},
               {"status", side.failed ? "failed" : "done"},
               {"message", side.message},
               {"sentence", place == 0 ? "" : words::first_sentence(comparison, place, words::UnitStyle::metric)},
               {"film_sentence", place == 0 ? "" : words::film_sentence(comparison, place, words::UnitStyle::metric)},
               {"trial_sentence", place == 0 ? "" : words::trial_sentence(comparison, place)},
               {"savings_sentence", words::savings_sentence(comparison, place, words::UnitStyle::metric)},
               {"numbers", numbers_json(side)},
               {"against_present", against_json(comparison.sides.front(), side)},
               {"no_band_because", side.paired_message},
               {"savings", savings_json(side)},
               {"adjustments", adjustments_json(side)},
               {"dominates", side.dominates},
               {"dominated_by", side.dominated_by}};
  Json warnings = Json::array();
  for (const Warning& w : side.warnings) warnings.push_back(warning_json(w));
  if (side.result)
    for (const Warning& w : side.result->warnings) warnings.push_back(warning_json(w));
  json["warnings"] = std::move(warnings);
  json["cost"] = side.economics ? detail::economics_json(*side.economics) : Json(nullptr);
  json["readings"] = side.readings ? readings_json(*side.readings) : Json(nullptr);
  json["prediction"] = side.result ? detail::summary_object(*side.scenario, *side.result) : Json(nullptr);
  return json;
}

Json values_json(const Comparison& comparison, const std::vector<double>& values) {
  if (values.empty()) return nullptr;
  Json json = Json::object();
  for (std::size_t q = 0; q < values.size(); ++q) {
    const CompareQuantity& quantity = compare_quantity(comparison.explained[q]);
    json[quantity.json_name] = values[q] * quantity.per_si;
  }
  return json;
}

std::vector<double> mean_of(const FactorShare& share) {
  if (share.forward.empty() || share.reverse.empty()) return {};
  std::vector<double> mean;
  for (std::size_t q = 0; q < share.forward.size(); ++q) mean.push_back(0.5 * (share.forward[q] + share.reverse[q]));
  return mean;
}

Json difference_json(const Comparison& comparison, const Difference& d) {
  Json json = {{"candidate", d.candidate}, {"total", values_json(comparison, d.total)}};
  json["factors"] = Json::array();
  for (const FactorShare& share : d.factors)
    json["factors"].push_back({{"factor", share.factor},
                               {"keys", share.keys},
                               {"forward", values_json(comparison, share.forward)},
                               {"reverse", values_json(comparison, share.reverse)},
                               {"mean", values_json(comparison, mean_of(share))}});
  json["forward_message"] = d.forward_message;
  json["reverse_message"] = d.reverse_message;
  return json;
}

Json measure_json(const std::string& name) {
  return name.empty() ? Json(nullptr) : Json(compare_quantity(name).json_name);
}

/// The containment of a candidate against the present wrap; empty cells without draws.
std::string paired_cells(const PairedBand* paired) {
  if (paired == nullptr || !paired->ratio) return ",,,,";
  const Band& ratio = *paired->ratio;
  return "," + shortest(ratio.low) + "," + shortest(ratio.median) + "," + shortest(ratio.high) + "," +
         verdict_word(paired->verdict);
}

}  // namespace

detail::Json detail::comparison_object(const Comparison& comparison, const std::optional<RunInfo>& run_info) {
  const CompareOptions& options = comparison.options;
  Json json = {
      {"schema", result_schema}, {"kind", "comparison"}, {"version", build_version()}, {"caution", short_caution}};
  json["mode"] = {{"same", same_word(options.same)},    {"best_prestretch", options.best_prestretch},
                  {"break_share", options.break_share}, {"band_samples", options.band_samples},
                  {"words_at", options.words_at},       {"text", mode_text(options)}};
  json["measures"] = {{"containment", measure_json(comparison.containment_measure)},
                      {"cost", measure_json(comparison.cost_measure)}};
  json["quantities"] = quantities_json();
  json["sides"] = Json::array();
  for (std::size_t i = 0; i < comparison.sides.size(); ++i) json["sides"].push_back(side_json(comparison, i));
  json["differences"] = Json::array();
  for (const Difference& d : comparison.differences) json["differences"].push_back(difference_json(comparison, d));
  Json warnings = Json::array();
  for (const Warning& w : comparison.warnings) warnings.push_back(warning_json(w));
  detail::replace_not_finite(json, "", warnings);
  json["warnings"] = std::move(warnings);
  if (run_info)
    json["run_info"] = {{"started", run_info->started},
                        {"duration_s", run_info->duration},
                        {"host_system", run_info->host_system},
                        {"host_threads", run_info->host_threads}};
  return json;
}

std::string comparison_json(const Comparison& comparison, const std::optional<RunInfo>& run_info) {
  return detail::json_text(detail::comparison_object(comparison, run_info));
}

std::string comparison_csv(const Comparison& comparison) {
  std::string text = "name,title,file,kind,status,message";
  for (const CompareQuantity& q : compare_quantities()) text += "," + q.json_name;
  text += ",currency,containment_ratio_p05,containment_ratio_p50,containment_ratio_p95,containment_words\n";
  for (const ComparedSide& side : comparison.sides) {
    for (const std::string& word :
         {side.name, side.title, side.file, std::string(side.measured ? "measured" : "predicted"),
          std::string(side.failed ? "failed" : "done")})
      text += csv_cell(word) + ",";
    text += csv_cell(side.message);
    for (const CompareQuantity& q : compare_quantities()) {
      const auto value = q.value(side);
      text += "," + (value ? shortest(*value * q.per_si) : std::string());
    }
    text += "," + csv_cell(side.economics ? side.economics->currency : "") +
            paired_cells(paired_band(side, comparison.containment_measure)) + "\n";
  }
  return text;
}

}  // namespace hoopfield
