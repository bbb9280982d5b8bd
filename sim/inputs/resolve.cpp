// SPDX-License-Identifier: BSD-3-Clause
// Derived inputs and the checks that involve more than one input.
#include "models/error.hpp"
#include "models/film/equilibrium.hpp"
#include "models/film/law_registry.hpp"
#include "models/units.hpp"
#include "sim/inputs/calibration_table.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/inputs_detail.hpp"
#include "sim/inputs/spreads.hpp"
#include "sim/inputs/tiers.hpp"
#include "sim/inputs/unknowns.hpp"
#include "sim/inputs/work_limit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield {
namespace detail {

bool is_written(const Scenario& scenario, std::string_view key) {
  return scenario.sources.count(std::string(key)) != 0;
}

std::pair<InputText, Position> place_of(const Scenario& scenario, std::string_view key) {
  const auto it = scenario.sources.find(std::string(key));
  if (it == scenario.sources.end()) return {{scenario.path, scenario.text}, {}};
  if (it->second.line == 0) return {};
  return {{scenario.path, scenario.text}, {it->second.line, it->second.column}};
}

void fail_at(const Scenario& scenario, std::string_view key, const Complaint& complaint) {
  const auto [input, at] = place_of(scenario, key);
  fail_input(input, at, std::string(key), complaint);
}

void fail_range_at(const Scenario& scenario, std::string_view key, const Complaint& complaint) {
  const auto [input, at] = place_of(scenario, key);
  fail_range(input, at, std::string(key), complaint);
}

double reach_of_load(const Scenario& scenario) {
  const LoadInput& load = scenario.load;
  return std::hypot(0.5 * load.length + std::abs(load.axis_offset), 0.5 * load.width);
}

}  // namespace detail

namespace {

using detail::fail_at;
using detail::fail_range_at;
using detail::is_written;

std::string metres(double value) { return format_quantity(value, "m"); }
std::string millimetres(double value) { return format_quantity(value, "mm"); }

/// A bound that follows from other inputs: four digits, rounded to the side that is allowed.
std::string rounded(double in_si, const char* unit, double (*to_whole)(double)) {
  const double value = to_unit(in_si, unit);
  const double step = std::pow(10.0, std::floor(std::log10(std::max(std::abs(value), 1e-300))) - 3.0);
  const double near = std::round(value / step);
  const double whole = std::abs(value / step - near) < 1e-6 ? near : to_whole(value / step);
  return format_quantity(whole * step / to_unit(1.0, unit), unit, 4);
}
std::string at_most(double in_si, const char* unit) { return rounded(in_si, unit, std::floor); }
std::string at_least(double in_si, const char* unit) { return rounded(in_si, unit, std::ceil); }

double force_from_dial(const Scenario& s) {
  const auto& table = s.delivery.tension.dial_table;
  const double dial = *s.delivery.tension.dial;
  if (table.empty()) {
    fail_at(s, "delivery.tension.dial", {"needs delivery.tension.dial_table", "pairs [dial, force]", {}});
  }
  if (dial < table.front().first || dial > table.back().first) {
    fail_range_at(s, "delivery.tension.dial",
                  {format_number(dial) + " is outside dial_table",
                   format_number(table.front().first) + " to " + format_number(table.back().first),
                   {}});
  }
  const auto above =
      std::lower_bound(table.begin(), table.end(), dial, [](const auto& p, double d) { return p.first < d; });
  if (above == table.begin()) return above->second;
  const auto below = std::prev(above);
  const double share = (dial - below->first) / (above->first - below->first);
  return below->second + share * (above->second - below->second);
}

void derive_stiffness(Scenario& s) {
  LoadInput& load = s.load;
  const bool length = is_written(s, "load.stiffness_along_length");
  const bool width = is_written(s, "load.stiffness_along_width");
  if (load.kind == LoadKind::rigid && (length || width)) {
    fail_at(s, length ? "load.stiffness_along_length" : "load.stiffness_along_width",
            {"contradicts load.kind = \"rigid\"", "one of the two", {}});
  }
  if (length && width) return;
  // Assumed, no source, wide range: no published in-plane stiffness of a palletised tier was found.
  constexpr double cased = 200e3, bagged = 60e3;
  const double by_kind = load.kind == LoadKind::rigid   ? std::numeric_limits<double>::infinity()
                         : load.kind == LoadKind::cased ? cased
                                                        : bagged;
  const double known = length ? load.stiffness_along_length : width ? load.stiffness_along_width : by_kind;
  if (!length) load.stiffness_along_length = known;
  if (!width) load.stiffness_along_width = known;
}

void derive_stations(Scenario& s) {
  const double height = s.load.height;
  const double margin = height < 1.5 ? height / 6.0 : 0.25;
  if (!is_written(s, "stations.top")) s.stations.top = height - margin;
  if (!is_written(s, "stations.middle")) s.stations.middle = 0.5 * height;
  if (!is_written(s, "stations.bottom")) s.stations.bottom = margin;
}

void derive(Scenario& s) {
  TensionInput& tension = s.delivery.tension;
  if (tension.dial) tension.force = force_from_dial(s);
  if (!tension.force) fail_at(s, "delivery.tension.force", {"is missing", "a force, or dial with dial_table", {}});
  PatternInput& pattern = s.pattern;
  if (pattern.speed_up && !is_written(s, "carriage.speed_down")) pattern.speed_down = pattern.speed_up;
  if (!pattern.speed_up && !pattern.pitch && !pattern.overlap) pattern.overlap = 0.4;
  derive_stiffness(s);
  derive_stations(s);
}

// Bounds of every value, for values that did not come through a reader.
void check_each(const Scenario& s) {
  const auto check = [&](std::string_view key, double value) {
    const Parameter p = detail::declaration_for(s, key);
    const bool stiffness = key.starts_with("load.stiffness_along");
    const bool finite = std::isfinite(value) || (stiffness && value > 0.0);
    if (finite && within_bounds(p, value)) return;
    fail_range_at(s, key,
                  {format_quantity(value, p.metric) + " is outside the physical bounds",
                   finite ? bounds_text(p) : "a finite number",
                   {}});
  };
  visit_inputs(s, [&](std::string_view key, const auto& field) {
    using FieldType = std::decay_t<decltype(field)>;
    if constexpr (std::is_same_v<FieldType, double> || std::is_same_v<FieldType, int>) {
      check(key, static_cast<double>(field));
    } else if constexpr (std::is_same_v<FieldType, std::optional<double>> ||
                         std::is_same_v<FieldType, std::optional<int>>) {
      if (field) check(key, static_cast<double>(*field));
    } else if constexpr (std::is_same_v<FieldType, StuckOr<const std::optional<double>>>) {
      if (field.value) check(key, *field.value);
    }
  });
}

void check_geometry(const Scenario& s) {
  const LoadInput& load = s.load;
  const double least_side = std::min(load.length, load.width);
  if (!(load.corner_radius < 0.5 * least_side)) {
    fail_range_at(s, "load.corner_radius",
                  {millimetres(load.corner_radius) + " does not fit the plan",
                   "less than half the shorter side, " + at_most(0.5 * least_side, "mm"),
                   {}});
  }
  const double reach = detail::reach_of_load(s);
  if (!(s.delivery.distance > reach)) {
    const std::string origin = is_written(s, "delivery.distance") ? "" : "the assumed ";
    fail_range_at(s, "delivery.distance",
                  {origin + metres(s.delivery.distance) + " puts the outlet inside the circle the load sweeps",
                   "more than the reach of the load, " + at_least(reach, "m"),
                   {}});
  }
  const double coupling_limit = std::sqrt(load.stiffness_along_length * load.stiffness_along_width);
  if (!(std::abs(load.stiffness_coupling) < coupling_limit)) {
    fail_range_at(s, "load.stiffness_coupling",
                  {format_quantity(load.stiffness_coupling, "kPa") + " makes the load unstable",
                   "less than the root of the product of the two stiffnesses, " + at_most(coupling_limit, "kPa"),
                   {}});
  }
}

void check_pattern(const Scenario& s) {
  const PatternInput& pattern = s.pattern;
  if (!(pattern.start_height < s.load.height)) {
    fail_range_at(s, "pattern.start_height",
                  {millimetres(pattern.start_height) + " is above the load",
                   "less than load.height, " + at_most(s.load.height, "mm"),
                   {}});
  }
  if (!(s.load.height + pattern.top_overhang > pattern.start_height)) {
    fail_range_at(s, "pattern.top_overhang",
                  {millimetres(pattern.top_overhang) + " ends the wrap below its start",
                   "more than " + at_least(pattern.start_height - s.load.height, "mm"),
                   {}});
  }
  if (pattern.pitch == 0.0 && pattern.bottom_turns + pattern.top_turns <= 0.0) {
    fail_at(s, "pattern.pitch",
            {"is 0 and there are no bottom or top turns, so no film is laid", "a pitch, or turns at one height", {}});
  }
  if (pattern.roping_width && *pattern.roping_width > s.film.width) {
    fail_range_at(s, "pattern.roping_width",
                  {millimetres(*pattern.roping_width) + " is wider than the film",
                   "at most film.width, " + at_most(s.film.width, "mm"),
                   {}});
  }
  require_workable_inputs(s);
}

void check_station(const Scenario& s, const char* key, double height) {
  if (height <= s.load.height) return;
  fail_range_at(s, key,
                {metres(height) + " is above the load", "at most load.height, " + at_most(s.load.height, "m"), {}});
}

void check_stations(const Scenario& s) {
  const StationsInput& stations = s.stations;
  check_station(s, "stations.top", *stations.top);
  check_station(s, "stations.middle", *stations.middle);
  check_station(s, "stations.bottom", *stations.bottom);
  if (!(*stations.top > *stations.middle)) {
    fail_at(s, is_written(s, "stations.top") ? "stations.top" : "stations.middle",
            {"the top station (" + metres(*stations.top) + ") is not above the middle one (" +
                 metres(*stations.middle) + ")",
             "top above middle above bottom",
             {}});
  }
  if (!(*stations.middle > *stations.bottom)) {
    fail_at(s, is_written(s, "stations.bottom") ? "stations.bottom" : "stations.middle",
            {"the middle station (" + metres(*stations.middle) + ") is not above the bottom one (" +
                 metres(*stations.bottom) + ")",
             "top above middle above bottom",
             {}});
  }
  const double least_side = std::min(s.load.length, s.load.width);
  const double radius = 0.5 * stations.plate_diameter;
  if (!(2.0 * radius < least_side)) {
    fail_range_at(s, "stations.plate_diameter",
                  {millimetres(2.0 * radius) + " is wider than a face",
                   "less than the shorter side, " + at_most(least_side, "mm"),
                   {}});
  }
  if (!stations.corner_distance) return;
  if (*stations.corner_distance < radius || *stations.corner_distance > least_side - radius) {
    fail_range_at(s, "stations.corner_distance",
                  {millimetres(*stations.corner_distance) + " puts the plate over a corner",
                   at_least(radius, "mm") + " to " + at_most(least_side - radius, "mm"),
                   {}});
  }
}

void check_film(const Scenario& s) {
  if (s.delivery.width_on_load && *s.delivery.width_on_load > s.film.width) {
    fail_range_at(s, "delivery.width_on_load",
                  {millimetres(*s.delivery.width_on_load) + " is wider than the roll",
                   "at most film.width, " + at_most(s.film.width, "mm"),
                   {}});
  }
  const FilmDescription& film = s.film_description;
  const double stretch = 1.0 + s.delivery.prestretch;
  if (s.delivery.prestretch_slip > s.delivery.prestretch) {
    fail_range_at(s, "delivery.prestretch_slip",
                  {format_quantity(s.delivery.prestretch_slip, "%", 4) + " is more than the pre-stretch",
                   "at most delivery.prestretch, " + at_most(s.delivery.prestretch, "%"),
                   {}});
  }
  if (film.network.modulus > 0.0) {
    const double n = s.delivery.neck_in.value_or(film.neck_in);
    const auto excess = [n](double l) { return l * l + std::pow(l, -2.0 * n) + std::pow(l, 2.0 * n - 2.0) - 3.0; };
    if (excess(stretch) < film.network.stretch_limit) return;
    const double limit = GentNetwork(film.network).stretch_limit(WidthMode::power(n));
    fail_range_at(s, "delivery.prestretch",
                  {format_quantity(s.delivery.prestretch, "%") + " is beyond the limit of the film's network",
                   "less than " + at_most(limit - 1.0, "%") + " with this film",
                   {}});
  }
  if (!film.curve.empty() && stretch > film.curve.back().stretch) {
    fail_range_at(s, "delivery.prestretch",
                  {format_quantity(s.delivery.prestretch, "%") + " is beyond the end of the film's curve",
                   "at most " + at_most(film.curve.back().stretch - 1.0, "%"),
                   {}});
  }
}

// With too low an activation energy a branch would relax more slowly in a warm store, against all measurements. How low
// that is depends on how the rest of its flow goes with temperature.
void check_activation(const Scenario& s) {
  const FilmDescription& film = s.film_description;
  const double reference = film.reference_temperature;
  const auto& history = s.storage.temperature;
  const auto differs = [&](const auto& knot) { return std::abs(knot.second - reference) > 1e-6; };
  const bool stored_elsewhere = std::any_of(history.begin(), history.end(), differs);
  const bool wrapped_elsewhere = std::abs(s.wrapping.temperature - reference) > 1e-6;
  const auto least_activation = film_law_kind(film.law).least_activation;
  if (least_activation == nullptr || !(stored_elsewhere || wrapped_elsewhere)) return;
  for (std::size_t k = 0; k < film.branches.size(); ++k) {
    const double least = least_activation(film, k), activation = film.branches[k]["activation_energy"];
    if (activation >= least) continue;
    fail_range_at(s, stored_elsewhere ? "storage.temperature" : "wrapping.temperature",
                  {"leaves the reference temperature of the film, whose branch[" + std::to_string(k + 1) +
                       "].activation_energy of " + format_quantity(activation, "kJ/mol", 4) +
                       " would make it relax more slowly when warm",
                   "at least " + format_quantity(least, "kJ/mol", 4) + " in " + s.film.file + ", or " +
                       format_quantity(reference, "degC") + " throughout",
                   {}});
  }
}

void check_history(const Scenario& s) {
  const auto& history = s.storage.temperature;
  if (history.empty()) fail_at(s, "storage.temperature", {"is empty", "at least one temperature", {}});
  // Own assumption: a reading each ten minutes for ten weeks. Each is a moment of the result, kept for every slice.
  const std::size_t most_knots = std::min<std::size_t>(10000, 2000000 / static_cast<std::size_t>(s.numerics.slices));
  if (history.size() > most_knots) {
    fail_range_at(
        s, "storage.temperature",
        {"has " + std::to_string(history.size()) + " readings, each a moment of the result for every slice",
         "at most " + std::to_string(most_knots) + " with so many slices; temperature is linear between readings",
         {}});
  }
  const Parameter p = detail::declaration_for(s, "storage.temperature");
  for (std::size_t i = 0; i < history.size(); ++i) {
    if (!within_bounds(p, history[i].second) || !std::isfinite(history[i].first)) {
      fail_range_at(s, "storage.temperature", {"is outside the physical bounds", bounds_text(p), {}});
    }
    if (i > 0 && !(history[i].first > history[i - 1].first)) {
      fail_at(s, "storage.temperature", {"has times out of order", "times that rise", {}});
    }
  }
}

}  // namespace

void resolve_scenario(Scenario& scenario) {
  derive(scenario);
  check_each(scenario);
  check_geometry(scenario);
  check_pattern(scenario);
  check_stations(scenario);
  check_film(scenario);
  check_history(scenario);
  check_activation(scenario);
  check_tiers(scenario);
  detail::check_spreads(scenario);
  check_calibration(scenario);
  if (!is_draw_count(scenario.numerics.band_samples))
    fail_range_at(scenario, "numerics.band_samples",
                  {std::to_string(scenario.numerics.band_samples) + " is not a number of draws", draw_counts, {}});
}

}  // namespace hoopfield
