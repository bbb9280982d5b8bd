// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/tiers.hpp"

#include "models/text.hpp"
#include "models/units.hpp"
#include "sim/base/number_text.hpp"
#include "sim/inputs/assign.hpp"
#include "sim/inputs/inputs_detail.hpp"

#include <cmath>

namespace hoopfield {
namespace {

constexpr std::size_t most_tiers = 100;
constexpr double match = 0.01;  // of the whole

Parameter keyed(const char* key, const char* of, bool required) {
  Parameter p = *find_parameter(ParameterRoom::scenario, of);
  p.key = key;
  p.required = required;
  return p;
}

TierInput read_tier(const InputText& input, const RawNode& table, const std::string& name) {
  static const Parameter height = keyed("height", "load.height", true), mass = keyed("mass", "load.mass", true),
                         friction = keyed("friction_below", "friction.between_tiers", false);
  TierInput tier;
  for (const RawNode& child : table.children) {
    const std::string key = name + "." + child.key;
    if (child.key == height.key) {
      Assigner(input, height, key)(child, tier.height);
    } else if (child.key == mass.key) {
      Assigner(input, mass, key)(child, tier.mass);
    } else if (child.key == friction.key) {
      Assigner(input, friction, key)(child, tier.friction_below);
    } else {
      fail_input(input, child.key_at, key, {"unknown key", "height, mass or friction_below", {}});
    }
  }
  for (const Parameter* p : {&height, &mass})
    if (table.find(std::string(p->key)) == nullptr)
      fail_input(input, table.key_at.line > 0 ? table.key_at : table.value_at, name + "." + std::string(p->key),
                 {"is missing", Assigner(input, *p, std::string(p->key)).expectation(), {}});
  return tier;
}

/// In the customary unit when that is exact.
std::string written(double value, const char* unit) {
  const std::string text = format_quantity(value, unit, 12);
  return in_quotes(parse_quantity(text, unit) == value ? text : shortest(value) + " " + unit);
}

void check_sum(const Scenario& s, double sum, double whole, const char* what, const char* unit, const char* of) {
  if (std::abs(sum - whole) <= match * whole) return;
  detail::fail_at(s, "load.tier",
                  {std::string("the ") + what + " of the tiers add up to " + format_quantity(sum, unit, 4),
                   std::string("within 1 % of ") + of + ", " + format_quantity(whole, unit, 4),
                   {}});
}

}  // namespace

std::vector<TierInput> read_tiers(const InputText& input, const RawNode& list) {
  const std::string key = "load.tier";
  if (list.kind != RawNode::Kind::array)
    fail_input(input, list.kind == RawNode::Kind::table ? list.key_at : list.value_at, key,
               {"is " + kind_word(list), "tables [[load.tier]]", {}});
  if (list.children.size() > most_tiers)
    fail_input(input, list.value_at, key,
               {"has " + std::to_string(list.children.size()) + " tiers", "at most " + std::to_string(most_tiers), {}});
  std::vector<TierInput> tiers;
  for (const RawNode& item : list.children) {
    const std::string name = key + "[" + std::to_string(tiers.size() + 1) + "]";
    if (item.kind != RawNode::Kind::table)
      fail_input(input, item.value_at, name, {"is " + kind_word(item), "tables [[load.tier]]", {}});
    tiers.push_back(read_tier(input, item, name));
  }
  return tiers;
}

std::string tiers_text(const std::vector<TierInput>& tiers) {
  std::string text;
  for (const TierInput& tier : tiers) {
    text += (text.empty() ? "[{ height = " : ", { height = ") + written(tier.height, "m");
    text += ", mass = " + written(tier.mass, "kg");
    if (tier.friction_below) text += ", friction_below = " + shortest(*tier.friction_below);
    text += " }";
  }
  return text.empty() ? text : text + "]";
}

void check_tiers(const Scenario& s) {
  const std::vector<TierInput>& tiers = s.load.tier;
  if (tiers.empty()) return;
  if (s.load.tiers && *s.load.tiers != static_cast<int>(tiers.size()))
    detail::fail_at(
        s, "load.tiers",
        {std::to_string(*s.load.tiers) + " contradicts the " + std::to_string(tiers.size()) + " tables [[load.tier]]",
         "one of the two",
         {}});
  double height = 0.0, mass = 0.0;
  for (const TierInput& tier : tiers) height += tier.height, mass += tier.mass;
  check_sum(s, height, s.load.height, "heights", "m", "load.height");
  if (s.load.mass) check_sum(s, mass, *s.load.mass, "masses", "kg", "load.mass");
}

}  // namespace hoopfield
