// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Declarations of film file keys that several film laws share.
#pragma once

#include "models/parameter.hpp"

#include <string_view>

namespace hoopfield::law_key {

inline constexpr Measure fit{"Fit it to a tensile curve, a hold and a recovery test of the film (film fit).",
                             Hazard::test_machine};
inline constexpr std::string_view definition = "Definition; film law: network in parallel with relaxing branches.";

inline constexpr Parameter network_modulus{.key = "network.modulus",
                                           .room = ParameterRoom::film_file,
                                           .unit = "Pa",
                                           .metric = "MPa",
                                           .inch_pound = "psi",
                                           .lower = Bound{0.0, false},
                                           .valid_high = 1e9,
                                           .sentence = "Modulus G of the equilibrium network.",
                                           .measure = fit,
                                           .reference = definition};
inline constexpr Parameter network_stretch_limit{
    .key = "network.stretch_limit",
    .room = ParameterRoom::film_file,
    .lower = Bound{0.0, false},
    .valid_low = 3.0,
    .sentence = "Greatest value Jm of the first invariant less 3, where the network locks.",
    .measure = fit,
    .reference = definition};
inline constexpr Parameter viscous_share{.key = "hardening.viscous_share",
                                         .room = ParameterRoom::film_file,
                                         .default_text = "0",
                                         .lower = Bound{0.0, true},
                                         .valid_high = 5.0,
                                         .sentence = "Growth h of flow stress with stretch: 1 + h (I1 - 3).",
                                         .measure = fit,
                                         .reference = "Compare Senden, van Dommelen & Govaert 2010 (from memory)."};
inline constexpr Parameter branch_modulus{.key = "branch.modulus",
                                          .room = ParameterRoom::film_file,
                                          .unit = "Pa",
                                          .metric = "MPa",
                                          .inch_pound = "psi",
                                          .required = true,
                                          .lower = Bound{0.0, false},
                                          .valid_high = 1e10,
                                          .sentence = "Modulus E of a relaxing branch.",
                                          .measure = fit,
                                          .reference = definition};
inline constexpr Parameter reference_rate{.key = "branch.reference_rate",
                                          .room = ParameterRoom::film_file,
                                          .unit = "1/s",
                                          .metric = "1/s",
                                          .inch_pound = "1/s",
                                          .lower = Bound{0.0, false},
                                          .sentence = "Flow rate r of the branch's dashpot at its flow stress scale.",
                                          .measure = fit,
                                          .reference = definition};
inline constexpr Parameter flow_stress{.key = "branch.flow_stress",
                                       .room = ParameterRoom::film_file,
                                       .unit = "Pa",
                                       .metric = "MPa",
                                       .inch_pound = "psi",
                                       .lower = Bound{0.0, false},
                                       .valid_high = 1e9,
                                       .sentence = "Stress scale Y of the branch's dashpot.",
                                       .measure = fit,
                                       .reference = definition};
inline constexpr Parameter activation_energy{
    .key = "branch.activation_energy",
    .room = ParameterRoom::film_file,
    .unit = "J/mol",
    .metric = "kJ/mol",
    .inch_pound = "kcal/mol",
    .default_text = "0 kJ/mol",
    .lower = Bound{0.0, true},
    .valid_high = 1e6,
    .sentence = "Activation energy Q of the branch's flow.",
    .measure = {"Hold tests at two temperatures: shift of the relaxation along log time.", Hazard::test_machine},
    .reference = definition};

}  // namespace hoopfield::law_key
