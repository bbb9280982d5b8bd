// SPDX-License-Identifier: BSD-3-Clause
// Declarations of the scenario keys of the way to the customer.
#include "models/parameter.hpp"

namespace hoopfield::detail {
namespace {

using enum ParameterKind;
using enum Hazard;

constexpr Bound at_least(double v) { return {v, true}; }
constexpr Bound more_than(double v) { return {v, false}; }

// clang-format off
constexpr Parameter declarations[] = {
    {.key = "transit.requirement", .kind = text,
     .sentence = "What the load must withstand: the name of a set of levels that is built in, or a file of your own "
                 "beside the scenario. When absent, the load is judged against nothing.",
     .measure = {"Ask who carries the load; what the law asks for is for a qualified person to say.", none},
     .reference = "Definition."},
    {.key = "transit.direction", .kind = choice, .default_text = "worst", .choices = "along_length|along_width|worst",
     .sentence = "Direction of the load that lies along the vehicle: levels forward and rearward act along it, levels "
                 "sideways across it. \"worst\": each level acts in both directions.",
     .measure = {"Look at how loads stand in the vehicle.", none}, .reference = "Definition."},
    // Bounds: own assumption. From jelly to a block of steel.
    {.key = "transit.sway_stiffness", .unit = "N/m", .metric = "kN/m", .inch_pound = "lbf/in",
     .default_text = "1500 kN/m", .lower = at_least(1e3), .upper = Bound{1e10, true},
     .valid_low = 1e5, .valid_high = 1e8, .range_low = "300 kN/m", .range_high = "10000 kN/m", .error = "30 %",
     .sentence = "Shear stiffness of one tier: force per sideways displacement of its top over its bottom.",
     .measure = {"Push the top of the unwrapped stack, or pull it and let go, a few millimetres only, with the load "
                 "roped "
                 "and nobody below: sway frequency f of T tiers of mass m gives m (pi f/sin(pi/(2 (2 T + 1))))^2.",
                 falling_goods},
     .reference = "Own assumption, no source, wide range.", .label = "shear stiffness of a tier"},
    // Bounds: own assumption. As transit.sway_stiffness.
    {.key = "transit.tier_stiffness", .unit = "N/m", .metric = "kN/m", .inch_pound = "lbf/in",
     .default_text = "4000 kN/m", .lower = at_least(1e3), .upper = Bound{1e11, true},
     .valid_low = 1e5, .valid_high = 1e9, .range_low = "1000 kN/m", .range_high = "50000 kN/m", .error = "30 %",
     .sentence = "Vertical stiffness of one tier: force per change of its height.",
     .measure = {"Read how far a tier settles under the tiers above it: their weight over the settlement.",
                 falling_goods},
     .reference = "Own assumption, no source, wide range.", .label = "vertical stiffness of a tier"},
    {.key = "transit.damping", .default_text = "0.1", .lower = at_least(0.001), .upper = Bound{1.0, true},
     .valid_low = 0.02, .valid_high = 0.4, .range_low = "0.05", .range_high = "0.25", .error = "30 %",
     .sentence = "Damping of the slowest sway of the stack, as a share of critical damping.",
     .measure = {"Pull the top of the stack a few millimetres and let go, with the load roped and nobody below: one "
                 "sway over the next is exp(2 pi damping).", falling_goods},
     .reference = "Own assumption, no source.", .label = "damping of the sway"},
    {.key = "transit.bearing_share", .default_text = "0.92", .lower = at_least(0.2), .upper = Bound{1.0, true},
     .range_low = "0.85", .range_high = "1", .error = "5 %",
     .sentence = "Share of the side of a tier that bears the tiers above.",
     .measure = {"Look at the stacking pattern: rounded or soft edges bear nothing.", falling_goods},
     .reference = "Own assumption, no source.", .label = "share of a side that bears"},
    {.key = "transit.columns", .kind = integer, .default_text = "1", .lower = at_least(1.0), .upper = Bound{20.0, true},
     .sentence = "Columns of goods side by side that are not interlocked, along the motion; 1 = tiers are interlocked.",
     .measure = {"Look at the stacking pattern: count the cases in a row when each stands on just one below it.",
                 falling_goods},
     .reference = "Definition."},
    {.key = "transit.pallet_lock", .unit = "N", .metric = "N", .inch_pound = "lbf", .default_text = "0 N",
     .lower = at_least(0.0), .upper = Bound{1e6, true}, .valid_high = 2e4,
     .sentence = "Vertical force with which the film is held to the pallet, as by a roped edge round its blocks; 0 "
                 "when the film only lies on it.",
     .measure = {"Pull the film off an empty, wrapped pallet upwards with a spring balance, corner by corner, and add "
                 "up (1 to 3 kN is an own assumption for a lock).", pulled_film},
     .reference = "Own assumption: no lock."},
    {.key = "transit.top_fold_hold", .unit = "N", .metric = "N", .inch_pound = "lbf", .default_text = "0 N",
     .lower = at_least(0.0), .upper = Bound{1e6, true}, .valid_high = 2e4,
     .sentence = "Vertical force with which film folded over the top is held there; 0 when it ends on the side.",
     .measure = {"Pull a folded edge off the top with a spring balance, corner by corner, and add up.",
                 pulled_film | falling_goods | at_height},
     .reference = "Own assumption: not held."},
    {.key = "transit.slip_allowed", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "20 mm",
     .lower = more_than(0.0), .upper = Bound{1.0, true}, .valid_low = 1e-3, .valid_high = 0.06,
     .sentence = "Slip between tiers that still counts as held under a slow push. The law of the film is meant for 3 "
                 "to 60 mm.",
     .measure = {"Your choice: what the customer accepts.", none}, .reference = "Own assumption."},
    {.key = "transit.deck_friction", .lower = more_than(0.0), .upper = Bound{2.0, true}, .valid_high = 1.0,
     .error = "15 %",
     .sentence = "Friction of the pallet on the deck of the vehicle; when absent, the pallet counts as blocked.",
     .measure = {"Pull a loaded pallet along the deck with a spring balance, everybody clear of its way: force over "
                 "weight.", falling_goods},
     .reference = "Definition.", .label = "friction of the pallet on the deck"},
};
// clang-format on

}  // namespace

std::span<const Parameter> transit_declarations() { return declarations; }

}  // namespace hoopfield::detail
