// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/requirement.hpp"

#include "models/error.hpp"
#include "models/text.hpp"
#include "sim/inputs/assign.hpp"
#include "sim/inputs/inputs_detail.hpp"

#include <algorithm>
#include <array>
#include <filesystem>

namespace hoopfield {
namespace {

namespace fs = std::filesystem;
using enum ParameterKind;

constexpr double longest_run = 10.0;  // s
constexpr const char* set_keys = "name, source, status or tables [[case]]";

constexpr Parameter name_key{.key = "name", .kind = text}, source_key{.key = "source", .kind = text},
    status_key{.key = "status", .kind = choice, .choices = "read|secondary|memory"},
    direction_key{.key = "direction", .kind = choice, .choices = "forward|rearward|sideways"},
    level_key{.key = "level",
              .unit = "m/s^2",
              .metric = "gn",
              .inch_pound = "gn",
              .lower = Bound{0.0, false},
              .upper = Bound{10.0 * 9.80665, true}},
    kind_key{.key = "kind", .kind = choice, .choices = "static|pulse"},
    rise_key{.key = "rise", .unit = "s", .metric = "ms", .inch_pound = "ms", .lower = Bound{0.001, true}},
    hold_key{.key = "hold", .unit = "s", .metric = "ms", .inch_pound = "ms", .lower = Bound{0.0, true}},
    share_key{.key = "lean", .metric = "%", .inch_pound = "%", .lower = Bound{0.0, false}, .upper = Bound{1.0, true}};

std::string choice_of(const InputText& input, const RawNode& node, const Parameter& p, const std::string& key) {
  return std::string(choice_list(p)[Assigner(input, p, key).choice(node)]);
}

void read_case_key(const InputText& input, const RawNode& node, const std::string& key, RequirementCase& out) {
  const auto number = [&](const Parameter& p) { return Assigner(input, p, key).number(node); };
  if (node.key == "direction")
    out.direction = static_cast<VehicleDirection>(Assigner(input, direction_key, key).choice(node));
  else if (node.key == "level")
    out.level = number(level_key);
  else if (node.key == "kind")
    out.is_pulse = Assigner(input, kind_key, key).choice(node) == 1;
  else if (node.key == "rise")
    out.rise = number(rise_key);
  else if (node.key == "hold")
    out.hold = number(hold_key);
  else if (node.key == "lean")
    out.lean = number(share_key);
  else if (node.key == "permanent")
    out.permanent = number(share_key);
  else if (node.key == "shift")
    out.shift = number(share_key);
  else if (node.key == "status")
    out.status = choice_of(input, node, status_key, key);
  else
    fail_input(input, node.key_at, key,
               {"unknown key", "direction, level, kind, rise, hold, lean, permanent, shift or status", {}});
}

RequirementCase read_case(const InputText& input, const RawNode& table, const std::string& name) {
  RequirementCase out;
  for (const RawNode& node : table.children) read_case_key(input, node, name + "." + node.key, out);
  const Position at = table.key_at.line > 0 ? table.key_at : table.value_at;
  const auto require = [&](const char* key, const char* expected) {
    if (table.find(key) == nullptr) fail_input(input, at, name + "." + key, {"is missing", expected, {}});
  };
  require("direction", "forward, rearward or sideways");
  require("level", "an acceleration (gn or m/s^2)");
  require("kind", "\"static\" or \"pulse\"");
  require("status", "\"read\", \"secondary\" or \"memory\": where the numbers come from");
  for (const char* key : {"rise", "hold"}) {
    if (out.is_pulse) require(key, "a time (s or ms), as the kind is \"pulse\"");
    const RawNode* node = table.find(key);
    if (!out.is_pulse && node != nullptr)
      fail_input(input, node->value_at, name + "." + key, {"acts on pulses only", "kind = \"pulse\"", {}});
  }
  if (2.0 * out.rise + out.hold > longest_run)
    fail_input(input, table.find("hold")->value_at, name + ".hold",
               {"makes the pulse longer than a run", "rise, hold and fall within 10 s; beyond, kind = \"static\"", {}});
  return out;
}

}  // namespace

const char* vehicle_direction_name(VehicleDirection direction) {
  static constexpr std::array<const char*, 3> names = {"forward", "rearward", "sideways"};
  return names[static_cast<std::size_t>(direction)];
}

std::string requirement_from_here(const std::string& name) {
  std::error_code code;
  const bool is_file = library_requirement(name).empty() && fs::exists(name, code);
  return is_file ? fs::absolute(name).string() : name;
}

Requirement read_requirement(const InputText& input) {
  const RawNode root = parse_toml_file(input, {"a set of requirements", set_keys});
  Requirement out;
  for (const RawNode& node : root.children) {
    if (node.key == "name")
      Assigner(input, name_key, node.key)(node, out.name);
    else if (node.key == "source")
      Assigner(input, source_key, node.key)(node, out.source);
    else if (node.key == "status")
      out.status = choice_of(input, node, status_key, node.key);
    else if (node.key != "case")
      fail_input(input, node.key_at, node.key, {"unknown key", set_keys, {}});
    else if (node.kind != RawNode::Kind::array)
      fail_input(input, node.key_at, node.key, {"is " + kind_word(node), "tables [[case]]", {}});
    else
      for (const RawNode& item : node.children) {
        const std::string name = "case[" + std::to_string(out.cases.size() + 1) + "]";
        if (item.kind != RawNode::Kind::table)
          fail_input(input, item.value_at, name, {"is " + kind_word(item), "tables [[case]]", {}});
        out.cases.push_back(read_case(input, item, name));
      }
  }
  const auto require = [&](bool there, const char* key, const char* expected) {
    if (!there) fail_input(input, {}, key, {"is missing", expected, {}});
  };
  require(!out.name.empty(), "name", "a text in quotes");
  require(!out.source.empty(), "source", "where the levels come from, in quotes");
  require(!out.status.empty(), "status", "\"read\", \"secondary\" or \"memory\"");
  require(!out.cases.empty(), "case", "at least one table [[case]]");
  return out;
}

void read_requirement_of(Scenario& scenario, const std::string& base_dir) {
  const std::string& name = scenario.transit.requirement;
  scenario.transit.levels.reset();
  if (name.empty()) return;
  if (std::string known = library_requirement(name); !known.empty()) {
    scenario.transit.levels = read_requirement({name + ".toml", std::move(known)});
    return;
  }
  const auto complain = [&](const std::string& what) {
    const std::vector<std::string> sets = library_requirements();
    std::string list;
    for (const std::string& set : sets) list += (list.empty() ? "" : ", ") + set;
    detail::fail_at(scenario, "transit.requirement",
                    {what, list + ", or a file relative to the scenario's folder",
                     nearest_key(name, std::vector<std::string_view>(sets.begin(), sets.end()))});
  };
  if (name.find('\0') != std::string::npos) complain("holds a NUL character");
  const fs::path on_disk = fs::path(base_dir) / name;
  std::error_code code;
  if (!fs::is_regular_file(on_disk, code)) complain(in_quotes(name) + " is neither a set that is built in nor a file");
  try {
    InputText input = read_input_text(on_disk.string());
    input.name = name;
    scenario.transit.levels = read_requirement(input);
  } catch (const IoError&) {
    complain(in_quotes(name) + " cannot be read");
  }
}

}  // namespace hoopfield
