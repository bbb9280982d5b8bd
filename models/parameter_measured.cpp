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
     .sentence = "Says that this side of a comparison is known by readings, not predicted.",
     .measure = {"Always \"measured\".", none}, .reference = "Definition."},
    {.key = "readings.end", .room = ParameterRoom::measured_file, .kind = text,
     .sentence = "CSV file of readings taken right after wrapping, relative to this file; columns quantity, height, "
                 "face, "
                 "value, unit, load_id.",
     .measure = {"Pull-test, weigh and tape at least three loads.",
      cut_film | pulled_film | falling_goods}, .reference = "Definition."},
    {.key = "readings.after_storage", .room = ParameterRoom::measured_file, .kind = text,
     .sentence = "CSV file of readings taken after storage, relative to this file, with the same columns.",
     .measure = {"The same loads again after the time that counts.",
      cut_film | pulled_film | falling_goods}, .reference = "Definition."},
    {.key = "illustrative", .room = ParameterRoom::measured_file, .kind = flag, .default_text = "false",
     .sentence = "True for invented readings that were taken on no real load.", .measure = {"Be honest.", none},
     .reference = "Definition."},
    {.key = "film.density", .room = ParameterRoom::measured_file, .unit = "kg/m^3", .metric = "kg/m^3",
     .inch_pound = "kg/m^3", .lower = Bound{0.0, false}, .valid_low = 850.0, .valid_high = 1500.0,
     .sentence = "Density of the film, to work out film length from mass or mass from length.",
     .measure = {"Data sheet of the resin.",
      none}, .reference = "Polyethylene films: 0.91 to 0.94 g/cm^3 on makers' pages."},
};
// clang-format on

}  // namespace

std::span<const Parameter> measured_file_declarations() { return declarations; }

}  // namespace hoopfield::detail
