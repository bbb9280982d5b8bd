// SPDX-License-Identifier: BSD-3-Clause
// Declarations of the keys of a film file: those of every film here, those of a film law by the law.
#include "models/film/law_registry.hpp"
#include "models/parameter.hpp"

#include <string>
#include <utility>
#include <vector>

namespace hoopfield::detail {
namespace {

using enum ParameterKind;
using enum Hazard;

constexpr ParameterRoom room = ParameterRoom::film_file;
constexpr Bound at_least(double v) { return {v, true}; }
constexpr Bound more_than(double v) { return {v, false}; }
constexpr std::string_view definition = "Definition; film law: network in parallel with relaxing branches.";

constexpr std::string_view first_after_laws = "thermal.expansion";  // the keys of the laws stand before it

// clang-format off
constexpr Parameter declarations[] = {
    {.key = "name", .room = room, .kind = text, .required = true, .sentence = "Name of the film description.",
     .measure = {"Your own words.", none}, .reference = "Definition."},
    {.key = "law", .room = room, .kind = choice, .required = true,
     .measure = {"eyring-network for everything that relaxes; the others are for comparison.", none},
     .reference = "Definition."},  // choices and sentence are made of the laws
    {.key = "density", .room = room, .unit = "kg/m^3", .metric = "kg/m^3", .inch_pound = "g/cm^3", .required = true,
     .lower = more_than(0.0), .valid_low = 850.0, .valid_high = 1400.0, .sentence = "Density of the film.",
     .measure = {"Data sheet; polyethylene film 915 to 925 kg/m^3.", none},
     .reference = "Resin data sheets, 0.915 to 0.94 g/cm^3."},
    {.key = "neck_in", .room = room, .required = true, .lower = at_least(0.0), .upper = Bound{0.5, true},
     .sentence = "Width exponent in the draw gap: width goes with stretch^-neck_in (0 = width held, 0.5 = free).",
     .measure = {"From the width on the load, by tape: see delivery.width_on_load.",
      falling_goods}, .reference = "Definition."},
    {.key = "reference_temperature", .room = room, .unit = "K", .metric = "degC", .inch_pound = "degF",
     .default_text = "23 degC", .lower = more_than(0.0), .upper = Bound{450.0, true}, .valid_low = 233.15,
     .valid_high = 343.15, .sentence = "Temperature at which the other numbers hold.",
     .measure = {"Thermometer at the test.", none}, .reference = "Standard laboratory temperature."},
    {.key = "thermal.expansion", .room = room, .unit = "1/K", .metric = "1/K", .inch_pound = "1/K",
     .default_text = "0 1/K", .lower = at_least(-1e-3), .upper = Bound{1e-2, true},
     .sentence = "Linear thermal expansion of the film.", .measure = {"Data sheet or handbook.", none},
     .reference = "Definition."},
    {.key = "thermal.modulus_softening", .room = room, .unit = "1/K", .metric = "1/K", .inch_pound = "1/K",
     .default_text = "0 1/K", .lower = at_least(0.0), .upper = Bound{0.2, true},
     .sentence = "Share by which branch moduli fall per kelvin.", .measure = {"Tensile tests at two temperatures.",
      test_machine},
     .reference = definition},
    {.key = "thermal.network_softening", .room = room, .unit = "1/K", .metric = "1/K", .inch_pound = "1/K",
     .default_text = "0 1/K", .lower = at_least(-0.05), .upper = Bound{0.2, true},
     .sentence = "Share by which the network modulus falls per kelvin.",
     .measure = {"Tensile tests at two temperatures.", test_machine},
     .reference = definition},
    {.key = "thermal.heat_capacity", .room = room, .unit = "J/kg/K", .metric = "J/kg/K", .inch_pound = "J/kg/K",
     .default_text = "0 J/kg/K", .lower = at_least(0.0),
     .sentence = "Heat capacity; 0 switches the heat of drawing off.",
      .measure = {"Handbook; polyethylene about 2200.", none},
     .reference = "From memory."},
    {.key = "thermal.entropic_share", .room = room, .default_text = "1", .lower = at_least(0.0),
     .upper = Bound{1.0, true},
     .sentence = "Share of the network's work that heats the film in the draw gap.",
     .measure = {"Infrared thermometer on the film behind roller 2.", running_machine}, .reference = "Own assumption."},
    {.key = "break.stretch", .room = room, .metric = "%", .inch_pound = "%", .unit_due = true, .lower = more_than(0.0),
     .sentence = "Stretch at break (Weibull scale) of the test specimen at the draw's rate.",
     .measure = {"Tensile tests of ten specimens at high speed.", test_machine}, .reference = "Definition."},
    {.key = "break.weibull_modulus", .room = room, .lower = more_than(0.0),
     .sentence = "Weibull modulus of the break stretch.",
     .measure = {"Spread of the same ten tests.", test_machine}, .reference = "Definition."},
    {.key = "break.reference_area", .room = room, .unit = "m^2", .metric = "cm^2", .inch_pound = "in^2",
     .lower = more_than(0.0), .sentence = "Area of the specimen between the grips, before stretching.",
     .measure = {"Grip distance times specimen width.", none}, .reference = "Definition."},
    {.key = "covariance", .room = room, .kind = table,
     .sentence = "Uncertainty of fitted numbers, written by the fit; kept, not read by a prediction.",
     .measure = {"Comes with a fit.", none}, .reference = "Definition."},
    {.key = "provenance.source", .room = room, .kind = text, .required = true,
     .sentence = "Where the numbers come from; \"illustrative\" for invented ones.", .measure = {"Your own words.",
      none},
     .reference = "Definition."},
    {.key = "provenance.illustrative", .room = room, .kind = flag, .default_text = "false",
     .sentence = "True for invented numbers that describe no real film.", .measure = {"Be honest.", none},
     .reference = "Definition."},
    {.key = "provenance.fitted_to", .room = room, .kind = text,
     .sentence = "Curves the numbers were fitted to.", .measure = {"Written by the fit.",
      none}, .reference = "Definition."},
};
// clang-format on

/// "a|b|c", and "Film law: a, b, or c."
const std::pair<std::string, std::string>& law_texts() {
  static const std::pair<std::string, std::string> texts = [] {
    std::pair<std::string, std::string> made{"", "Film law: "};
    const auto laws = film_laws();
    for (std::size_t i = 0; i < laws.size(); ++i) {
      made.first += (i == 0 ? "" : "|") + std::string(laws[i]->name);
      made.second += (i == 0 ? "" : i + 1 < laws.size() ? ", " : ", or ") + std::string(laws[i]->summary);
    }
    made.second += ".";
    return made;
  }();
  return texts;
}

std::vector<Parameter> join_with_laws() {
  std::vector<Parameter> all;
  for (const Parameter& p : declarations) {
    if (p.key == first_after_laws)
      for (const Parameter* of_law : film_law_parameters()) all.push_back(*of_law);
    all.push_back(p);
    if (p.key != "law") continue;
    all.back().choices = law_texts().first;
    all.back().sentence = law_texts().second;
  }
  return all;
}

}  // namespace

std::span<const Parameter> film_file_declarations() {
  static const std::vector<Parameter> all = join_with_laws();
  return all;
}

}  // namespace hoopfield::detail
