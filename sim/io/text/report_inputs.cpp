// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/detail/report_parts.hpp"

#include "models/parameter.hpp"
#include "models/units.hpp"
#include "sim/inputs/input_rows.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace hoopfield::detail {

namespace {

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
  return printed_unit(format_input(row.number, unit));
}

/// "scenario.toml:9"; the folder stands once, in the list of files.
std::string source_text(const InputRow& row) {
  const std::string name = std::filesystem::path(row.file).filename().string();
  return row.line > 0 ? name + ":" + std::to_string(row.line) : name;
}

}  // namespace

const Parameter* declaration(const std::string& key) {
  if (const Parameter* found = find_parameter(ParameterRoom::scenario, key)) return found;
  return find_parameter(ParameterRoom::film_file, key);
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
                    {"metric", history ? printed_unit(temperature_text(scenario, "degC"))
                                       : shown(row, p != nullptr ? p->metric : std::string_view(row.unit))},
                    {"inch_pound", history ? printed_unit(temperature_text(scenario, "degF"))
                                           : shown(row, p != nullptr ? p->inch_pound : std::string_view(row.unit))},
                    {"origin", row.origin},
                    {"source", source_text(row)}});
  }
  return list;
}

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

Json input_labels() {
  Json json = Json::object();
  for (const Parameter& p : parameters(ParameterRoom::scenario))
    if (!p.label.empty()) json[p.key] = p.label;
  return json;
}

}  // namespace hoopfield::detail
