// SPDX-License-Identifier: BSD-3-Clause
// The glossary of numbers that films are compared by. `reference` is the formula: l stretch, e = l - 1, P force over
// section on the roll, s = P l; ramp at a constant grip speed, width as stretch^-n.
#include "models/parameter.hpp"

namespace hoopfield::detail {
namespace {

using enum Hazard;

constexpr ParameterRoom room = ParameterRoom::film_number;

constexpr Parameter stress(std::string_view key, std::string_view label, std::string_view sentence, Measure measure,
                           std::string_view formula) {
  return {.key = key,
          .room = room,
          .unit = "Pa",
          .metric = "MPa",
          .inch_pound = "psi",
          .sentence = sentence,
          .measure = measure,
          .reference = formula,
          .label = label};
}

constexpr Parameter share(std::string_view key, std::string_view label, std::string_view sentence, Measure measure,
                          std::string_view formula) {
  return {.key = key,
          .room = room,
          .metric = "%",
          .inch_pound = "%",
          .unit_due = true,
          .sentence = sentence,
          .measure = measure,
          .reference = formula,
          .label = label};
}

constexpr Measure pull{"Tensile test; force over width and thickness on the roll.", test_machine};
constexpr Measure hold{"Stretch a strip to the stretch on the load, hold it there and read the force.", test_machine};

// clang-format off
constexpr Parameter declarations[] = {
    stress("film_numbers.secant_modulus", "initial stiffness", "Stiffness at small strain.",
     {"Tensile test: slope over the first 1 % of strain.", test_machine},
           "P(1 %) / 0.01"),
    stress("film_numbers.knee_stress", "yield stress", "Stress at which the film starts to yield.",
           {"Tensile test: where a line of the initial slope, offset by 2 % strain, meets the curve.", test_machine},
           "P(e) where P(e) = secant_modulus (e - 0.02)"),
    stress("film_numbers.stress_at_100", "stress at 100 %",
           "Force over section on the roll at 100 % strain.", pull, "P(l = 2)"),
    stress("film_numbers.stress_at_200", "stress at 200 %",
           "Force over section on the roll at 200 % strain.", pull, "P(l = 3)"),
    stress("film_numbers.stress_at_250", "stress at 250 %",
           "Force over section on the roll at 250 % strain.", pull, "P(l = 3.5)"),
    stress("film_numbers.stress_at_300", "stress at 300 %",
           "Force over section on the roll at 300 % strain.", pull, "P(l = 4)"),
    stress("film_numbers.hardening_slope", "hardening slope",
           "Slope with which the film stiffens from 200 % to 300 % strain.",
           {"Tensile test: true stress against l^2 - 1/l, slope between 200 % and 300 %.", test_machine},
           "(s(4) - s(3)) / (g(4) - g(3)), g = l^2 - 1/l (Haward 1993)"),
    {.key = "film_numbers.work_to_draw", .room = room, .unit = "J/m^3", .metric = "J/m^3", .inch_pound = "J/m^3",
     .sentence = "Work per volume to stretch the film to the stretch on the load.",
     .measure = {"Tensile test: area under the curve.",
      test_machine}, .reference = "integral of P de from 0 to the stretch on the load",
     .label = "work to stretch"},
    stress("film_numbers.unloading_stiffness", "unloading stiffness",
           "Stiffness with which the film on the load unloads when the load gives.",
           {"Stretch, hold for one minute, then return by 1 % of the starting length at the same grip speed.",
            test_machine},
           "(P(l) - P(l - 0.01)) / 0.01 after a hold of 60 s at the stretch on the load"),
    {.key = "film_numbers.held_stiffness_over_force", .room = room,
     .sentence = "Relative loss of tension per relative loss of perimeter (EA/N).",
     .measure = {"As film_numbers.unloading_stiffness.",
      test_machine}, .reference = "unloading_stiffness l / P(l), same hold", .label = "stiffness over tension"},
    share("film_numbers.kept_1_min", "kept after 1 min",
          "Tension kept at constant stretch after 1 minute.", hold, "P(60 s) / P(0)"),
    share("film_numbers.kept_1_h", "kept after 1 h",
          "Tension kept at constant stretch after 1 hour.", hold, "P(3600 s) / P(0)"),
    share("film_numbers.kept_24_h", "kept after 24 h",
          "Tension kept at constant stretch after 24 hours.", hold, "P(86400 s) / P(0)"),
    share("film_numbers.kept_30_d", "kept after 30 d",
          "Tension kept at constant stretch after 30 days.", hold, "P(2592000 s) / P(0)"),
    share("film_numbers.permanent_set", "permanent set",
     "Strain that remains after stretching, a hold of one minute and a day without force.",
          {"Stretch, hold for 60 s, release and measure the length after 24 h.",
          test_machine}, "l(24 h free) - 1, of the starting length"),
    share("film_numbers.break_stretch", "break strain",
          "Strain at which the film breaks (Weibull scale of the film file).",
          {"Tensile tests of ten specimens to break.", test_machine}, "break.stretch of the film file"),
};
// clang-format on

}  // namespace

std::span<const Parameter> film_number_declarations() { return declarations; }

}  // namespace hoopfield::detail
