// SPDX-License-Identifier: BSD-3-Clause
// Listing of resolved inputs, ranges of unknowns, warnings about inputs.
#include "models/units.hpp"
#include "sim/inputs/calibration_table.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/inputs_detail.hpp"
#include "sim/inputs/spreads.hpp"
#include "sim/inputs/tiers.hpp"
#include "sim/inputs/unknowns.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield {
namespace {

using detail::is_written;

// A derived value shares the origin of what it was derived from. A given value with a stated error was measured.
Source source_of(const Scenario& s, const std::string& key) {
  const auto it = s.sources.find(key);
  if (it != s.sources.end()) {
    Source source = it->second;
    const auto spread = s.uncertainty.find(key);
    const bool stated = spread != s.uncertainty.end() && detail::states_error(spread->second);
    if (stated && source.origin == Origin::given) source.origin = Origin::measured;
    return source;
  }
  const auto dial = s.sources.find("delivery.tension.dial");
  if (key == "delivery.tension.force" && dial != s.sources.end()) return dial->second;
  const auto up = s.sources.find("carriage.speed_up");
  if (key == "carriage.speed_down" && up != s.sources.end()) return {Origin::assumed, {}, 0, 0};
  return {};
}

class Lister {
 public:
  explicit Lister(const Scenario& scenario) : scenario_(scenario) {}

  void operator()(std::string_view key, const std::string& field) {
    if (!field.empty() || is_written(scenario_, key)) add(key, {}, field);
  }
  void operator()(std::string_view key, bool field) { add(key, {}, field ? "true" : "false"); }
  void operator()(std::string_view key, int field) { add(key, static_cast<double>(field), std::to_string(field)); }
  void operator()(std::string_view key, double field) { add(key, field, format_number(field)); }
  void operator()(std::string_view key, const std::optional<int>& field) {
    if (field) (*this)(key, *field);
  }
  void operator()(std::string_view key, const std::optional<double>& field) {
    if (field) {
      (*this)(key, *field);
    } else if (key == "delivery.neck_in" && !scenario_.delivery.width_on_load) {
      const double value = scenario_.film_description.neck_in;
      add(key, value, format_number(value));
      const FilmDescription& film = scenario_.film_description;
      const bool assumed = film.provenance.illustrative || film.assumed.contains(key);
      values_.back().source = {assumed ? Origin::assumed : Origin::fitted, scenario_.film.file, 0, 0};
    } else if (key == "stations.tent_factor") {
      add(key, {}, "formula");
    }
  }
  void operator()(std::string_view key, const StuckOr<const std::optional<double>>& field) {
    if (field.value) {
      (*this)(key, *field.value);
    } else {
      add(key, {}, "stuck");
    }
  }
  template <typename Pair>
  void operator()(std::string_view key, const Pairs<const std::vector<Pair>>& field) {
    if (field.value.empty()) return;
    std::string text;
    if (field.value.size() == 1 && field.lone_allowed) {
      add(key, field.value[0].second, format_number(field.value[0].second));
      return;
    }
    for (const auto& [first, second] : field.value) {
      text += (text.empty() ? "[[" : ", [") + format_quantity(first, field.first_unit) + ", " +
              format_quantity(second, field.second_unit) + "]";
    }
    add(key, {}, text + "]");
    values_.back().unit.clear();
  }
  void operator()(std::string_view key, const Spreads<const SpreadMap>& field) {
    if (field.value.empty()) return;
    std::string text;
    for (const auto& [of, spread] : field.value) text += (text.empty() ? "{\"" : ", \"") + of + "\" = " + spread.text;
    add(key, {}, text + "}");
  }
  void operator()(std::string_view key, const Calibrated<const CalibrationTable>& field) {
    if (field.value) add(key, {}, calibration_text(*field.value));
  }
  void operator()(std::string_view key, const Tiers<const std::vector<TierInput>>& field) {
    if (!field.value.empty()) add(key, {}, tiers_text(field.value));
  }
  template <typename Enum>
  requires std::is_enum_v<Enum>
  void operator()(std::string_view key, Enum field) {
    add(key, {},
        std::string(choice_list(*find_parameter(ParameterRoom::scenario, key))[static_cast<std::size_t>(field)]));
  }

  std::vector<ResolvedValue> take() { return std::move(values_); }

 private:
  void add(std::string_view key, std::optional<double> number, std::string text) {
    const std::string name(key);
    const Parameter declaration = detail::declaration_for(scenario_, key);
    values_.push_back({name, number, std::move(text), number ? std::string(declaration.unit) : std::string{},
                       source_of(scenario_, name), find_parameter(ParameterRoom::scenario, key)});
  }

  const Scenario& scenario_;
  std::vector<ResolvedValue> values_;
};

/// Of inputs that are assumed.
bool acts_assumed(const Scenario& s, std::string_view key) {
  // Both stiffnesses assumed: one entry stands for both, as they move together.
  if (key == "load.stiffness_along_width") return is_written(s, "load.stiffness_along_length");
  if (key == "film.stiffness_scale") return !s.film_description.covariance;
  // Known only through its tolerance, which ranks the thickness itself below.
  return key != "film.thickness_tolerance";
}

void keep_possible(const Scenario& s, AssumedRange& range) {
  const Parameter& p = *range.parameter;
  if (p.lower) range.low = std::max(range.low, p.lower->value);
  if (p.upper) range.high = std::min(range.high, p.upper->value);
  if (range.key == "delivery.prestretch_slip") range.high = std::min(range.high, 0.5 * s.delivery.prestretch);
  if (range.key == "delivery.distance") range.low = std::max(range.low, 1.02 * detail::reach_of_load(s));
  if (range.key == "load.corner_radius") {
    range.high = std::min(range.high, 0.49 * std::min(s.load.length, s.load.width));
  }
  range.high = std::max(range.high, range.low);
}

AssumedRange range_of(const Scenario& s, const ResolvedValue& value) {
  const Parameter& p = *value.parameter;
  AssumedRange range{value.key, value.number.value_or(std::numeric_limits<double>::quiet_NaN()), 0.0, 0.0, &p};
  if (p.range_is_factor) {
    range.low = range.value * parse_quantity(p.range_low, "");
    range.high = range.value * parse_quantity(p.range_high, "");
  } else {
    range.low = parse_quantity(p.range_low, p.unit);
    range.high = parse_quantity(p.range_high, p.unit);
  }
  keep_possible(s, range);
  return range;
}

/// Why an input changes nothing in this scenario; empty where it acts.
std::string_view why_inert(const Scenario& s, std::string_view key) {
  if ((key == "delivery.tension.lag" || key == "delivery.tension.gain") &&
      s.delivery.tension.control != TensionControl::follow)
    return "it is of a machine with delivery.tension.control = \"follow\"";
  if (key == "delivery.tension.force_scale" && s.delivery.tension.control == TensionControl::fixed_length)
    return "a fed length sets no force";
  if (key == "delivery.prestretch_slip" && !(s.delivery.prestretch > 0.0)) return "nothing is stretched before it";
  if ((key.starts_with("load.stiffness_along") || key.starts_with("load.creep_")) && s.load.kind == LoadKind::rigid)
    return "a rigid load gives way nowhere";
  if ((acts_in_transit_only(key) || key == "load.tiers") && !s.load.mass && s.load.tier.empty())
    return "it acts on the load in transit, which needs load.mass";
  if (key == "transit.direction" && !s.transit.levels)
    return "it turns the levels of transit.requirement, and there is none";
  return {};
}

/// Inputs that somebody wrote and that change nothing here, with the reason.
void warn_of_inert(const Scenario& s, std::vector<Warning>& warnings) {
  for (const auto& [key, source] : s.sources)
    if (const std::string_view why = why_inert(s, key); !why.empty())
      warnings.push_back({"inert-input", "note", key, key + " changes nothing here: " + std::string(why)});
}

}  // namespace

std::vector<ResolvedValue> resolved_values(const Scenario& scenario) {
  Lister lister(scenario);
  visit_inputs(scenario, [&](std::string_view key, const auto& field) { lister(key, field); });
  return lister.take();
}

std::string customary_text(const ResolvedValue& value, bool inch_pound) {
  if (!value.number || value.parameter == nullptr) return value.text;
  // Targets of pull force differ in unit from their declaration.
  if (value.unit != value.parameter->unit) return format_input(*value.number, inch_pound ? "lbf" : "N");
  return format_input(*value.number, inch_pound ? value.parameter->inch_pound : value.parameter->metric);
}

bool value_acts(const Scenario& s, std::string_view key) { return why_inert(s, key).empty(); }

std::vector<AssumedRange> assumed_ranges(const Scenario& scenario) {
  std::vector<AssumedRange> ranges;
  for (const ResolvedValue& value : resolved_values(scenario)) {
    if (value.key == "film.thickness" && value.source.origin != Origin::measured) {
      const double spread = scenario.film.thickness_tolerance;
      if (spread > 0.0) {
        ranges.push_back({value.key, *value.number, *value.number * (1.0 - spread), *value.number * (1.0 + spread),
                          value.parameter});
      }
      continue;
    }
    const bool ranked = value.source.origin == Origin::assumed && !value.parameter->range_low.empty();
    if (ranked && value_acts(scenario, value.key) && acts_assumed(scenario, value.key))
      ranges.push_back(range_of(scenario, value));
  }
  return ranges;
}

std::vector<Warning> input_warnings(const Scenario& scenario) {
  std::vector<Warning> warnings;
  const auto check = [&](const Parameter& p, double value, const std::string& shown) {
    const bool low = p.valid_low && value < *p.valid_low;
    const bool high = p.valid_high && value > *p.valid_high;
    if (!low && !high) return false;
    const std::string limit = format_quantity(low ? *p.valid_low : *p.valid_high, p.metric);
    warnings.push_back({"outside-validity", "caution", std::string(p.key),
                        std::string(p.key) + " = " + shown + " is " + (low ? "below " : "above ") + limit +
                            ", outside the range this is meant for"});
    return true;
  };
  for (const ResolvedValue& value : resolved_values(scenario)) {
    const Parameter& p = *value.parameter;
    if (value.number && std::isfinite(*value.number)) check(p, *value.number, customary_text(value, false));
    if (value.number || value.key != "storage.temperature") continue;
    for (const auto& knot : scenario.storage.temperature) {
      if (check(p, knot.second, format_quantity(knot.second, p.metric))) break;
    }
  }
  const bool assumed_stiffness = scenario.load.kind != LoadKind::rigid &&
                                 !is_written(scenario, "load.stiffness_along_length") &&
                                 !is_written(scenario, "load.stiffness_along_width");
  if (assumed_stiffness) {
    warnings.push_back({"assumed-stiffness", "caution", "load.stiffness_along_length",
                        "the load's stiffness is assumed from load.kind (no source, wide range): half or twice is as "
                        "likely"});
  }
  warn_of_inert(scenario, warnings);
  return warnings;
}

}  // namespace hoopfield
