// SPDX-License-Identifier: BSD-3-Clause
// Declarations of the keys only a measured side of a comparison has.
#include "models/parameter.hpp"

namespace hoopfield::detail {
namespace {

using enum ParameterKind;
using enum Hazard;

// clang-format off
constexpr Parameter declarations[] = {
    {.key = "kind", .room = ParameterRoom::measured_file, .kind = choice, .required = true, .choices = "measured",
     .sentence = "States that this side of a comparison is known from readings, not from a prediction.",
     .measure = {"Always \"measured\".", none}, .reference = "Definition."},
    {.key = "readings.end", .room = ParameterRoom::measured_file, .kind = text,
     .sentence = "CSV file of readings taken right after wrapping, relative to this file; columns quantity, height, "
                 "face, value, unit, load_id.",
     .measure = {"Pull test, weigh and measure at least three loads (common practice, no source).",
                 cut_film | pulled_film | falling_goods}, .reference = "Definition."},
    {.key = "readings.after_storage", .room = ParameterRoom::measured_file, .kind = text,
     .sentence = "CSV file of readings taken after storage, relative to this file; same columns.",
     .measure = {"As readings.end, on the same loads after the storage time that matters.",
                 cut_film | pulled_film | falling_goods}, .reference = "Definition."},
    {.key = "illustrative", .room = ParameterRoom::measured_file, .kind = flag, .default_text = "false",
     .sentence = "True for invented readings, taken on no real load.",
     .measure = {"True for any reading that you invented.", none},
     .reference = "Definition."},
    {.key = "film.density", .room = ParameterRoom::measured_file, .unit = "kg/m^3", .metric = "kg/m^3",
     .inch_pound = "kg/m^3", .lower = Bound{0.0, false}, .valid_low = 850.0, .valid_high = 1500.0,
     .sentence = "Density of the film, used to derive its length from its mass or its mass from its length.",
     .measure = {"Data sheet of the resin or film.", none},
     .reference = "As density."},
};
// clang-format on

}  // namespace

std::span<const Parameter> measured_file_declarations() { return declarations; }

}  // namespace hoopfield::detail
