// SPDX-License-Identifier: BSD-3-Clause
// Declarations of what is said of the load in transit.
#include "models/detail/declare_output.hpp"

namespace hoopfield::detail {
namespace {

using enum Hazard;

constexpr OutputUnits acceleration{"m/s^2", "gn", "gn", "gn"}, share{"", "", "", ""}, small{"m", "mm", "in", "mm"};
constexpr Measure small_tilt{
    "Tilt the wrapped load slowly and only until it just starts to slip, with the load roped and nobody below: tangent "
    "of the angle.",
    falling_goods};
constexpr Measure by_bench{"Only on a bench made for it, by those who run it.", falling_goods};
constexpr Measure follows{"Calculated from other inputs and outputs; not measured.", none};

/// A number per moment and direction of the load.
constexpr Parameter number(std::string_view key, OutputUnits units, OutputWords words) {
  return declare_output(key, units, "moment,direction", "", words, false);
}
constexpr Parameter record(std::string_view key, std::string_view sentence, Measure measure = {}) {
  return {.key = key,
          .room = ParameterRoom::output,
          .kind = ParameterKind::table,
          .sentence = sentence,
          .measure = measure,
          .reference = "Computed; documented with the stage that computes it."};
}

// clang-format off
constexpr Parameter declarations[] = {
    number("transit.first_slip", acceleration,
           {"first slip", "Acceleration, raised slowly, at which the first interface of the stack starts to slip. Film "
            "hardly moves it.", small_tilt}),
    number("transit.held", acceleration,
           {"held with the allowed slip", "Acceleration at which the weakest interface, once sliding, slips by no more "
            "than transit.slip_allowed: sliding friction and film.", small_tilt}),
    number("transit.tipping", acceleration,
           {"tipping", "Acceleration, raised slowly, at which the stack tips over its lower edge.", small_tilt}),
    number("transit.withstood", acceleration,
           {"withstood", "What a slow push may reach: the least over the interfaces of first slip or what is held "
                         "with the allowed slip, whichever is more, and of tipping.", small_tilt}),
    number("transit.film_share", share,
           {"share of the film in what holds the weakest interface", "Film force over all that holds the weakest "
            "interface at the allowed slip.", follows}),
    number("transit.largest_pulse", acceleration,
           {"largest pulse held", "Greatest level of a pulse of the shape in use under which lean, slip and "
                                  "displacement "
            "that stays keep within limits. Not strictly monotone: an interface that slips spares the goods above it.",
            by_bench}),
    number("transit.lean", small,
           {"lean in the pulse told", "Greatest displacement of the top edge in the pulse whose course is told; among "
            "draws, a load that falls counts as leaning by its height.", by_bench}),
    number("transit.slip", small,
           {"greatest slip in the pulse told", "Greatest slip between two tiers, or on the pallet, in the pulse whose "
            "course is told; among draws, a load that falls counts as slipping by its height.", by_bench}),
    number("transit.margin", share,
           {"predicted over required", "Least of the predicted accelerations over the levels of the requirement; null "
            "without one.", follows}),
    record("transit",
           "What the wrapped load is predicted to withstand in transit. A prediction, never a certificate: local "
           "codes and a qualified person decide.", {"Each number says how to measure it.", none}),
    record("transit.missing",
           "Keys without which nothing can be said: load.mass."),
    record("transit.weakest_interface",
           "Interface that holds least, from below: 1 = lowest tier on the pallet."),
    record("transit.prediction",
           "\"hold\", \"slip\" or \"fall\" under the levels of the requirement, or \"band_crosses\" where the band "
           "holds the level and it cannot be told; null without a requirement."),
    record("transit.fails_by",
           "What comes first: none, slip, lean, tip or shift; null without a requirement."),
    record("transit.interfaces",
           "Each interface, from below.", {"As transit.first_slip.", falling_goods}),
    record("transit.interfaces.height_m",
           "Height of the interface above the deck."),
    record("transit.interfaces.first_slip_gn",
           "Acceleration at which it starts to slip."),
    record("transit.interfaces.held_gn",
           "Acceleration at which it slips by no more than transit.slip_allowed."),
    record("transit.interfaces.tipping_gn",
           "Acceleration at which what stands on it tips."),
    record("transit.interfaces.film_force_N",
           "Film force across it at the allowed slip."),
    record("transit.deck_slip_gn",
           "Acceleration at which the pallet slides on the deck, transit.deck_friction; null when it counts as "
           "blocked."),
    record("transit.requirement",
           "The set of levels the load is judged against; null without one."),
    record("transit.requirement.name", "Its name."),
    record("transit.requirement.source", "Where its levels come from."),
    record("transit.requirement.status",
           "\"read\", \"secondary\" or \"memory\"; what was not read is indicative."),
    record("transit.ridden_gn",
           "Level of the pulse whose course is told: the greatest one asked for, else 0.5 gn."),
    record("transit.first_interface",
           "Interface that slips first in that pulse; null when none does."),
    record("transit.first_slip_s",
           "Time at which it does, from the start of the pulse."),
    record("transit.fallen",
           "True when a tier leaves the one below or turns over."),
    record("transit.tiers",
           "What each tier does in that pulse, from below.", {"As transit.largest_pulse.", falling_goods}),
    record("transit.tiers.slip_mm", "Slip on the tier below at the end."),
    record("transit.tiers.peak_mm", "Greatest displacement of its centre."),
    record("transit.tiers.permanent_mm", "Displacement that stays."),
    record("transit.tiers.film_force_N", "Greatest film force across the interface under it."),
    record("transit.tiers.film_share_of_need",
           "That force over what inertia asks beyond sliding friction at that moment."),
    record("transit.tilt_slip_deg", "Angle of a slow tilt at which slip starts; null when not asked for."),
    record("transit.tilt_passed_deg", "Angle at which it passes the allowed slip."),
    record("transit.influences",
           "What moves the largest pulse of the weaker direction: inputs of the way that are uncertain, one at a time at "
           "both ends of their range, the greatest first."),
    record("transit.influences.key", "The input."),
    record("transit.influences.low", "Low end of its range, SI."),
    record("transit.influences.high", "High end of its range, SI."),
    record("transit.influences.at_low_gn", "Largest pulse held there."),
    record("transit.influences.at_high_gn", "Largest pulse held at the high end."),
    record("transit.levels",
           "Each level of the requirement in each direction it acts in."),
    record("transit.levels.direction", "forward, rearward or sideways of the vehicle."),
    record("transit.levels.load_direction", "along_length or along_width of the load."),
    record("transit.levels.kind", "static or pulse."),
    record("transit.levels.level_gn", "The level."),
    record("transit.levels.capacity_gn", "What the load is predicted to withstand of that kind."),
    record("transit.levels.margin", "Capacity over level."),
    record("transit.levels.prediction", "hold, slip or fall, or band_crosses as transit.prediction."),
    record("transit.levels.fails_by", "none, slip, lean, tip or shift."),
    record("transit.levels.status", "Where the level comes from: read, secondary or memory."),
    record("transit.required_hoop_tension",
           "Least hoop tension by height with which the requirement is predicted to be met."),
    record("transit.required_hoop_tension.height_m", "Height of the interface above the deck."),
    record("transit.required_hoop_tension.N_per_m", "Hoop tension there."),
    record("transit.cannot_meet",
           "True when film alone is predicted not to meet the requirement, however tight."),
    record("transit.remedies",
           "The load changed in one way at a time and computed again, wound anew where the wrap changes.",
           {"Try the change on one load; see the cautions.", falling_goods}),
    record("transit.remedies.name", "The change."),
    record("transit.remedies.static_gn", "Least of slip and tipping under a slow push, over both directions."),
    record("transit.remedies.largest_pulse_gn", "Largest pulse held, the lesser of both directions."),
    record("transit.remedies.margin", "Against the requirement; null without one."),
    record("transit.remedies.more_film_kg", "Film that a load takes beyond the wrap as it is."),
    record("transit.remedies.message", "Why there are no numbers: the load so changed cannot be wound; else empty."),
};
// clang-format on

}  // namespace

std::span<const Parameter> transit_output_declarations() { return declarations; }

}  // namespace hoopfield::detail
