// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Winding set-ups shared by tests: the illustrative film drawn and released, and a linear-elastic film.
#pragma once

#include "models/film/description.hpp"
#include "sim/winding/winding.hpp"

#include <cmath>
#include <memory>
#include <numbers>

namespace hoopfield::testing {

/// Linear-elastic film: nominal stress `modulus (l - 1)`, no branches.
inline std::shared_ptr<const FilmLaw> elastic_law(double modulus) {
  FilmDescription d;
  d.name = "linear";
  d.law = "elastic-curve";
  d.density = 920.0;
  d.curve = {{1.0, 0.0}, {2.0, modulus}, {3.0, 2.0 * modulus}};
  return make_film_law(d);
}

/// The illustrative film of the reference case (invented data).
inline FilmDescription general_film() {
  FilmDescription d;
  d.name = "general film, illustrative";
  d.density = 920.0;
  d.neck_in = 0.2;
  d.network = {0.783e6, 28.6};
  d.viscous_share = 0.13;
  d.branches = {
      {{"modulus", 53.2e6}, {"reference_rate", 0.80}, {"flow_stress", 0.532e6}, {"activation_energy", 109e3}},
      {{"modulus", 6.8e6}, {"reference_rate", 2.0e-7}, {"flow_stress", 0.171e6}, {"activation_energy", 109e3}},
      {{"modulus", 156.3e6}, {"reference_rate", 1.3e-14}, {"flow_stress", 0.259e6}, {"activation_energy", 192e3}}};
  d.thermal = {1.8e-4, 0.010, 0.004, 2200.0, 1.0};
  d.provenance.illustrative = true;
  return d;
}

/// Film drawn to 3.5 in 0.13 s (a plain constant-rate draw stands in for the film path), then held 0.11 s.
inline FilmState drawn_film(const FilmLaw& law, const WidthMode& mode) {
  FilmState film;
  for (int i = 1; i <= 100; ++i) law.step(film, std::exp(std::log(3.5) * i / 100.0), 0.0013, mode, 296.15, 296.15);
  law.step(film, 3.5, 0.11, mode, 296.15, 296.15);
  return film;
}

inline TakeUpPlan reference_plan() {
  TakeUpPlan p;
  p.length = 1.2;
  p.width = 1.0;
  p.distance = 1.5;
  p.corner_radius = 0.005;
  return p;
}

/// The reference case: 16 turns at 12 rpm, 70 N, control "follow".
inline WindingInput reference_winding() {
  WindingInput in;
  in.plan = reference_plan();
  in.speed = 12.0 * std::numbers::pi / 30.0;
  in.ramp_turns = 1.0;
  in.turns = 16.0;
  in.law = make_film_law(general_film());
  in.mode = WidthMode::free(1.05);
  in.drawn = drawn_film(*in.law, in.mode);
  in.roll_section = 0.5 * 23e-6;
  in.force = 70.0;
  in.internal_path = 0.5;
  in.control.kind = WindingControl::Kind::follow;
  in.film_on_load = 0.35;
  return in;
}

/// Linear-elastic film fed at a fixed length: the case with a closed periodic solution.
inline WindingInput constant_feed() {
  WindingInput in = reference_winding();
  in.plan.corner_radius = 0.0;
  in.law = elastic_law(100e6);
  in.mode = WidthMode::free();
  in.drawn = FilmState{};
  in.ramp_turns = 0.0;
  in.turns = 20.0;
  in.internal_path = 0.0;
  in.force = 0.05 * 100e6 * in.roll_section;
  in.control.kind = WindingControl::Kind::fixed_length;
  in.control.length_per_turn = 1.0 / 1.05;
  in.film_on_load.reset();
  in.repeat_settled = false;
  in.tolerance = 1e-6;
  return in;
}

}  // namespace hoopfield::testing
