// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film descriptions the tests share.
#pragma once

#include "models/film/description.hpp"
#include "models/film/film_law.hpp"

#include <memory>

namespace test {

/// Branches of law "eyring-network" (Pa, 1/s, Pa, J/mol) and of law "maxwell" (Pa, s).
inline hoopfield::BranchParameters eyring_branch(double modulus, double rate, double flow_stress,
                                                 double activation = 0.0) {
  return {
      {"modulus", modulus}, {"reference_rate", rate}, {"flow_stress", flow_stress}, {"activation_energy", activation}};
}
/// A branch of law "power-network" (Pa, 1/s, Pa, power).
inline hoopfield::BranchParameters power_branch(double modulus, double rate, double flow_stress, double exponent,
                                                double activation = 0.0) {
  return {{"modulus", modulus},
          {"reference_rate", rate},
          {"flow_stress", flow_stress},
          {"rate_exponent", exponent},
          {"activation_energy", activation}};
}
inline hoopfield::BranchParameters maxwell_branch(double modulus, double relaxation_time) {
  return {{"modulus", modulus}, {"relaxation_time", relaxation_time}};
}

/// Parameter set R1 of the check values (illustrative): two Eyring branches and a Gent network, isothermal.
inline hoopfield::FilmDescription r1() {
  hoopfield::FilmDescription d;
  d.name = "R1";
  d.density = 920.0;
  d.network = {1.1e6, 60.0};
  d.branches = {eyring_branch(120e6, 1e-7, 0.35e6), eyring_branch(40e6, 1e-13, 0.25e6)};
  return d;
}

/// The numbers of models/parameters/films/general-film.toml.
inline hoopfield::FilmDescription general_film() {
  hoopfield::FilmDescription d;
  d.name = "general film, illustrative";
  d.density = 920.0;
  d.neck_in = 0.2;
  d.network = {0.783e6, 28.6};
  d.viscous_share = 0.13;
  d.branches = {eyring_branch(53.2e6, 0.80, 0.532e6, 109e3), eyring_branch(6.8e6, 2.0e-7, 0.171e6, 109e3),
                eyring_branch(156.3e6, 1.3e-14, 0.259e6, 192e3)};
  d.thermal = {1.8e-4, 0.010, 0.004, 2200.0, 1.0};
  return d;
}

/// Film of law "power-network" (illustrative): the plateau and the hardening of the general film, roughly.
inline hoopfield::FilmDescription power_film() {
  hoopfield::FilmDescription d = general_film();
  d.name = "film of power-law flow, illustrative";
  d.law = "power-network";
  d.branches = {power_branch(60e6, 0.5, 1.5e6, 4.0, 109e3), power_branch(10e6, 1e-3, 1.0e6, 6.0, 109e3),
                power_branch(150e6, 1e-4, 6e6, 14.0, 192e3)};
  return d;
}

/// Film that answers `N = N0 (1 + EA/N0 ln l)` to first order and never flows: for closed forms of the build-up.
/// One branch so slow that it is a spring; no network.
inline hoopfield::FilmDescription spring_film(double modulus) {
  hoopfield::FilmDescription d;
  d.name = "spring";
  d.law = "maxwell";
  d.density = 920.0;
  d.branches = {maxwell_branch(modulus, 1e30)};
  return d;
}

inline constexpr double room = 296.15;  // K

}  // namespace test
