// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/transit_text.hpp"

#include "models/caution.hpp"
#include "models/text.hpp"
#include "models/transit/roll_allowance.hpp"
#include "models/units.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/requirement.hpp"
#include "sim/inputs/unknowns.hpp"
#include "sim/transit/levels.hpp"
#include "sim/words/text_layout.hpp"

#include <algorithm>
#include <functional>
#include <numbers>

namespace hoopfield::words {
namespace {

constexpr std::size_t label_width = 36, column_width = 18;
const std::string crossed = "; the band crosses the level, so it cannot be told";
constexpr double degree = std::numbers::pi / 180.0;

std::string gn(double acceleration) { return fixed(acceleration / standard_gravity, 2); }
std::string in_gn(double acceleration) { return gn(acceleration) + " gn"; }

std::string row(const std::string& label, const std::function<std::string(std::size_t)>& cell) {
  std::string line = pad_right("  " + label, label_width);
  for (std::size_t d = 0; d < 2; ++d) line += pad_left(cell(d), column_width);
  return line + '\n';
}

std::string sentence(const std::string& text) { return wrap(text, "  ", "  "); }

std::string slip_allowed(const Scenario& s, const DisplayUnits& units) {
  return quantity(s.transit.slip_allowed, units.small_length);
}

/// "interface 1, on the pallet"
std::string interface_words(std::size_t i) {
  return "interface " + std::to_string(i + 1) + (i == 0 ? ", on the pallet" : ", under tier " + std::to_string(i + 1));
}

/// The band of a number below it; nothing without draws.
std::string band_row(const BandResult* drawn, const char* number, const DisplayUnit* length = nullptr) {
  if (drawn == nullptr) return "";
  const auto band = [&](std::size_t d) {
    return drawn->band(std::string("transit.weakest.") + load_direction_names[d] + "." + number);
  };
  if (!band(0) || !band(1)) return "";
  const auto cell = [&](double value) { return length != nullptr ? words::number(value, *length) : gn(value); };
  return row("  nine times in ten", [&](std::size_t d) { return cell(band(d)->low) + " to " + cell(band(d)->high); });
}

std::string statics_table(const Scenario& s, const std::array<TransitSide, 2>& sides, const DisplayUnits& units,
                          const BandResult* band) {
  const auto value = [&](double StackStatics::*member) {
    return [&sides, member](std::size_t d) { return gn(sides[d].statics.*member); };
  };
  std::string text = row("pushed slowly, gn",
                         [](std::size_t d) { return std::string(d == 0 ? "along its length" : "along its width"); });
  text += row("first slip", value(&StackStatics::first_slip)) + band_row(band, "first_slip");
  text += row("held with " + slip_allowed(s, units) + " of slip", value(&StackStatics::held)) + band_row(band, "held");
  text += row("tipping", value(&StackStatics::tipping)) + band_row(band, "tipping");
  text +=
      row("weakest interface, from below", [&](std::size_t d) { return std::to_string(sides[d].statics.weakest + 1); });
  text +=
      row("share of the film in what holds it", [&](std::size_t d) { return percent(sides[d].statics.film_share); });
  return text;
}

std::string status_words(const Requirement& set) {
  if (set.status == "read") return set.source;
  return set.source + "; " + (set.status == "memory" ? "remembered" : "from a second hand") +
         ", not read: indicative only";
}

std::string level_words(const LevelAnswer& at) {
  return in_gn(at.level.level) + " " + vehicle_direction_name(at.level.direction) +
         (at.level.is_pulse ? " as a pulse" : " as a slow push") + ", " +
         (at.direction == 0 ? "along its length" : "along its width");
}

std::string failure_words(RideFailure failure) {
  switch (failure) {
    case RideFailure::none: return "";
    case RideFailure::slip: return " (it slips on)";
    case RideFailure::lean: return " (it leans too far)";
    case RideFailure::tip: return " (it tips over)";
    case RideFailure::shift: return " (a layer shifts too far)";
    case RideFailure::permanent: return " (it stays displaced)";
  }
  return "";
}

/// "predicted to slip (it slips on): 0.40 gn of 0.80 gn forward as a slow push, along its length"
std::string verdict_line(const LevelAnswer& at) {
  return std::string("predicted to ") + verdict_name(at.verdict) + failure_words(at.fails_by) + ": " + level_words(at) +
         "; it withstands " + in_gn(at.capacity) + ", " + percent(at.margin()) + " of that";
}

const LevelAnswer* worst_of(const std::vector<LevelAnswer>& levels) {
  const auto least = std::min_element(levels.begin(), levels.end(),
                                      [](const auto& a, const auto& b) { return a.margin() < b.margin(); });
  return least == levels.end() ? nullptr : &*least;
}

/// Inputs of the way that nobody measured, with their values.
std::string assumed_words(const Scenario& s, UnitStyle style) {
  std::string list;
  for (const ResolvedValue& value : resolved_values(s)) {
    if (!acts_in_transit_only(value.key) || value.source.origin != Origin::assumed ||
        value.parameter->range_low.empty())
      continue;
    list += (list.empty() ? "" : ", ") + std::string(value.parameter->label) + " " +
            customary_text(value, style == UnitStyle::inch_pound);
  }
  if (!s.load.tiers && s.load.tier.empty())
    list += (list.empty() ? "" : ", ") + std::to_string(tiers_of(s).size()) + " tiers";
  return list;
}

std::string assumed_sentence(const Scenario& s, UnitStyle style) {
  const std::string list = assumed_words(s, style);
  if (list.empty()) return "";
  return sentence(
      "Assumed, not measured: " + list +
      ". Friction and the share of it that is left in sliding matter most; `hoopfield explain KEY` says how to "
      "measure each, and what can hurt whoever does.");
}

std::string no_film_note(const TransitSide& side) {
  if (side.stack.film_bottom < 0.0 || side.stack.tiers.front().hoop_tension <= 0.0) return "";
  return sentence("No film reaches down on the pallet (pattern.start_height), so none ties the lowest tier to it.");
}

std::string roll_note(const Scenario& s) {
  const auto asked = [&](double side) { return roll_allowance(side, s.load.height, usual_roll); };
  return sentence("Roll of the deck is left out: at " + trimmed(usual_roll) +
                  " rad/s2 it acts on tipping, not on slip, like " + gn(asked(s.load.length)) +
                  " gn more along the length and " + in_gn(asked(s.load.width)) + " along the width.");
}

std::string deck_note(const Scenario& s) {
  if (!s.transit.deck_friction) return "";
  return sentence("The pallet itself slides on the deck from " + in_gn(*s.transit.deck_friction * standard_gravity) +
                  " on, unless it is blocked.");
}

/// Why an interface slips first in a pulse: friction is least there, or the sway of the goods asks most of it.
std::string why_first(const StackStatics& statics, std::size_t interface) {
  constexpr double alike = 1.01;
  return statics.interfaces[interface].first_slip <= alike * statics.first_slip
             ? ", where friction holds least"
             : ", where goods that sway ask most of friction";
}

std::string ride_sentence(const DirectionAnswer& answer, const StackStatics& statics, std::size_t direction,
                          const DisplayUnits& units) {
  const Ride& ride = answer.ride;
  std::string text = std::string(direction == 0 ? "Along its length" : "Along its width") + ", a pulse of " +
                     in_gn(answer.ridden) + ": ";
  if (!ride.first_slip) {
    text += "nothing slips";
  } else {
    text += interface_words(*ride.first_slip) + ", slips first" + why_first(statics, *ride.first_slip) + ", " +
            fixed(1e3 * ride.tiers[*ride.first_slip].slip_time, 0) + " ms from the start";
  }
  if (ride.fallen) return sentence(text + "; the load is predicted to fall.");
  return sentence(text + "; the top leans by up to " + quantity(ride.lean, units.small_length) + " after " +
                  fixed(1e3 * ride.lean_time, 0) + " ms.");
}

std::string tiers_table(const DirectionAnswer& answer, const DisplayUnits& units) {
  const auto cell = [&](double length) { return pad_left(number(length, units.small_length), 11); };
  std::string text = pad_right(std::string("  tier, from above, ") + units.small_length.name, 28) +
                     pad_left("slip", 11) + pad_left("peak", 11) + pad_left("stays", 11) +
                     pad_left(std::string("film, ") + units.force.name, 12) + "\n";
  for (std::size_t i = answer.ride.tiers.size(); i-- > 0;) {
    const RideTier& tier = answer.ride.tiers[i];
    text += pad_right("  " + std::to_string(i + 1), 28) + cell(tier.slip) + cell(tier.peak) + cell(tier.permanent) +
            pad_left(number(tier.film_force, units.force), 12) + "\n";
  }
  return text;
}

/// The three inputs that move the largest pulse most, with what it is at the ends of their ranges.
std::string influence_sentence(const TransitAnswer& answer, UnitStyle style) {
  constexpr std::size_t told = 3;
  std::string list;
  for (std::size_t i = 0; i < std::min(told, answer.influences.size()); ++i) {
    const PulseInfluence& at = answer.influences[i];
    const Parameter& p = *find_parameter(ParameterRoom::scenario, at.key);
    const auto value = [&](double si) {
      return p.metric.empty() ? trimmed(si) : quantity(si, display_unit(p.metric.data(), style));
    };
    list += (i > 0 ? "; " : "") + std::string(p.label) + " " + value(at.low) + " to " + value(at.high) + ": " +
            gn(at.at_low) + " to " + in_gn(at.at_high);
  }
  return list.empty() ? "" : sentence("Of the way, what moves it most in its weaker direction: " + list + ".");
}

std::string blows_text(const Scenario& s, const TransitAnswer& answer, const PrintStyle& style) {
  const DisplayUnits units(style.units);
  const BlowShape shape = blow_shape(s.transit);
  std::string text = heading("Pulses", style.styled);
  text +=
      sentence("Pulse: reached within " + fixed(1e3 * shape.rise, 0) + " ms, held for " + fixed(1e3 * shape.hold, 0) +
               " ms, at the least hoop tension between the end of wrapping and the end of storage.");
  const BandResult* band = answer.band ? &*answer.band : nullptr;
  text += row("largest pulse held, gn", [&](std::size_t d) { return gn(answer.direction[d].largest_blow); }) +
          band_row(band, "largest_pulse") + influence_sentence(answer, style.units);
  if (answer.direction[0].tilt_slip || answer.direction[1].tilt_slip) {
    const auto angle = [&](std::optional<double> DirectionAnswer::*member) {
      return [&answer, member](std::size_t d) {
        const auto& value = answer.direction[d].*member;
        return value ? fixed(*value / degree, 1) : std::string("none to 45");
      };
    };
    text += row("slow tilt: slip starts, deg", angle(&DirectionAnswer::tilt_slip));
    text += row("slow tilt: slip passes " + slip_allowed(s, units), angle(&DirectionAnswer::tilt_passed));
  }
  for (std::size_t d = 0; d < 2; ++d) {
    text += "\n" + ride_sentence(answer.direction[d], answer.statics.at[weakest_moment][d].statics, d, units);
    if (!answer.direction[d].ride.fallen) text += tiers_table(answer.direction[d], units);
  }
  if (band != nullptr && band->message.empty())
    text += "\n" +
            row(std::string("in those pulses, ") + units.small_length.name,
                [](std::size_t d) { return std::string(d == 0 ? "along its length" : "along its width"); }) +
            row("lean of the top",
                [&](std::size_t d) { return number(answer.direction[d].ride.lean, units.small_length); }) +
            band_row(band, "lean", &units.small_length) +
            row("greatest slip",
                [&](std::size_t d) { return number(answer.direction[d].ride.greatest_slip(), units.small_length); }) +
            band_row(band, "slip", &units.small_length);
  else if (band != nullptr)
    text += sentence(band->message + ".");
  return text;
}

std::string requirement_text(const Scenario& s, const TransitAnswer& answer, const PrintStyle& style) {
  if (!s.transit.levels) return "";
  const DisplayUnits units(style.units);
  std::string text = heading("Against the requirement", style.styled);
  text += sentence(s.transit.levels->name + " (" + status_words(*s.transit.levels) + ").");
  const BandResult* band = answer.band ? &*answer.band : nullptr;
  for (const LevelAnswer& level : answer.levels)
    text += wrap(verdict_line(level) + (band_crosses(band, level) ? crossed : std::string()) + ".", "  - ", "    ");
  text += "\n";
  if (answer.cannot_meet)
    return text + sentence("Film alone is predicted not to meet it, however tight: see what would mend it.") + "\n";
  const bool none =
      std::all_of(answer.required.begin(), answer.required.end(), [](const auto& r) { return r.tension <= 0.0; });
  if (none) return text + sentence("Friction alone is predicted to meet it: no hoop tension is needed for it.") + "\n";
  text += sentence("Hoop tension that is predicted to meet it, by height of the interface:");
  for (std::size_t i = answer.required.size(); i-- > 0;)
    text += pad_right("  " + quantity(answer.required[i].height, units.height), label_width) +
            pad_left(quantity(answer.required[i].tension, units.tension), column_width) + "\n";
  return text + "\n";
}

std::string remedies_text(const TransitAnswer& answer, const PrintStyle& style) {
  if (answer.remedies.empty()) return "";
  const DisplayUnit mass = DisplayUnits(style.units).mass;
  const auto line = [](const std::string& name, const std::string& push, const std::string& pulse,
                       const std::string& film) {
    return pad_right("  " + name, 46) + pad_left(push, 11) + pad_left(pulse, 8) + pad_left(film, 14) + "\n";
  };
  std::string text = heading("What would mend it, computed again", style.styled);
  text += line("lesser of both directions, gn", "slow push", "pulse", std::string("more film, ") + mass.name);
  for (const TransitRemedy& at : answer.remedies) {
    if (!at.message.empty()) {
      text += sentence(at.name + ": cannot be wound: " + at.message);
      continue;
    }
    text += line(at.name, gn(std::min(at.withstood[0], at.withstood[1])),
                 gn(std::min(at.largest_blow[0], at.largest_blow[1])),
                 at.more_film != 0.0 ? number(at.more_film, mass) : "");
  }
  return text +
         sentence(
             "Where turns or the reach of the film change, the load is wound again, as a slower carriage there would. "
             "Pulses are not strictly monotone: an interface that slips spares the goods above it.") +
         "\n";
}

}  // namespace

std::string transit_caution() {
  return std::string(short_caution) +
         " Local codes and a qualified person decide how a load is secured. Tilt and pull-and-release tests: small, "
         "with "
         "the load roped and nobody below. The pallet counts as blocked, the motion as plane; tearing film and road "
         "vibration are left out.";
}

std::string transit_block(const Scenario& s, const Result& result, const PrintStyle& style) {
  const TransitStatics statics = transit_statics(s, result);
  std::string text = heading("In transit", style.styled);
  if (!statics.missing.empty())
    return text + sentence("Nothing can be said of the load in transit: " + statics.missing.front() + " is missing.") +
           "\n";
  const auto& sides = statics.at[weakest_moment];
  const BandResult* band = result.band ? &*result.band : nullptr;
  text += statics_table(s, sides, DisplayUnits(style.units), band) + no_film_note(sides[0]) + deck_note(s);
  const auto levels = static_levels(s.transit, sides);
  if (const LevelAnswer* worst = worst_of(levels))
    text += sentence(s.transit.levels->name + " (" + status_words(*s.transit.levels) + "): " + verdict_line(*worst) +
                     (band_crosses(band, *worst) ? crossed : std::string()) + ".");
  else if (s.transit.levels)
    text += sentence(s.transit.levels->name + " asks for pulses: `hoopfield transit` computes them.");
  text += assumed_sentence(s, style.units);
  return text + sentence("Never a certificate: local codes and a qualified person decide.") + "\n";
}

std::string transit_text(const Scenario& s, const TransitAnswer& answer, const PrintStyle& style) {
  std::string text;
  if (!s.title.empty()) text += wrap(s.title, "", "") + "\n";
  const auto& sides = answer.statics.at[weakest_moment];
  const BandResult* band = answer.band ? &*answer.band : nullptr;
  text += heading("Slow pushes, at the least hoop tension of storage", style.styled) +
          statics_table(s, sides, DisplayUnits(style.units), band) + no_film_note(sides[0]) + deck_note(s) +
          roll_note(s) + "\n";
  text += requirement_text(s, answer, style) + blows_text(s, answer, style) + "\n" + remedies_text(answer, style);
  if (const std::string assumed = assumed_sentence(s, style.units); !assumed.empty())
    text += heading("Assumed", style.styled) + assumed + "\n";
  return text + heading("Caution", style.styled) + sentence(transit_caution());
}

}  // namespace hoopfield::words
