// SPDX-License-Identifier: BSD-3-Clause
#include "models/output_names.hpp"

#include <array>

namespace hoopfield {
namespace {

/// Unit of a JSON number: ending of its name, and `json = (si - offset) * scale`.
struct JsonUnit {
  std::string_view unit, ending;
  double offset, scale;
};

constexpr std::array json_units = {
    JsonUnit{"", "", 0.0, 1.0},
    JsonUnit{"%", "_percent", 0.0, 100.0},
    JsonUnit{"mm", "_mm", 0.0, 1e3},
    JsonUnit{"km", "_km", 0.0, 1e-3},
    JsonUnit{"degC", "_C", 273.15, 1.0},
    JsonUnit{"min", "_min", 0.0, 1.0 / 60.0},
    JsonUnit{"h", "_h", 0.0, 1.0 / 3600.0},
    JsonUnit{"MJ", "_MJ", 0.0, 1e-6},
    JsonUnit{"MPa", "_MPa", 0.0, 1e-6},
    JsonUnit{"gn", "_gn", 0.0, 1.0 / 9.80665},
    JsonUnit{"MJ/kg", "_MJ_per_kg", 0.0, 1e-6},
    JsonUnit{"/h", "_per_h", 0.0, 3600.0},
    JsonUnit{"/kg", "_per_kg", 0.0, 1.0},
};

/// Null for an SI unit: its own ending, no conversion.
const JsonUnit* json_unit(std::string_view name) {
  for (const JsonUnit& unit : json_units)
    if (unit.unit == name) return &unit;
  return nullptr;
}

std::size_t last_dot(std::string_view key) {
  const std::size_t dot = key.rfind('.');
  return dot == std::string_view::npos ? 0 : dot + 1;
}

}  // namespace

std::vector<std::string> axis_list(const Parameter& output) {
  std::vector<std::string> axes;
  for (std::string_view rest = output.axes; !rest.empty();) {
    const std::size_t comma = rest.find(',');
    axes.emplace_back(rest.substr(0, comma));
    if (comma == std::string_view::npos) break;
    rest.remove_prefix(comma + 1);
  }
  return axes;
}

std::string json_leaf(const Parameter& output) {
  return named_with_unit(output.key.substr(last_dot(output.key)), output);
}

std::string json_key(const Parameter& output) {
  return std::string(output.key.substr(0, last_dot(output.key))) + json_leaf(output);
}

double json_number(const Parameter& output, double in_si) {
  const JsonUnit* unit = json_unit(output.json_unit);
  return unit != nullptr ? (in_si - unit->offset) * unit->scale : in_si;
}

double si_of_json(const Parameter& output, double number) {
  const JsonUnit* unit = json_unit(output.json_unit);
  return unit != nullptr ? number / unit->scale + unit->offset : number;
}

std::string file_unit(const Parameter& output) {
  constexpr std::string_view money = "money";
  if (output.unit.starts_with(money)) return "1" + std::string(output.unit.substr(money.size()));
  return output.unit.empty() ? "1" : std::string(output.unit);
}

std::string named_with_unit(std::string_view name, const Parameter& output) {
  return std::string(name) + unit_ending(output.json_unit);
}

std::string unit_ending(std::string_view unit) {
  if (const JsonUnit* known = json_unit(unit)) return std::string(known->ending);
  std::string ending;
  for (const char c : unit) ending += c == '/' ? std::string("_per_") : std::string(1, c);
  return ending.empty() || ending == "1" ? std::string() : "_" + ending;
}

std::string file_group(const Parameter& output) {
  const std::size_t slash = output.file.find('/');
  return slash == std::string_view::npos ? std::string() : std::string(output.file.substr(0, slash));
}

std::string file_name(const Parameter& output) {
  const std::size_t slash = output.file.find('/');
  return std::string(slash == std::string_view::npos ? output.file : output.file.substr(slash + 1));
}

std::string key_at(const Parameter& output, const std::vector<std::string>& axis_names) {
  constexpr std::string_view per_face = "faces.";
  const std::size_t dot = output.key.find('.');
  std::string_view rest = dot == std::string_view::npos ? std::string_view() : output.key.substr(dot + 1);
  if (rest.starts_with(per_face)) rest.remove_prefix(per_face.size());
  std::string key(output.key.substr(0, dot));
  const std::vector<std::string> axes = axis_list(output);
  for (std::size_t a = 0; a < axis_names.size(); ++a) key += (axes.at(a) == "face" ? ".faces." : ".") + axis_names[a];
  return rest.empty() ? key : key + "." + std::string(rest);
}

}  // namespace hoopfield
