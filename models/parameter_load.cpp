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
    {.key = "load.length", .unit = "m", .metric = "m", .inch_pound = "in", .required = true, .lower = more_than(0.0),
     .valid_low = 0.2, .valid_high = 4.0,
     .sentence = "Length of the load in plan, along x.",
     .measure = {"Tape at half height, over the goods, not the pallet.", falling_goods}, .reference = "Definition."},
    {.key = "load.width", .unit = "m", .metric = "m", .inch_pound = "in", .required = true, .lower = more_than(0.0),
     .valid_low = 0.2, .valid_high = 4.0,
     .sentence = "Width of the load in plan, along y.",
     .measure = {"Tape at half height, over the goods, not the pallet.", falling_goods}, .reference = "Definition."},
    {.key = "load.height", .unit = "m", .metric = "m", .inch_pound = "in", .required = true, .lower = more_than(0.0),
     .valid_low = 0.2, .valid_high = 3.5,
     .sentence = "Height of the goods above the pallet deck.",
     .measure = {"Tape from the deck to the top of the goods.", falling_goods | at_height}, .reference = "Definition."},
    {.key = "load.mass", .unit = "kg", .metric = "kg", .inch_pound = "lb", .lower = more_than(0.0),
     .valid_high = 3000.0,
     .sentence = "Mass of the goods without the pallet.",
     .measure = {"Floor scale or pallet-truck scale, less the empty pallet; or count times unit mass.", falling_goods},
     .reference = "Definition."},
    {.key = "load.tiers", .kind = integer, .lower = at_least(1.0), .upper = Bound{100.0, true},
     .sentence = "Number of tiers (layers of goods) in the height.", .measure = {"Count.",
      none}, .reference = "Definition."},
    {.key = "load.axis_offset", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "0 mm",
     .sentence = "Distance of the load's centre from the axis of rotation, along x.",
     .measure = {"Tape from the turntable centre to opposite faces; half of the difference.", stopped_machine},
     .reference = "Definition."},
    {.key = "load.corner_radius", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "5 mm",
     .lower = at_least(0.0), .valid_high = 0.3, .range_low = "1 mm", .range_high = "30 mm",
     .sentence = "Radius of the vertical corners of the load.",
     .measure = {"Hold coins or a radius gauge against a corner.",
      falling_goods}, .reference = "Own assumption, no source."},
    {.key = "load.kind", .kind = choice, .default_text = "cased", .choices = "rigid|cased|bagged",
     .sentence = "Class of load that stands in for stiffness nobody measured: rigid does not give, cased 200 kPa, "
                 "bagged 60 kPa (assumed, no source, wide range).",
     .measure = {"Better: measure load.stiffness_along_length and load.stiffness_along_width.", strap | falling_goods},
     .reference = "Own assumption, no source, wide range."},
    {.key = "load.stiffness_along_length", .unit = "Pa", .metric = "kPa", .inch_pound = "psi", .lower = more_than(0.0),
     .valid_low = 1e3, .valid_high = 1e9, .range_low = "0.5", .range_high = "2", .range_is_factor = true,
     .sentence = "Closing force per height of load and per closing along x, felt at the vertical corners.",
     .measure = {"Stand angle boards on the four vertical corners over one tier or more, put a strap with a load cell "
                "round them, tighten from light to working tension; read the change of strap force and, by tape or "
                "caliper, how much the length closes (a quarter of the change of girth when both ways close alike). "
                "Stiffness = 2 x change of strap force / (height of the boards x closing). Squeezing faces between "
                "plates overstates it three to five times.", strap | falling_goods},
     .reference = "Own assumption from load.kind when absent, no source, wide range: no published in-plane stiffness "
                  "of a palletised tier was found."},
    {.key = "load.stiffness_along_width", .unit = "Pa", .metric = "kPa", .inch_pound = "psi", .lower = more_than(0.0),
     .valid_low = 1e3, .valid_high = 1e9, .range_low = "0.5", .range_high = "2", .range_is_factor = true,
     .sentence = "Closing force per height of load and per closing along y, felt at the vertical corners.",
     .measure = {"As load.stiffness_along_length, reading the closing of the width.", strap | falling_goods},
     .reference = "As load.stiffness_along_length."},
    {.key = "load.stiffness_coupling", .unit = "Pa", .metric = "kPa", .inch_pound = "psi", .default_text = "0 kPa",
     .sentence = "Off-diagonal term of the stiffness matrix: force along x per closing along y.",
     .measure = {"In the strap test, note how closing one way moves the other; 0 if it does not show.",
      strap | falling_goods},
     .reference = "Definition."},
    {.key = "load.creep_per_decade", .metric = "%", .inch_pound = "%", .default_text = "0.05", .lower = at_least(0.0),
     .upper = Bound{2.0, true}, .valid_high = 0.5, .range_low = "0", .range_high = "0.15",
     .sentence = "Growth of the load's closing under constant squeeze, as a share per factor of ten in time.",
     .measure = {"Leave the strap of the stiffness test on at constant force (a weight over a pulley); read the girth "
                "after 1 min, 10 min, 100 min: growth per step over the first closing.",
                 strap | hanging_weight | falling_goods},
     .reference = "Own assumption, no source, wide range."},
    {.key = "load.creep_start", .unit = "s", .metric = "s", .inch_pound = "s", .default_text = "1 s",
     .lower = more_than(0.0),
     .valid_high = 3600.0, .range_low = "0.1 s", .range_high = "10 s",
     .sentence = "Time from which the load's creep runs as the logarithm of time.",
     .measure = {"From the creep readings: where the straight line over log time meets zero.",
      strap | hanging_weight | falling_goods},
     .reference = "Own assumption, no source."},
    {.key = "load.settling", .metric = "%", .inch_pound = "%", .default_text = "0 %", .lower = at_least(0.0),
     .upper = Bound{0.2, true}, .valid_high = 0.05,
     .sentence = "Share of the perimeter lost when goods shake together in handling after wrapping.",
     .measure = {"Girth by tape before and after a trip round the yard; loss over girth.",
      falling_goods}, .reference = "Definition."},
    {.key = "load.expansion", .unit = "1/K", .metric = "1/K", .inch_pound = "1/K", .default_text = "0 1/K",
     .lower = at_least(-1e-3), .upper = Bound{1e-2, true}, .valid_high = 5e-4,
     .sentence = "Thermal expansion of the load in plan.",
     .measure = {"Handbook value of the goods; negligible for most cases.", none}, .reference = "Definition."},
    {.key = "load.shear_stiffness", .unit = "N", .metric = "kN", .inch_pound = "lbf", .default_text = "0 kN",
     .lower = at_least(0.0),
     .sentence = "Shear force per slope of the closing over the height: ties the closing of neighbouring heights "
                 "together.",
     .measure = {"In the strap test, measure the closing above and below the strap; 0 when tiers slide freely.",
      strap | falling_goods},
     .reference = "Definition."},
    {.key = "load.edge_pressure_limit", .unit = "Pa", .metric = "kPa", .inch_pound = "psi", .lower = more_than(0.0),
     .sentence = "Pressure at a vertical corner above which goods are damaged; no warning when absent.",
     .measure = {"Raise the strap tension until a corner shows damage; force x 1.41 / (strap width x arc of the "
                "corner).", strap | falling_goods},
     .reference = "Definition."},

    {.key = "friction.film_on_load", .default_text = "0.35", .lower = at_least(0.0), .upper = Bound{5.0, true},
     .valid_high = 1.5, .choices = "stuck", .range_low = "0.2", .range_high = "0.6",
     .sentence = "Static friction of film on the load's corners; \"stuck\" lets no film slip.",
     .measure = {"Hang a strip of film over a corner of the goods (a quarter turn), a weight on one end, a spring "
                "balance on the other; pull until it slips: friction = ln(balance force / weight) / 1.571.",
                 hanging_weight},
     .reference = "No measured value of stretch film on corrugated board was found: 0.2 to 0.6 is a range, not data."},
    {.key = "friction.film_on_film", .default_text = "stuck", .lower = at_least(0.0), .upper = Bound{5.0, true},
     .choices = "stuck",
     .sentence = "Static friction of film on film at the corners; cling film counts as \"stuck\".",
     .measure = {"As friction.film_on_load, over a corner already wrapped.",
      hanging_weight}, .reference = "Common practice, no source."},
    {.key = "friction.between_tiers", .default_text = "0.45", .lower = at_least(0.0), .upper = Bound{5.0, true},
     .valid_high = 1.5, .range_low = "0.3", .range_high = "0.6",
     .sentence = "Static friction between tiers of the load.",
     .measure = {"Put one case on another, tilt until it slides: friction = tangent of the angle; or pull with a "
                "spring balance: force over weight.", falling_goods},
     .reference = "CTU Code, Annex 7, Appendix 2: cardboard on cardboard 0.5 (static, dry); 0.45 is our own lower "
                  "choice."},
    {.key = "friction.tier_on_pallet", .default_text = "0.4", .lower = at_least(0.0), .upper = Bound{5.0, true},
     .valid_high = 1.5, .range_low = "0.2", .range_high = "0.5",
     .sentence = "Static friction between the lowest tier and the pallet.",
     .measure = {"As friction.between_tiers, one case on the pallet deck.", falling_goods},
     .reference = "CTU Code, Annex 7, Appendix 2: cardboard on wooden pallet 0.5, plastic pallet on plywood 0.2; 0.4 "
                  "is our own choice between them."},
};
// clang-format on

}  // namespace

std::span<const Parameter> load_declarations() { return declarations; }

}  // namespace hoopfield::detail
