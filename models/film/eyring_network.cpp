// SPDX-License-Identifier: BSD-3-Clause
// Film law "eyring-network": Gent network and branches whose flow is activated by stress.
#include "models/film/branched_law.hpp"
#include "models/film/eyring_activation.hpp"
#include "models/film/eyring_flow.hpp"
#include "models/film/law_parameters.hpp"
#include "models/film/law_registry.hpp"

namespace hoopfield {

double eyring_least_activation(double reference_rate, double reference_temperature) {
  return gas_constant * reference_temperature * std::log(2.0 * 100.0 / reference_rate);
}

namespace detail {
namespace {

constexpr const Parameter* keys[] = {
    &law_key::network_modulus, &law_key::network_stretch_limit, &law_key::viscous_share,    &law_key::branch_modulus,
    &law_key::reference_rate,  &law_key::flow_stress,           &law_key::activation_energy};

std::shared_ptr<const FilmLaw> make(const FilmDescription& film) {
  return std::make_shared<BranchedLaw<GentNetwork, EyringFlow>>(GentNetwork(film.network), film);
}

double least_activation(const FilmDescription& film, std::size_t k) {
  return eyring_least_activation(film.branches[k]["reference_rate"], film.reference_temperature);
}

}  // namespace

extern const FilmLawKind eyring_network;
constinit const FilmLawKind eyring_network{.name = "eyring-network",
                                           .summary = "network with stress-activated branches",
                                           .parameters = keys,
                                           .make = make,
                                           .least_activation = least_activation};

}  // namespace detail
}  // namespace hoopfield
