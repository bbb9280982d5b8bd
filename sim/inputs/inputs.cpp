// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/inputs.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/inputs/assign.hpp"
#include "sim/inputs/inputs_detail.hpp"
#include "sim/inputs/reader_support.hpp"
#include "sim/inputs/requirement.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/inputs/spreads.hpp"

#include <array>
#include <cmath>
#include <filesystem>

namespace hoopfield {
namespace detail {

Parameter declaration_for(const Scenario& scenario, std::string_view key) {
  const Parameter* found = find_parameter(ParameterRoom::scenario, key);
  if (found == nullptr) {
    std::vector<std::string_view> keys;
    for (const Parameter& p : parameters(ParameterRoom::scenario)) keys.push_back(p.key);
    fail_input({}, {}, std::string(key), {"unknown key", "a scenario key", nearest_key(key, keys)});
  }
  Parameter declaration = *found;
  const bool force_target = scenario.target && scenario.target->quantity == TargetQuantity::pull_force;
  if (force_target && key.starts_with("target.") && declaration.unit == "N/m") {
    declaration.unit = declaration.metric = "N";
    declaration.inch_pound = "lbf";
  }
  return declaration;
}

}  // namespace detail

namespace {

void forget(Scenario& s, std::string_view key) { s.sources.erase(std::string(key)); }

// Inputs that say the same thing in another way give way to the one being set.
void replace_alternatives(Scenario& s, std::string_view key) {
  TensionInput& tension = s.delivery.tension;
  PatternInput& pattern = s.pattern;
  const bool climbs_by_speed = key == "carriage.speed_up" || key == "carriage.speed_down";
  if (climbs_by_speed || key == "pattern.pitch" || key == "pattern.overlap") {
    if (!climbs_by_speed) {
      pattern.speed_up.reset();
      pattern.speed_down.reset();
      forget(s, "carriage.speed_up");
      forget(s, "carriage.speed_down");
    }
    if (key != "pattern.pitch") pattern.pitch.reset(), forget(s, "pattern.pitch");
    if (key != "pattern.overlap") pattern.overlap.reset(), forget(s, "pattern.overlap");
  } else if (key == "delivery.tension.force") {
    tension.dial.reset();
    forget(s, "delivery.tension.dial");
  } else if (key == "delivery.tension.dial") {
    forget(s, "delivery.tension.force");
  } else if (key == "delivery.neck_in") {
    s.delivery.width_on_load.reset();
    forget(s, "delivery.width_on_load");
  } else if (key == "delivery.width_on_load") {
    s.delivery.neck_in.reset();
    forget(s, "delivery.neck_in");
  } else if (key == "cost.roll_length") {
    s.cost.roll_mass.reset();
    forget(s, "cost.roll_mass");
  } else if (key == "cost.roll_mass") {
    s.cost.roll_length.reset();
    forget(s, "cost.roll_length");
  } else if (key == "load.tier") {
    s.load.tiers.reset();
    forget(s, "load.tiers");
  } else if (key == "load.tiers") {
    s.load.tier.clear();
    forget(s, "load.tier");
  } else if (key == "load.kind") {
    forget(s, "load.stiffness_along_length");
    forget(s, "load.stiffness_along_width");
  } else if (key.starts_with("load.stiffness_along") && s.load.kind == LoadKind::rigid) {
    s.load.kind = LoadKind::cased;
    forget(s, "load.kind");
  }
}

void mark_given(Scenario& s, std::string_view key) {
  replace_alternatives(s, key);
  s.sources[std::string(key)] = {Origin::given, {}, 0, 0};
}

}  // namespace

namespace detail {

RawNode node_from_text(const Parameter& p, std::string_view key, std::string_view text) {
  const std::string value(text);
  const bool literal = p.kind == ParameterKind::integer || p.kind == ParameterKind::flag ||
                       (p.kind == ParameterKind::table && text.starts_with("["));
  if (literal) {
    try {
      return parse_toml_value(value, std::string(key));
    } catch (const InputError&) {
      RawNode node;  // not a number, truth value or list: the assigner says what was expected
      node.kind = RawNode::Kind::text;
      node.text = value;
      return node;
    }
  }
  RawNode node;
  node.kind = RawNode::Kind::text;
  node.text = value;
  return node;
}

/// "film.thickness" of "uncertainty.film.thickness"; empty for other keys.
std::string spread_key(std::string_view key) {
  constexpr std::string_view prefix = "uncertainty.";
  return std::string(key.starts_with(prefix) ? key.substr(prefix.size()) : std::string_view{});
}

/// A text as TOML has it: a list, or the text itself.
RawNode spread_node(const std::string& key, std::string_view text) {
  if (text.starts_with("[")) return parse_toml_value(std::string(text), key);
  RawNode node;
  node.kind = RawNode::Kind::text;
  node.text = std::string(text);
  return node;
}

void put(Scenario& s, std::string_view key, const RawNode& node, const InputText& input) {
  if (const std::string known = spread_key(key); !known.empty()) {
    s.uncertainty[known] = read_spread(input, known, node);
    s.sources["uncertainty"] = {Origin::given, {}, 0, 0};
    return;
  }
  if (key.starts_with("target.") && !s.target) s.target.emplace();
  const Parameter declaration = declaration_for(s, key);
  const Assigner assign(input, declaration, std::string(key));
  visit_inputs(s, [&](std::string_view at, auto&& field) {
    if (at == key) assign(node, field);
  });
  mark_given(s, key);
}

void put_number(Scenario& s, const std::string& key, double in_si) {
  if (std::isinf(in_si) && in_si > 0.0 && key.starts_with("load.stiffness_along")) {
    RawNode rigid;
    rigid.kind = RawNode::Kind::text;
    rigid.text = "rigid";
    put(s, "load.kind", rigid, {});
    return;
  }
  if (key.starts_with("target.") && !s.target) s.target.emplace();
  Parameter declaration = declaration_for(s, key);
  const bool whole = declaration.kind == ParameterKind::integer;
  if (declaration.kind != ParameterKind::number && !whole && key != "storage.temperature") {
    fail_input({}, {}, key, {"does not hold a number", "a key with a number", {}});
  }
  RawNode node;
  node.kind = whole ? RawNode::Kind::integer : RawNode::Kind::number;
  node.number = in_si;
  node.text = format_quantity(in_si, declaration.metric, 12);
  if (whole) {
    if (!(std::abs(in_si) < 2147483648.0) || in_si != std::round(in_si)) {
      fail_input({}, {}, key, {format_number(in_si) + " is not a whole number", "a whole number", {}});
    }
    node.integer = static_cast<std::int64_t>(in_si);
  }
  declaration.unit = {};  // already SI
  declaration.unit_due = false;
  const InputText nowhere;
  const Assigner assign(nowhere, declaration, key);
  visit_inputs(s, [&](std::string_view at, auto&& field) {
    if (at == key) assign(node, field);
  });
  mark_given(s, key);
}

}  // namespace detail

void set_inputs(Scenario& scenario, const std::vector<std::pair<std::string, InputValue>>& values) {
  Scenario changed = scenario;
  bool new_film = false, new_requirement = false;
  for (const auto& [key, value] : values) {
    if (const double* number = std::get_if<double>(&value)) {
      detail::put_number(changed, key, *number);
    } else if (!detail::spread_key(key).empty()) {
      detail::put(changed, key, detail::spread_node(key, std::get<std::string>(value)), {});
    } else {
      const Parameter declaration = detail::declaration_for(scenario, key);
      detail::put(changed, key, detail::node_from_text(declaration, key, std::get<std::string>(value)), {});
    }
    new_film = new_film || key == "film.file";
    new_requirement = new_requirement || key == "transit.requirement";
  }
  const std::string folder = std::filesystem::path(changed.path).parent_path().string();
  if (new_film) read_film_of(changed, folder);
  if (new_requirement) read_requirement_of(changed, folder);
  resolve_scenario(changed);
  scenario = std::move(changed);
}

void set_values(Scenario& scenario, const std::vector<std::pair<std::string, std::string>>& values) {
  set_inputs(scenario, {values.begin(), values.end()});
}

void set_numbers(Scenario& scenario, const std::vector<std::pair<std::string, double>>& values) {
  set_inputs(scenario, {values.begin(), values.end()});
}

void set_value(Scenario& scenario, std::string_view key, std::string_view text) {
  set_values(scenario, {{std::string(key), std::string(text)}});
}

void set_number(Scenario& scenario, std::string_view key, double in_si) {
  set_numbers(scenario, {{std::string(key), in_si}});
}

std::optional<double> get_number(const Scenario& scenario, std::string_view key) {
  (void)detail::declaration_for(scenario, key);
  std::optional<double> found;
  visit_inputs(scenario, [&](std::string_view at, const auto& field) {
    using FieldType = std::decay_t<decltype(field)>;
    if (at != key) return;
    if constexpr (std::is_same_v<FieldType, double> || std::is_same_v<FieldType, int>) {
      found = static_cast<double>(field);
    } else if constexpr (std::is_same_v<FieldType, std::optional<double>> ||
                         std::is_same_v<FieldType, std::optional<int>>) {
      if (field) found = static_cast<double>(*field);
    } else if constexpr (std::is_same_v<FieldType, StuckOr<const std::optional<double>>>) {
      found = field.value;
    }
  });
  return found;
}

}  // namespace hoopfield
