// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// One mapping from key to field of a scenario, and what is built on it: setting, listing, ranking ranges, warnings.
#pragma once

#include "models/parameter.hpp"
#include "sim/base/warning.hpp"
#include "sim/inputs/scenario.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace hoopfield {

/// Friction that may be written "stuck" (field absent).
template <typename FieldType>
struct StuckOr {
  FieldType& value;
};
template <typename FieldType>
StuckOr(FieldType&) -> StuckOr<FieldType>;  // clang 14 deduces no aggregates by itself

/// A table of pairs; the units are SI. A lone second value may stand for one pair at first = 0 when `lone_allowed`.
template <typename FieldType>
struct Pairs {
  FieldType& value;
  std::string_view first_unit, second_unit;
  bool lone_allowed;
};
template <typename FieldType>
Pairs(FieldType&, std::string_view, std::string_view, bool) -> Pairs<FieldType>;

/// How well inputs are known, by key.
template <typename FieldType>
struct Spreads {
  FieldType& value;
};
template <typename FieldType>
Spreads(FieldType&) -> Spreads<FieldType>;
using SpreadMap = std::map<std::string, InputSpread>;

/// The tables [[load.tier]].
template <typename FieldType>
struct Tiers {
  FieldType& value;
};
template <typename FieldType>
Tiers(FieldType&) -> Tiers<FieldType>;

/// What a calibration learned.
template <typename FieldType>
struct Calibrated {
  FieldType& value;
};
template <typename FieldType>
Calibrated(FieldType&) -> Calibrated<FieldType>;
using CalibrationTable = std::optional<CalibrationInput>;

/// Calls `visit(key, field)` for every scenario key in the order of the reference. `ScenarioType` is Scenario or const
/// Scenario. Field types: std::string, int, bool, double, std::optional of int and double, the enums of scenario.hpp,
/// StuckOr, Pairs, Spreads, Tiers, Calibrated. Keys of [target] are visited only when `scenario.target` is there.
template <typename ScenarioType, typename Visitor>
void visit_inputs(ScenarioType& s, Visitor&& visit) {
  visit("scenario.title", s.title);
  visit("scenario.notes", s.notes);
  visit("scenario.schema", s.schema);
  visit("report.site", s.report.site);
  visit("report.author", s.report.author);
  visit("report.customer", s.report.customer);
  visit("report.date", s.report.date);
  visit("film.file", s.film.file);
  visit("film.width", s.film.width);
  visit("film.thickness", s.film.thickness);
  visit("film.thickness_tolerance", s.film.thickness_tolerance);
  visit("film.stiffness_scale", s.film.stiffness_scale);
  visit("film.price", s.film.price);
  auto& delivery = s.delivery;
  visit("delivery.prestretch", delivery.prestretch);
  visit("delivery.prestretch_slip", delivery.prestretch_slip);
  visit("delivery.roller_gap", delivery.roller_gap);
  visit("delivery.roller_arc", delivery.roller_arc);
  visit("delivery.internal_path", delivery.internal_path);
  visit("delivery.distance", delivery.distance);
  visit("delivery.offset", delivery.offset);
  visit("delivery.neck_in", delivery.neck_in);
  visit("delivery.width_on_load", delivery.width_on_load);
  auto& tension = s.delivery.tension;
  visit("delivery.tension.control", tension.control);
  visit("delivery.tension.force", tension.force);
  visit("delivery.tension.force_scale", tension.force_scale);
  visit("delivery.tension.dial", tension.dial);
  visit("delivery.tension.dial_table", Pairs{tension.dial_table, "", "N", false});
  visit("delivery.tension.lag", tension.lag);
  visit("delivery.tension.gain", tension.gain);
  visit("delivery.tension.length_per_turn", tension.length_per_turn);
  visit("rotation.speed", s.rotation.speed);
  visit("rotation.kind", s.rotation.kind);
  visit("rotation.ramp_turns", s.rotation.ramp_turns);
  auto& pattern = s.pattern;
  visit("carriage.speed_up", pattern.speed_up);
  visit("carriage.speed_down", pattern.speed_down);
  visit("pattern.pitch", pattern.pitch);
  visit("pattern.overlap", pattern.overlap);
  visit("pattern.bottom_turns", pattern.bottom_turns);
  visit("pattern.top_turns", pattern.top_turns);
  visit("pattern.top_overhang", pattern.top_overhang);
  visit("pattern.start_height", pattern.start_height);
  visit("pattern.descent", pattern.descent);
  visit("pattern.turns", pattern.turns);
  visit("pattern.roping_width", pattern.roping_width);
  auto& load = s.load;
  visit("load.length", load.length);
  visit("load.width", load.width);
  visit("load.height", load.height);
  visit("load.mass", load.mass);
  visit("load.tiers", load.tiers);
  visit("load.tier", Tiers{load.tier});
  visit("load.axis_offset", load.axis_offset);
  visit("load.corner_radius", load.corner_radius);
  visit("load.kind", load.kind);
  visit("load.stiffness_along_length", load.stiffness_along_length);
  visit("load.stiffness_along_width", load.stiffness_along_width);
  visit("load.stiffness_coupling", load.stiffness_coupling);
  visit("load.creep_per_decade", load.creep_per_decade);
  visit("load.creep_start", load.creep_start);
  visit("load.settling", load.settling);
  visit("load.expansion", load.expansion);
  visit("load.shear_stiffness", load.shear_stiffness);
  visit("load.edge_pressure_limit", load.edge_pressure_limit);
  auto& friction = s.friction;
  visit("friction.film_on_load", StuckOr{friction.film_on_load});
  visit("friction.film_on_film", StuckOr{friction.film_on_film});
  visit("friction.between_tiers", friction.between_tiers);
  visit("friction.tier_on_pallet", friction.tier_on_pallet);
  visit("friction.sliding_share", friction.sliding_share);
  auto& transit = s.transit;
  visit("transit.requirement", transit.requirement);
  visit("transit.direction", transit.direction);
  visit("transit.sway_stiffness", transit.sway_stiffness);
  visit("transit.tier_stiffness", transit.tier_stiffness);
  visit("transit.damping", transit.damping);
  visit("transit.bearing_share", transit.bearing_share);
  visit("transit.columns", transit.columns);
  visit("transit.pallet_lock", transit.pallet_lock);
  visit("transit.top_fold_hold", transit.top_fold_hold);
  visit("transit.slip_allowed", transit.slip_allowed);
  visit("transit.deck_friction", transit.deck_friction);
  visit("wrapping.temperature", s.wrapping.temperature);
  visit("storage.duration", s.storage.duration);
  visit("storage.temperature", Pairs{s.storage.temperature, "s", "K", true});
  auto& stations = s.stations;
  visit("stations.top", stations.top);
  visit("stations.middle", stations.middle);
  visit("stations.bottom", stations.bottom);
  visit("stations.corner_distance", stations.corner_distance);
  visit("stations.band_height", stations.band_height);
  visit("stations.plate_diameter", stations.plate_diameter);
  visit("stations.pull_distance", stations.pull_distance);
  visit("stations.pull_rate", stations.pull_rate);
  visit("stations.slit", stations.slit);
  visit("stations.tent_factor", stations.tent_factor);
  if (s.target) {
    visit("target.quantity", s.target->quantity);
    visit("target.at", s.target->at);
    visit("target.top", s.target->top);
    visit("target.middle", s.target->middle);
    visit("target.bottom", s.target->bottom);
    visit("target.probability", s.target->probability);
  }
  auto& cost = s.cost;
  visit("cost.loads_per_year", cost.loads_per_year);
  visit("cost.roll_length", cost.roll_length);
  visit("cost.roll_mass", cost.roll_mass);
  visit("cost.roll_change_time", cost.roll_change_time);
  visit("cost.labour_rate", cost.labour_rate);
  visit("cost.co2e_factor", cost.co2e_factor);
  visit("cost.energy_factor", cost.energy_factor);
  visit("cost.currency", cost.currency);
  visit("numerics.slices", s.numerics.slices);
  visit("numerics.tolerance", s.numerics.tolerance);
  visit("numerics.band_samples", s.numerics.band_samples);
  visit("numerics.seed", s.numerics.seed);
  visit("uncertainty", Spreads{s.uncertainty});
  visit("calibration", Calibrated{s.calibration});
}

/// One input after reading and defaults.
struct ResolvedValue {
  std::string key;
  std::optional<double> number;          ///< SI; absent for texts, choices, tables and "stuck"
  std::string text;                      ///< SI value or text as printed, without unit
  std::string unit;                      ///< SI unit, empty for none
  Source source;                         ///< origin and place
  const Parameter* parameter = nullptr;  ///< never null; static
};

/// Every input that has a value, in the order of the reference. Absent optional inputs are left out, except those whose
/// absence stands for an assumption (delivery.neck_in = the film file's, stations.tent_factor = "formula").
[[nodiscard]] std::vector<ResolvedValue> resolved_values(const Scenario& scenario);

/// Value in the customary unit, "250 %" or "56.2 lbf"; texts as they are.
[[nodiscard]] std::string customary_text(const ResolvedValue& value, bool inch_pound);

/// Sets one input from text as a user writes it ("70 N", "follow", "stuck", "[[\"0 h\", \"23 degC\"]]") and validates
/// the whole. Exclusive inputs replace each other (pitch, overlap, carriage speed; force and dial; neck_in and
/// width_on_load; roll_length and roll_mass); derived values (stations, stiffness from load.kind, force from the dial)
/// follow. The input becomes `given`. Setting film.file reads that film. Throws InputError or OutOfRange and then
/// leaves the scenario as it was.
void set_value(Scenario& scenario, std::string_view key, std::string_view text);

/// The same for a number in SI (stretch as strain). Throws also for keys that do not hold a number. An infinite
/// stiffness is rigid.
void set_number(Scenario& scenario, std::string_view key, double in_si);

/// Several at once, validated together at the end, so that inputs that depend on each other can move together (a larger
/// load and a farther outlet). Same rules and errors.
void set_values(Scenario& scenario, const std::vector<std::pair<std::string, std::string>>& values);
void set_numbers(Scenario& scenario, const std::vector<std::pair<std::string, double>>& values);

/// A number in SI, or a text as a user writes it.
using InputValue = std::variant<double, std::string>;
/// Numbers and texts together; same rules and errors.
void set_inputs(Scenario& scenario, const std::vector<std::pair<std::string, InputValue>>& values);

/// SI number of one input; absent when it has none. Throws InputError for an unknown key.
[[nodiscard]] std::optional<double> get_number(const Scenario& scenario, std::string_view key);

/// Fills derived values and checks everything that involves more than one input. The readers and setters call it.
/// Throws InputError or OutOfRange with the place in `scenario.text` where the offending input was written.
void resolve_scenario(Scenario& scenario);

/// Range over which an assumed input is ranked.
struct AssumedRange {
  std::string key;
  double value = 0.0;            ///< in use, SI; NaN when a formula stands in (stations.tent_factor)
  double low = 0.0, high = 0.0;  ///< SI, kept within the physical bounds and the other inputs
  const Parameter* parameter = nullptr;
};

/// Ranges of all assumed inputs that have one and act in this scenario. Stiffness assumed from load.kind is one
/// entry, load.stiffness_along_length: setting it moves the other with it. A rigid load has none.
[[nodiscard]] std::vector<AssumedRange> assumed_ranges(const Scenario& scenario);

/// True when some result of this scenario depends on an input that has a range or a declared error.
[[nodiscard]] bool value_acts(const Scenario& scenario, std::string_view key);

/// One warning (code "outside-validity") for each value that left the range its declaration calls valid, and notes for
/// assumed stiffness (code "assumed-stiffness"). For the warnings of a result.
[[nodiscard]] std::vector<Warning> input_warnings(const Scenario& scenario);

}  // namespace hoopfield
