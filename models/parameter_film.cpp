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
     .measure = {"Free text.", none}, .reference = "Definition."},
    {.key = "law", .room = room, .kind = choice, .required = true,
     .measure = {"Choose eyring-network for film that relaxes; the other laws are for comparison.", none},
     .reference = "Definition."},  // choices and sentence are made of the laws
    {.key = "density", .room = room, .unit = "kg/m^3", .metric = "kg/m^3", .inch_pound = "g/cm^3", .required = true,
     .lower = more_than(0.0), .valid_low = 850.0, .valid_high = 1400.0, .range_low = "910 kg/m^3",
     .range_high = "940 kg/m^3", .sentence = "Density of the film.",
     .measure = {"Data sheet of the resin or film.", none},
     .reference = "Polyethylene film: 910 to 940 kg/m^3, the range spanned by several makers' pages (read); stretch "
                  "film mostly near 920 kg/m^3."},
    {.key = "neck_in", .room = room, .required = true, .lower = at_least(0.0), .upper = Bound{0.5, true},
     .sentence = "Width exponent in the draw gap: width changes with stretch^-neck_in (0 = width kept, 0.5 = free to "
                 "narrow).",
     .measure = {"As delivery.width_on_load.", falling_goods}, .reference = "Definition."},
    {.key = "reference_temperature", .room = room, .unit = "K", .metric = "degC", .inch_pound = "degF",
     .default_text = "23 degC", .lower = more_than(0.0), .upper = Bound{450.0, true}, .valid_low = 233.15,
     .valid_high = 343.15,
     .sentence = "Temperature at which the other numbers apply.",
     .measure = {"Read a thermometer at the test.", none},
     .reference = "Own assumption: 23 degC, a common laboratory temperature."},
    {.key = "thermal.expansion", .room = room, .unit = "1/K", .metric = "1/K", .inch_pound = "1/K",
     .default_text = "0 1/K", .lower = at_least(-1e-3), .upper = Bound{1e-2, true},
     .sentence = "Coefficient of linear thermal expansion of the film.",
     .measure = {"Data sheet or handbook.", none},
     .reference = "Definition; the default leaves it out. Polyethylene pages (read) give 1.0e-4 to 2.4e-4 per K; "
                  "none of them for stretched film."},
    {.key = "thermal.modulus_softening", .room = room, .unit = "1/K", .metric = "1/K", .inch_pound = "1/K",
     .default_text = "0 1/K", .lower = at_least(0.0), .upper = Bound{0.2, true},
     .sentence = "Fraction by which the moduli of the branches fall per kelvin.",
     .measure = {"Tensile tests at two temperatures.",
      test_machine},
     .reference = definition},
    {.key = "thermal.network_softening", .room = room, .unit = "1/K", .metric = "1/K", .inch_pound = "1/K",
     .default_text = "0 1/K", .lower = at_least(-0.05), .upper = Bound{0.2, true},
     .sentence = "Fraction by which the modulus of the network falls per kelvin.",
     .measure = {"Tensile tests at two temperatures.", test_machine},
     .reference = definition},
    {.key = "thermal.heat_capacity", .room = room, .unit = "J/kg/K", .metric = "J/kg/K", .inch_pound = "J/kg/K",
     .default_text = "0 J/kg/K", .lower = at_least(0.0),
     .sentence = "Heat capacity of the film; 0 leaves out the heat of drawing.",
      .measure = {"Handbook; polyethylene about 2200 J/kg/K (from memory).", none},
     .reference = "Definition."},
    {.key = "thermal.entropic_share", .room = room, .default_text = "1", .lower = at_least(0.0),
     .upper = Bound{1.0, true},
     .sentence = "Share of the work done on the network that heats the film in the draw gap.",
     .measure = {"Compare the predicted temperature with an infrared thermometer on the film behind roller 2.",
                 running_machine},
     .reference = "Own assumption, no source."},
    {.key = "break.stretch", .room = room, .metric = "%", .inch_pound = "%", .unit_due = true, .lower = more_than(0.0),
     .sentence = "Stretch at which the test specimen breaks at the strain rate of the draw (Weibull scale).",
     .measure = {"Tensile tests of ten specimens, pulled fast to break.", test_machine}, .reference = "Definition."},
    {.key = "break.weibull_modulus", .room = room, .lower = more_than(0.0),
     .sentence = "Weibull modulus of the stretch at break.",
     .measure = {"Spread of the same ten tensile tests.", test_machine}, .reference = "Definition."},
    {.key = "break.reference_area", .room = room, .unit = "m^2", .metric = "cm^2", .inch_pound = "in^2",
     .lower = more_than(0.0), .sentence = "Area of the specimen between the grips, before stretching.",
     .measure = {"Multiply the distance between the grips by the width of the specimen.", none},
     .reference = "Definition."},
    {.key = "covariance", .room = room, .kind = table,
     .sentence = "Uncertainty of the fitted numbers, written by the fit; kept with the film, not used by a prediction.",
     .measure = {"Written by the fit.", none}, .reference = "Definition."},
    {.key = "provenance.source", .room = room, .kind = text, .required = true,
     .sentence = "Where the numbers come from; \"illustrative\" for invented ones.",
     .measure = {"Free text.", none},
     .reference = "Definition."},
    {.key = "provenance.illustrative", .room = room, .kind = flag, .default_text = "false",
     .sentence = "True for invented numbers that describe no real film.",
     .measure = {"True for any number that you invented.", none},
     .reference = "Definition."},
    {.key = "provenance.fitted_to", .room = room, .kind = text,
     .sentence = "Curves that the numbers were fitted to.", .measure = {"Written by the fit.",
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
