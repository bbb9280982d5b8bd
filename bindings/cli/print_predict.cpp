// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/print_predict.hpp"

#include "bindings/cli/explain_least.hpp"
#include "bindings/cli/words.hpp"
#include "models/caution.hpp"
#include "sim/base/number_text.hpp"
#include "sim/transit/transit_target.hpp"
#include "sim/words/answer_text.hpp"
#include "sim/words/band_text.hpp"
#include "sim/words/economics_text.hpp"
#include "sim/words/face_sketch.hpp"
#include "sim/words/moments.hpp"
#include "sim/words/transit_target_text.hpp"
#include "sim/words/transit_text.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace hoopfield::cli {

namespace {

constexpr std::size_t label_width = 32;
constexpr std::size_t column_width = 15;

std::string table_row(const std::string& label, const std::function<std::string(std::size_t)>& cell) {
  std::string line = pad_right("  " + label, label_width);
  for (std::size_t s = 0; s < station_names.size(); ++s) line += pad_left(cell(s), column_width);
  return line + '\n';
}

std::string layers_cell(const StationResult& station) {
  const std::string low = fixed(station.film_layers_min, 1), high = fixed(station.film_layers_max, 1);
  return fixed(station.film_layers, 1) + (low == high ? "" : " (" + low + "-" + high + ")");
}

/// The band of a station's number below it; nothing without bands.
std::string band_row(const Result& result, const char* moment, const char* name, const DisplayUnit& unit) {
  const auto cell = [&](std::size_t s) {
    return band_cell(result, std::string("containment.") + moment + "." + station_names[s] + "." + name, unit);
  };
  return cell(0).empty() ? std::string() : table_row("  nine times in ten", cell);
}

std::string moment_rows(const Scenario& scenario, const Result& result, const char* moment,
                        const ContainmentResult& containment, const DisplayUnits& units) {
  const auto value = [&](double StationResult::*member, const DisplayUnit& unit) {
    return [&containment, member, unit](std::size_t s) { return number(containment.stations[s].*member, unit); };
  };
  const std::string band = " over " + quantity(scenario.stations.band_height, units.small_length);
  return table_row(std::string("hoop tension, ") + units.tension.name,
                   value(&StationResult::hoop_tension, units.tension)) +
         band_row(result, moment, "hoop_tension", units.tension) +
         table_row("band tension" + band + ", " + units.force.name, value(&StationResult::band_tension, units.force)) +
         table_row(std::string("pull force, ") + units.force.name, value(&StationResult::pull_force, units.force)) +
         band_row(result, moment, "pull_force", units.force) +
         table_row("film layers", [&](std::size_t s) { return layers_cell(containment.stations[s]); });
}

/// What the stations show when each is weakest, and when that is.
std::string weakest_rows(const Scenario& scenario, const Result& result, const DisplayUnits& units) {
  const auto& stations = result.weakest.stations;
  return "\n  When each station is weakest in storage\n" +
         moment_rows(scenario, result, "weakest", result.weakest, units) +
         table_row("time since wrapping", [&](std::size_t s) { return duration(stations[s].time); }) +
         table_row(std::string("temperature, ") + units.temperature.name,
                   [&](std::size_t s) { return number(stations[s].temperature, units.temperature); });
}

std::string containment_table(const Scenario& scenario, const Result& result, const PrintStyle& style) {
  const DisplayUnits units(style.units);
  std::string text = heading("Containment", style.styled);
  text += table_row("", [](std::size_t s) { return station_names[s]; });
  text += table_row(std::string("height above the deck, ") + units.height.name,
                    [&](std::size_t s) { return trimmed(result.end.stations[s].height * units.height.per_si); });
  text += "\n  At the end of wrapping\n" + moment_rows(scenario, result, "end", result.end, units);
  const auto ranged = [](const StationResult& s) { return layers_cell(s).find('(') != std::string::npos; };
  const std::string note =
      std::any_of(result.end.stations.begin(), result.end.stations.end(), ranged)
          ? "\n" + wrap("Film layers in brackets: the range over all heights at which the climb may start.", "  ", "  ")
          : "";
  if (scenario.storage.duration <= 0.0) return text + note;
  if (words::is_weaker_in_storage(result)) text += weakest_rows(scenario, result, units);
  text += "\n  After " + duration(scenario.storage.duration) + " of storage\n";
  text += moment_rows(scenario, result, "after_storage", result.after_storage, units);
  text += table_row("hoop tension kept", [&](std::size_t s) {
    return percent(result.after_storage.stations[s].hoop_tension / result.end.stations[s].hoop_tension);
  });
  return text + note;
}

std::string fact(const std::string& label, const std::string& value) {
  return wrap(value, pad_right("  " + label, 24), std::string(24, ' '));
}

std::string pitch_text(const PatternResult& pattern, const DisplayUnits& units) {
  if (pattern.pitch <= 0.0) return "none: all turns at one height";
  std::string text = quantity(pattern.pitch, units.small_length);
  if (pattern.gap > 0.0) return text + ", leaving bare gaps of " + quantity(pattern.gap, units.small_length);
  return text + ", an overlap of " + percent(pattern.overlap) + " of the laid width";
}

std::string span_text(const SpanResult& span, const DisplayUnits& units) {
  std::string text = quantity(span.force_set, units.force) + " set";
  if (span.force_max - span.force_min > 0.005 * span.force_set)
    text += ", " + quantity(span.force_mean, units.force) + " on average, " + number(span.force_min, units.force) +
            " to " + quantity(span.force_max, units.force) + " within a turn";
  return text;
}

std::string settings_text(const Scenario& scenario, const Result& result, const PrintStyle& style) {
  const DisplayUnits units(style.units);
  const std::string mass_band = band_quantity(result, "film.mass", units.mass);
  const std::string film_use = quantity(result.film.mass, units.mass) +
                               (mass_band.empty() ? "" : " (" + mass_band + " nine times in ten)") + ", " +
                               quantity(result.film.length_on_roll, units.film_length) + " from the roll";
  return heading("Settings and film", style.styled) +
         fact("stretch on the load", percent(result.film_path.stretch_on_load - 1.0) + " after a pre-stretch of " +
                                         percent(scenario.delivery.prestretch)) +
         fact("laid width", quantity(result.film_path.laid_width, units.small_length) + " of " +
                                quantity(scenario.film.width, units.small_length) + " on the roll") +
         fact("film per load", film_use) + fact("span force", span_text(result.span, units)) +
         fact("turns", trimmed(result.pattern.turns)) + fact("pitch", pitch_text(result.pattern, units)) +
         fact("cycle time", duration(result.pattern.rotation_time) + " of rotation");
}

std::string cost_text(const Scenario& scenario, const Result& result, const PrintStyle& style) {
  if (!economics_asked(scenario.film, scenario.cost)) return "";
  return heading("Cost and footprint", style.styled) + economics_text(economics(scenario, result), style.units) + '\n';
}

std::string targets_text(const Scenario& scenario, const Result& result, const PrintStyle& style) {
  if (result.targets.empty()) return "";
  const DisplayUnits units(style.units);
  std::string text = heading("Targets", style.styled);
  for (const TargetResult& t : result.targets) {
    if (is_of_transit(t)) {
      text += wrap(words::transit_target_words(scenario, result, t) + ": " + verdict(t, scenario.target->probability),
                   "  ", "    ");
      continue;
    }
    const DisplayUnit& unit = t.quantity == "pull_force" ? units.force : units.tension;
    const std::string band = band_quantity(result, "containment." + t.at + "." + t.station + "." + t.quantity, unit);
    text += wrap(t.station + ": " + (t.quantity == "pull_force" ? "pull force " : "hoop tension ") +
                     quantity(t.predicted, unit) + (band.empty() ? "" : " (" + band + " nine times in ten)") + " " +
                     words::moment_words(t.at) + ", wanted " + quantity(t.wanted, unit) + ": " +
                     verdict(t, scenario.target->probability),
                 "  ", "    ");
  }
  return text + '\n';
}

/// The quantity by which unknowns are ranked.
std::string ranked_quantity(const UnknownInput& u) {
  const std::string words = u.quantity == "pull_force" ? "pull force" : "hoop tension";
  if (u.quantity == transit_target_quantity)
    return "what it withstands in transit " + words::direction_words(u.station) + " is";
  if (u.station.empty()) return "the weakest station holds";
  return "the " + words + " of the " + u.station + " station " + moment_words(u.at) + " is";
}

std::string effect_text(const UnknownInput& u, const DisplayUnits& units, UnitStyle style) {
  if (u.failed) return "the prediction fails at an end of that range: " + in_style(u.message, style);
  const DisplayUnit pure{1.0, "times what is asked"};
  const DisplayUnit& unit = u.quantity == transit_target_quantity ? pure
                            : u.quantity == "pull_force"          ? units.force
                                                                  : units.tension;
  std::string text = ranked_quantity(u) + " " + number(u.low, unit) + " to " + quantity(u.high, unit) +
                     (u.station.empty() ? " after storage" : "") + ", a spread of " + percent(u.effect);
  if (u.share) text += "; it makes " + percent(*u.share) + " of the variance of the band";
  if (u.known_low && u.known_high)
    text +=
        ". If it were known, the band would be " + number(*u.known_low, unit) + " to " + quantity(*u.known_high, unit);
  return text;
}

std::string unknown_text(const UnknownInput& unknown, std::size_t place, UnitStyle style) {
  const std::string which = unknown.group
                                ? unknown.value_text + " are uncertain together"
                                : in_style(unknown.value_text, style) + "; its range is " +
                                      in_style(unknown.low_text, style) + " to " + in_style(unknown.high_text, style);
  std::string text = wrap(unknown.key + " is " + unknown.origin + ": " + which + ". Over this range " +
                              effect_text(unknown, DisplayUnits(style), style) + ".",
                          "  " + std::to_string(place) + ". ", "     ");
  if (!unknown.how_to_measure.empty())
    text += wrap("To measure it: " + in_style(unknown.how_to_measure, style), "     ", "     ");
  if (!unknown.caution.empty()) text += wrap("Caution: " + unknown.caution, "     ", "     ");
  return text;
}

std::string unknowns_text(const Result& result, const PrintStyle& style) {
  if (result.assumed.empty()) return "";
  std::string text = heading("Largest unknowns", style.styled);
  const bool known =
      std::any_of(result.assumed.begin(), result.assumed.end(), [](const auto& u) { return u.known_low; });
  const std::size_t shown = std::min<std::size_t>(known ? 5 : 3, result.assumed.size());
  for (std::size_t i = 0; i < shown; ++i) text += unknown_text(result.assumed[i], i + 1, style.units);
  return text + '\n';
}

std::string indices_text(const Result& result, const PrintStyle& style) {
  if (result.indices.empty()) return "";
  std::string text = heading("Sobol' indices of what is ranked above", style.styled);
  text += pad_right("  ", 36) + pad_left("alone", 12) + pad_left("with others", 16) + "\n";
  for (const UnknownIndex& i : result.indices)
    text += pad_right("  " + i.key, 36) + pad_left(percent(std::max(0.0, i.index.first)), 12) +
            pad_left(percent(i.index.total) + " +- " + fixed(100.0 * i.index.total_error, 0), 16) + "\n";
  return text + '\n';
}

std::string warnings_text(const Result& result, const PrintStyle& style) {
  if (result.warnings.empty()) return "";
  std::string text = heading("Warnings", style.styled);
  for (const Warning& w : result.warnings)
    text += wrap(w.severity + ": " + in_style(w.text, style.units) + (w.key.empty() ? "" : " (" + w.key + ")"), "  - ",
                 "    ");
  return text + '\n';
}

std::string caution_text(const Scenario& scenario, const PrintStyle& style) {
  const std::string moving =
      scenario.rotation.kind == RotationKind::delivery
          ? "An arm or ring that carries the film sweeps a whole circle round the load: keep "
            "everybody out of it. "
          : "A load on a turning table can throw goods outwards, and its corners sweep a circle: keep "
            "everybody out of it. ";
  return heading("Caution", style.styled) +
         wrap(std::string(short_caution) + " " + moving +
                  "The prediction rests on the inputs above, including the assumed ones. It does not account for "
                  "punctures, sharp edges or how the load is handled: check the wrap on the real load.",
              "  ", "  ");
}

std::string indented(const std::string& lines) {
  std::string text = "  ";
  for (std::size_t i = 0; i < lines.size(); ++i) {
    text += lines[i];
    if (lines[i] == '\n' && i + 1 < lines.size() && lines[i + 1] != '\n') text += "  ";
  }
  return text;
}

}  // namespace

std::string predict_text(const Scenario& scenario, const Result& result, const PrintStyle& style) {
  std::string text;
  if (!scenario.title.empty()) text += wrap(scenario.title, "", "") + '\n';
  const std::string first = first_sentence(scenario, result, style.units);
  const std::string stations = stations_sentence(scenario, result, style.units);
  text += wrap(first, "", "") + '\n';
  if (stations != first) text += wrap(stations, "", "") + '\n';
  text += targets_text(scenario, result, style);
  text += containment_table(scenario, result, style) + '\n';
  if (const std::string note = bands_note(result); !note.empty()) text += wrap(note, "  ", "  ") + '\n';
  text += heading("Where hoop tension is least, and why", style.styled) +
          wrap(least_explanation(scenario, result, style.units), "  ", "  ") + '\n' + indented(words::face_sketch()) +
          '\n';
  text += settings_text(scenario, result, style) + '\n';
  text += words::transit_block(scenario, result, style);
  text += cost_text(scenario, result, style);
  text += unknowns_text(result, style);
  text += indices_text(result, style);
  text += warnings_text(result, style);
  return text + caution_text(scenario, style);
}

}  // namespace hoopfield::cli
