// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/compare_writer.hpp"

#include "models/caution.hpp"
#include "sim/base/build_info.hpp"
#include "sim/base/number_text.hpp"
#include "sim/io/text/detail/json_parts.hpp"

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
    list.push_back({{"name", q.json_name}, {"unit", shown_unit(q)}, {"long_name", q.long_name}});
  return list;
}

Json numbers_json(const ComparedSide& side) {
  Json json = Json::object();
  for (const CompareQuantity& q : compare_quantities())
    if (const auto value = q.value(side)) json[q.json_name] = *value * q.per_si;
  return json;
}

Json against_json(const ComparedSide& present, const ComparedSide& side) {
  Json json = Json::object();
  for (const CompareQuantity& q : compare_quantities()) {
    const auto a = q.value(present), b = q.value(side);
    if (!a || !b) continue;
    json[q.json_name] = {{"difference", (*b - *a) * q.per_si}, {"ratio", *a != 0.0 ? Json(*b / *a) : Json(nullptr)}};
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

Json side_json(const Comparison& comparison, const ComparedSide& side) {
  Json json = {{"name", side.name},
               {"title", side.title},
               {"file", side.file},
               {"kind", side.measured ? "measured" : "predicted"},
               {"status", side.failed ? "failed" : "done"},
               {"message", side.message},
               {"numbers", numbers_json(side)},
               {"against_present", against_json(comparison.sides.front(), side)},
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

const CompareQuantity& quantity_named(const std::string& name) {
  for (const CompareQuantity& q : compare_quantities())
    if (q.name == name) return q;
  return compare_quantities().front();
}

Json values_json(const Comparison& comparison, const std::vector<double>& values) {
  if (values.empty()) return nullptr;
  Json json = Json::object();
  for (std::size_t q = 0; q < values.size(); ++q) {
    const CompareQuantity& quantity = quantity_named(comparison.explained[q]);
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
  return name.empty() ? Json(nullptr) : Json(quantity_named(name).json_name);
}

}  // namespace

detail::Json detail::comparison_object(const Comparison& comparison, const std::optional<RunInfo>& run_info) {
  const CompareOptions& options = comparison.options;
  Json json = {
      {"schema", result_schema}, {"kind", "comparison"}, {"version", build_version()}, {"caution", short_caution}};
  json["mode"] = {{"same", same_word(options.same)},
                  {"best_prestretch", options.best_prestretch},
                  {"break_share", options.break_share},
                  {"text", mode_text(options)}};
  json["measures"] = {{"containment", measure_json(comparison.containment_measure)},
                      {"cost", measure_json(comparison.cost_measure)}};
  json["quantities"] = quantities_json();
  json["sides"] = Json::array();
  for (const ComparedSide& side : comparison.sides) json["sides"].push_back(side_json(comparison, side));
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
  text += ",currency\n";
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
    text += "," + csv_cell(side.economics ? side.economics->currency : "") + "\n";
  }
  return text;
}

}  // namespace hoopfield
