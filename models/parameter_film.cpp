// SPDX-License-Identifier: BSD-3-Clause
// Declarations of the keys of a film file.
#include "models/parameter.hpp"

namespace hoopfield::detail {
namespace {

using enum ParameterKind;

constexpr ParameterRoom room = ParameterRoom::film_file;
constexpr Bound at_least(double v) { return {v, true}; }
constexpr Bound more_than(double v) { return {v, false}; }
constexpr std::string_view fit = "Fit from a tensile curve, a hold and a recovery test of the film (film fit).";
constexpr std::string_view definition = "Definition; film law: network in parallel with relaxing branches.";

constexpr Parameter declarations[] = {
    {.key = "name", .room = room, .kind = text, .required = true, .sentence = "Name of the film description.",
     .measure = "Your own words.", .reference = "Definition."},
    {.key = "law", .room = room, .kind = choice, .required = true, .choices = "eyring-network|maxwell|elastic-curve",
     .sentence = "Film law: network with stress-activated branches, linear relaxing branches, or a tabulated elastic "
                 "curve.",
     .measure = "eyring-network for everything that relaxes; the others are for comparison.",
     .reference = "Definition."},
    {.key = "density", .room = room, .unit = "kg/m^3", .metric = "kg/m^3", .inch_pound = "g/cm^3", .required = true,
     .lower = more_than(0.0), .valid_low = 850.0, .valid_high = 1400.0, .sentence = "Density of the film.",
     .measure = "Data sheet; polyethylene film 915 to 925 kg/m^3.",
     .reference = "Resin data sheets, 0.915 to 0.94 g/cm^3."},
    {.key = "neck_in", .room = room, .required = true, .lower = at_least(0.0), .upper = Bound{0.5, true},
     .sentence = "Width exponent in the draw gap: width goes with stretch^-neck_in (0 = width held, 0.5 = free).",
     .measure = "From the width on the load, by tape: see delivery.width_on_load.", .reference = "Definition."},
    {.key = "reference_temperature", .room = room, .unit = "K", .metric = "degC", .inch_pound = "degF",
     .default_text = "23 degC", .lower = more_than(0.0), .upper = Bound{450.0, true}, .valid_low = 233.15,
     .valid_high = 343.15, .sentence = "Temperature at which the other numbers hold.",
     .measure = "Thermometer at the test.", .reference = "Standard laboratory temperature."},
    {.key = "network.modulus", .room = room, .unit = "Pa", .metric = "MPa", .inch_pound = "psi",
     .lower = more_than(0.0),
     .valid_high = 1e9, .sentence = "Modulus G of the equilibrium network.", .measure = fit, .reference = definition},
    {.key = "network.stretch_limit", .room = room, .lower = more_than(0.0), .valid_low = 3.0,
     .sentence = "Greatest value Jm of the first invariant less 3, where the network locks.", .measure = fit,
     .reference = definition},
    {.key = "hardening.viscous_share", .room = room, .default_text = "0", .lower = at_least(0.0), .valid_high = 5.0,
     .sentence = "Growth h of flow stress with stretch: 1 + h (I1 - 3).", .measure = fit,
     .reference = "Compare Senden, van Dommelen & Govaert 2010."},
    {.key = "branch.modulus", .room = room, .unit = "Pa", .metric = "MPa", .inch_pound = "psi", .required = true,
     .lower = more_than(0.0), .valid_high = 1e10, .sentence = "Modulus E of a relaxing branch.", .measure = fit,
     .reference = definition},
    {.key = "branch.reference_rate", .room = room, .unit = "1/s", .metric = "1/s", .inch_pound = "1/s",
     .lower = more_than(0.0), .sentence = "Flow rate r of the branch's dashpot at its flow stress scale.",
     .measure = fit,
     .reference = definition},
    {.key = "branch.flow_stress", .room = room, .unit = "Pa", .metric = "MPa", .inch_pound = "psi",
     .lower = more_than(0.0),
     .valid_high = 1e9, .sentence = "Stress scale Y of the branch's dashpot.", .measure = fit, .reference = definition},
    {.key = "branch.activation_energy", .room = room, .unit = "J/mol", .metric = "kJ/mol", .inch_pound = "kcal/mol",
     .default_text = "0 kJ/mol", .lower = at_least(0.0), .valid_high = 1e6,
     .sentence = "Activation energy Q of the branch's flow.",
     .measure = "Hold tests at two temperatures: shift of the relaxation along log time.", .reference = definition},
    {.key = "branch.relaxation_time", .room = room, .unit = "s", .metric = "s", .inch_pound = "s",
     .lower = more_than(0.0),
     .sentence = "Relaxation time of a linear branch (law \"maxwell\").", .measure = fit, .reference = definition},
    {.key = "curve.stretch", .room = room, .kind = table, .metric = "%", .inch_pound = "%", .unit_due = true,
     .lower = at_least(0.0),
     .sentence = "Stretches of a tabulated elastic curve, rising from 0 % (law \"elastic-curve\").",
     .measure = "Tensile test.", .reference = "Definition."},
    {.key = "curve.stress", .room = room, .kind = table, .unit = "Pa", .metric = "MPa", .inch_pound = "psi",
     .lower = at_least(0.0),
     .sentence = "Nominal stresses (force over section on the roll) of the tabulated curve, rising from 0.",
     .measure = "Tensile test.", .reference = "Definition."},
    {.key = "thermal.expansion", .room = room, .unit = "1/K", .metric = "1/K", .inch_pound = "1/K",
     .default_text = "0 1/K", .lower = at_least(-1e-3), .upper = Bound{1e-2, true},
     .sentence = "Linear thermal expansion of the film.", .measure = "Data sheet or handbook.",
     .reference = "Definition."},
    {.key = "thermal.modulus_softening", .room = room, .unit = "1/K", .metric = "1/K", .inch_pound = "1/K",
     .default_text = "0 1/K", .lower = at_least(0.0), .upper = Bound{0.2, true},
     .sentence = "Share by which branch moduli fall per kelvin.", .measure = "Tensile tests at two temperatures.",
     .reference = definition},
    {.key = "thermal.network_softening", .room = room, .unit = "1/K", .metric = "1/K", .inch_pound = "1/K",
     .default_text = "0 1/K", .lower = at_least(-0.05), .upper = Bound{0.2, true},
     .sentence = "Share by which the network modulus falls per kelvin.",
     .measure = "Tensile tests at two temperatures.",
     .reference = definition},
    {.key = "thermal.heat_capacity", .room = room, .unit = "J/kg/K", .metric = "J/kg/K", .inch_pound = "J/kg/K",
     .default_text = "0 J/kg/K", .lower = at_least(0.0),
     .sentence = "Heat capacity; 0 switches the heat of drawing off.", .measure = "Handbook; polyethylene about 2200.",
     .reference = "From memory."},
    {.key = "thermal.entropic_share", .room = room, .default_text = "1", .lower = at_least(0.0),
     .upper = Bound{1.0, true},
     .sentence = "Share of the network's work that heats the film in the draw gap.",
     .measure = "Infrared thermometer on the film behind roller 2.", .reference = "Own assumption."},
    {.key = "break.stretch", .room = room, .metric = "%", .inch_pound = "%", .unit_due = true, .lower = more_than(0.0),
     .sentence = "Stretch at break (Weibull scale) of the test specimen at the draw's rate.",
     .measure = "Tensile tests of ten specimens at high speed.", .reference = "Definition."},
    {.key = "break.weibull_modulus", .room = room, .lower = more_than(0.0),
     .sentence = "Weibull modulus of the break stretch.",
     .measure = "Spread of the same ten tests.", .reference = "Definition."},
    {.key = "break.reference_area", .room = room, .unit = "m^2", .metric = "cm^2", .inch_pound = "in^2",
     .lower = more_than(0.0), .sentence = "Area of the specimen between the grips, before stretching.",
     .measure = "Grip distance times specimen width.", .reference = "Definition."},
    {.key = "covariance", .room = room, .kind = table,
     .sentence = "Uncertainty of fitted numbers, written by the fit; kept, not read by a prediction.",
     .measure = "Comes with a fit.", .reference = "Definition."},
    {.key = "provenance.source", .room = room, .kind = text, .required = true,
     .sentence = "Where the numbers come from; \"illustrative\" for invented ones.", .measure = "Your own words.",
     .reference = "Definition."},
    {.key = "provenance.illustrative", .room = room, .kind = flag, .default_text = "false",
     .sentence = "True for invented numbers that describe no real film.", .measure = "Be honest.",
     .reference = "Definition."},
    {.key = "provenance.fitted_to", .room = room, .kind = text,
     .sentence = "Curves the numbers were fitted to.", .measure = "Written by the fit.", .reference = "Definition."},
};

}  // namespace

std::span<const Parameter> film_file_declarations() { return declarations; }

}  // namespace hoopfield::detail
