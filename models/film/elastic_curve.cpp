// SPDX-License-Identifier: BSD-3-Clause
// Film law "elastic-curve": a tabulated curve of stress over stretch, nothing relaxes.
#include "models/film/branched_law.hpp"
#include "models/film/law_registry.hpp"
#include "models/film/maxwell_flow.hpp"

namespace hoopfield::detail {
namespace {

constexpr Parameter stretch{
    .key = "curve.stretch",
    .room = ParameterRoom::film_file,
    .kind = ParameterKind::table,
    .metric = "%",
    .inch_pound = "%",
    .unit_due = true,
    .lower = Bound{0.0, true},
    .sentence = "Stretches of a tabulated elastic curve, rising from 0 % (law \"elastic-curve\").",
    .measure = {"Tensile test.", Hazard::test_machine},
    .reference = "Definition."};
constexpr Parameter stress{
    .key = "curve.stress",
    .room = ParameterRoom::film_file,
    .kind = ParameterKind::table,
    .unit = "Pa",
    .metric = "MPa",
    .inch_pound = "psi",
    .lower = Bound{0.0, true},
    .sentence = "Nominal stresses (force over section on the roll) of the tabulated curve, rising from 0.",
    .measure = {"Tensile test.", Hazard::test_machine},
    .reference = "Definition."};

constexpr const Parameter* keys[] = {&stretch, &stress};

std::shared_ptr<const FilmLaw> make(const FilmDescription& film) {
  return std::make_shared<BranchedLaw<TabulatedCurve, MaxwellFlow>>(TabulatedCurve(film.curve), film);
}

}  // namespace

extern const FilmLawKind elastic_curve;
constinit const FilmLawKind elastic_curve{
    .name = "elastic-curve", .summary = "a tabulated elastic curve", .parameters = keys, .make = make};

}  // namespace hoopfield::detail
