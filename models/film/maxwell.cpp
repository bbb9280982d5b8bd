// SPDX-License-Identifier: BSD-3-Clause
// Film law "maxwell": linear relaxing branches, with a Gent network or without.
#include "models/film/branched_law.hpp"
#include "models/film/law_parameters.hpp"
#include "models/film/law_registry.hpp"
#include "models/film/maxwell_flow.hpp"

namespace hoopfield::detail {
namespace {

constexpr Parameter relaxation_time{.key = "branch.relaxation_time",
                                    .room = ParameterRoom::film_file,
                                    .unit = "s",
                                    .metric = "s",
                                    .inch_pound = "s",
                                    .lower = Bound{0.0, false},
                                    .sentence = "Relaxation time of a linear branch (law \"maxwell\").",
                                    .measure = law_key::fit,
                                    .reference = law_key::definition};

constexpr const Parameter* keys[] = {&law_key::network_modulus, &law_key::network_stretch_limit,
                                     &law_key::branch_modulus, &relaxation_time, &law_key::activation_energy};

std::shared_ptr<const FilmLaw> make(const FilmDescription& film) {
  return std::make_shared<BranchedLaw<GentNetwork, MaxwellFlow>>(GentNetwork(film.network), film);
}

}  // namespace

extern const FilmLawKind maxwell;
constinit const FilmLawKind maxwell{.name = "maxwell",
                                    .summary = "linear relaxing branches",
                                    .parameters = keys,
                                    .network_optional = true,
                                    .make = make};

}  // namespace hoopfield::detail
