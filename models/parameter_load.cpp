// SPDX-License-Identifier: BSD-3-Clause
// Declarations of the scenario keys of the load and of friction.
#include "models/parameter.hpp"

namespace hoopfield::detail {
namespace {

using enum ParameterKind;
using enum Hazard;

constexpr Bound at_least(double v) { return {v, true}; }
constexpr Bound more_than(double v) { return {v, false}; }

// clang-format off
constexpr Parameter declarations[] = {
    // Bounds: own assumption. From a match box to a lorry with its trailer.
    {.key = "load.length", .unit = "m", .metric = "m", .inch_pound = "in", .required = true,
     .lower = at_least(0.01), .upper = Bound{50.0, true},
     .valid_low = 0.2, .valid_high = 4.0,
     .sentence = "Length of the load in plan, along x.",
     .measure = {"Measure with a tape at half height, over the goods and not the pallet.",
                 falling_goods}, .reference = "Definition."},
    // Bounds: own assumption. As load.length.
    {.key = "load.width", .unit = "m", .metric = "m", .inch_pound = "in", .required = true,
     .lower = at_least(0.01), .upper = Bound{50.0, true},
     .valid_low = 0.2, .valid_high = 4.0,
     .sentence = "Width of the load in plan, along y.",
     .measure = {"Measure with a tape at half height, over the goods and not the pallet.",
                 falling_goods}, .reference = "Definition."},
    // Bounds: own assumption. A hall is not higher.
    {.key = "load.height", .unit = "m", .metric = "m", .inch_pound = "in", .required = true,
     .lower = at_least(0.01), .upper = Bound{20.0, true},
     .valid_low = 0.2, .valid_high = 3.5,
     .sentence = "Height of the goods above the pallet deck.",
     .measure = {"Measure with a tape from the deck to the top of the goods.", falling_goods | at_height},
     .reference = "Definition."},
    // Bounds: own assumption. Nothing heavier is turned.
    {.key = "load.mass", .unit = "kg", .metric = "kg", .inch_pound = "lb",
     .lower = more_than(0.0), .upper = Bound{1e6, true},
     .valid_high = 3000.0,
     .sentence = "Mass of the goods without the pallet.",
     .measure = {"Floor scale or pallet-truck scale, minus the empty pallet; or the number of units times the mass "
                 "of one.", falling_goods},
     .reference = "Definition."},
    {.key = "load.tiers", .kind = integer, .lower = at_least(1.0), .upper = Bound{100.0, true},
     .sentence = "Number of tiers (layers of goods) in the height; when absent, one for each 0.25 m is assumed.",
     .measure = {"Count.", none}, .reference = "Definition."},
    {.key = "load.tier", .kind = table,
     .sentence = "Tiers that are not alike, from below: tables [[load.tier]] with height, mass and, where it differs, "
                 "friction_below (static friction of the interface under the tier). Heights add up to load.height, "
                 "masses to load.mass, within 1 %. When absent, tiers are alike.",
     .measure = {"Measure and weigh one unit of each tier; friction as friction.between_tiers.", falling_goods},
     .reference = "Definition."},
    // Bounds: own assumption. As load.length.
    {.key = "load.axis_offset", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "0 mm",
     .lower = at_least(-50.0), .upper = Bound{50.0, true},
     .sentence = "Distance of the centre of the load from the axis of rotation, along x.",
     .measure = {"Measure with a tape from the turntable centre to two opposite faces; take half of the difference.",
                 stopped_machine},
     .reference = "Definition."},
    {.key = "load.corner_radius", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "5 mm",
     .lower = at_least(0.0), .valid_high = 0.3, .range_low = "1 mm", .range_high = "30 mm",
     .sentence = "Radius of the vertical corners of the load.",
     .measure = {"Hold coins or a radius gauge against a corner.",
      falling_goods}, .reference = "Own assumption, no source.", .label = "radius of the load's corners"},
    {.key = "load.kind", .kind = choice, .default_text = "cased", .choices = "rigid|cased|bagged",
     .sentence = "Class of load, used when its stiffness was not measured: a rigid load does not give, a cased load "
                 "has 200 kPa, a bagged load 60 kPa (own assumption, no source, wide range).",
     .measure = {"As load.stiffness_along_length, and as much for load.stiffness_along_width: measured values "
                 "replace the class.", strap | falling_goods},
     .reference = "Own assumption, no source, wide range."},
    {.key = "load.stiffness_along_length", .unit = "Pa", .metric = "kPa", .inch_pound = "psi", .lower = more_than(0.0),
     .valid_low = 1e3, .valid_high = 1e9, .range_low = "0.5", .range_high = "2", .range_is_factor = true,
     .error = "20 %",
     .sentence = "Closing force per height of load and per closing along x, acting at the vertical corners.",
     .measure = {"Stand angle boards against the four vertical corners over one tier or more, put a strap with a "
                 "load cell around them, and tighten it from a light to a working tension. Read the change of strap "
                 "force and, with a tape or caliper, how much the length closes (a quarter of the change of girth "
                 "when both directions close alike). Stiffness = 2 x change of strap force / (height of the boards x "
                 "closing). Squeezing two faces between plates overstates the stiffness three to five times (own "
                 "assumption, no source).", strap | falling_goods},
     .reference = "Own assumption from load.kind when absent, no source, wide range: no published in-plane stiffness "
                  "of a palletised tier was found.", .label = "stiffness of the load along its length"},
    {.key = "load.stiffness_along_width", .unit = "Pa", .metric = "kPa", .inch_pound = "psi", .lower = more_than(0.0),
     .valid_low = 1e3, .valid_high = 1e9, .range_low = "0.5", .range_high = "2", .range_is_factor = true,
     .error = "20 %",
     .sentence = "Closing force per height of load and per closing along y, acting at the vertical corners.",
     .measure = {"As load.stiffness_along_length, reading how much the width closes.", strap | falling_goods},
     .reference = "As load.stiffness_along_length.", .label = "stiffness of the load along its width"},
    {.key = "load.stiffness_coupling", .unit = "Pa", .metric = "kPa", .inch_pound = "psi", .default_text = "0 kPa",
     .sentence = "Off-diagonal term of the stiffness matrix: force along x per closing along y.",
     .measure = {"As load.stiffness_along_length, noting how closing in one direction moves the other; 0 when no "
                 "effect is seen.", strap | falling_goods},
     .reference = "Definition."},
    {.key = "load.creep_per_decade", .metric = "%", .inch_pound = "%", .default_text = "0.05", .lower = at_least(0.0),
     .upper = Bound{2.0, true}, .valid_high = 0.5, .range_low = "0", .range_high = "0.15", .error = "20 %",
     .sentence = "Growth of the load's closing under a constant squeeze, as a share of the first closing for each "
                 "factor of ten in time.",
     .measure = {"Keep the strap of the stiffness test at a constant force (a weight over a pulley) and read the "
                 "girth after 1, 10 and 100 min: growth per step divided by the first closing.",
                 strap | hanging_weight | falling_goods},
     .reference = "Own assumption, no source, wide range.", .label = "creep of the load"},
    // Bounds: own assumption. Shorter than any blow; longer than thirty years.
    {.key = "load.creep_start", .unit = "s", .metric = "s", .inch_pound = "s", .default_text = "1 s",
     .lower = at_least(1e-6), .upper = Bound{1e9, true},
     .valid_high = 3600.0, .range_low = "0.1 s", .range_high = "10 s",
     .sentence = "Time from which the load creeps in proportion to the logarithm of time.",
     .measure = {"As load.creep_per_decade: where the straight line through the readings over the logarithm of time "
                 "crosses zero.", strap | hanging_weight | falling_goods},
     .reference = "Own assumption, no source.", .label = "time at which the load's creep begins"},
    {.key = "load.settling", .metric = "%", .inch_pound = "%", .default_text = "0 %", .lower = at_least(0.0),
     .upper = Bound{0.2, true}, .valid_high = 0.05,
     .sentence = "Share of the perimeter that is lost when the goods settle during handling after wrapping.",
     .measure = {"Measure the girth with a tape before and after a trip around the yard; divide the loss by the "
                 "girth.", falling_goods}, .reference = "Definition."},
    {.key = "load.expansion", .unit = "1/K", .metric = "1/K", .inch_pound = "1/K", .default_text = "0 1/K",
     .lower = at_least(-1e-3), .upper = Bound{1e-2, true}, .valid_high = 5e-4,
     .sentence = "Coefficient of thermal expansion of the load in plan.",
     .measure = {"Handbook value of the goods; negligible for most cases (own assumption, no source).", none},
     .reference = "Definition."},
    {.key = "load.shear_stiffness", .unit = "N", .metric = "kN", .inch_pound = "lbf", .default_text = "0 kN",
     .lower = at_least(0.0),
     .sentence = "Shear force per slope of the closing over the height; couples the closing at neighbouring heights.",
     .measure = {"As load.stiffness_along_length, measuring the closing above and below the strap as well; 0 when "
                 "tiers slide freely.", strap | falling_goods},
     .reference = "Definition."},
    {.key = "load.edge_pressure_limit", .unit = "Pa", .metric = "kPa", .inch_pound = "psi", .lower = more_than(0.0),
     .sentence = "Pressure at a vertical corner above which the goods are damaged; no warning when absent.",
     .measure = {"Raise the strap tension in small steps until a corner shows damage: pressure = force x 1.41 / "
                 "(strap width x arc of the corner).", strap | falling_goods},
     .reference = "Definition."},

    {.key = "friction.film_on_load", .default_text = "0.35", .lower = at_least(0.0), .upper = Bound{5.0, true},
     .valid_high = 1.5, .choices = "stuck", .range_low = "0.2", .range_high = "0.6",
     .error = "15 %",
     .sentence = "Static friction of film on the corners of the load; \"stuck\" prevents any slip.",
     .measure = {"Hang a strip of film over a corner of the goods (a quarter turn), with a weight on one end and a "
                 "spring balance on the other, and pull until it slips: friction = ln(balance force / weight) / "
                 "1.571.", hanging_weight},
     .reference = "Own assumption: no measured value of stretch film on corrugated board was found, so 0.2 to 0.6 is "
                  "a range and not data.", .label = "friction of film on the corners"},
    {.key = "friction.film_on_film", .default_text = "stuck", .lower = at_least(0.0), .upper = Bound{5.0, true},
     .choices = "stuck",
     .sentence = "Static friction of film on film at the corners; use \"stuck\" for cling film.",
     .measure = {"As friction.film_on_load, over a corner that is already wrapped.", hanging_weight},
     .reference = "Common practice, no source."},
    {.key = "friction.between_tiers", .default_text = "0.45", .lower = at_least(0.0), .upper = Bound{2.0, true},
     .valid_high = 1.5, .range_low = "0.3", .range_high = "0.6", .error = "15 %",
     .sentence = "Static friction between tiers of the load.",
     .measure = {"Put one case on another and tilt until it slides: friction = tangent of the angle. Or pull with a "
                 "spring balance: friction = force / weight.", falling_goods},
     .reference = "CTU Code, Annex 7, Appendix 2: cardboard on cardboard 0.5 (static, dry); 0.45 is an own "
                  "assumption below it.", .label = "friction between tiers"},
    {.key = "friction.tier_on_pallet", .default_text = "0.4", .lower = at_least(0.0), .upper = Bound{2.0, true},
     .valid_high = 1.5, .range_low = "0.2", .range_high = "0.5", .error = "15 %",
     .sentence = "Static friction between the lowest tier and the pallet.",
     .measure = {"As friction.between_tiers, with one case on the pallet deck.", falling_goods},
     .reference = "CTU Code, Annex 7, Appendix 2: cardboard on wooden pallet 0.5, plastic pallet on plywood 0.2; 0.4 "
                  "is an own assumption between them.", .label = "friction on the pallet"},
    {.key = "friction.sliding_share", .default_text = "0.75", .lower = at_least(0.1), .upper = Bound{1.0, true},
     .valid_low = 0.5, .range_low = "0.65", .range_high = "1", .error = "10 %",
     .sentence = "Friction of tiers that slide over their friction at rest, between tiers and on the pallet.",
     .measure = {"Pull a bare tier with a spring balance: the force while it slides over the force at which it "
                 "started.", falling_goods},
     .reference = "CTU Code, Annex 7, Appendix 2: 0.75 by convention where sliding friction was not measured.",
     .label = "sliding friction over static"},
};
// clang-format on

}  // namespace

std::span<const Parameter> load_declarations() { return declarations; }

}  // namespace hoopfield::detail
