// SPDX-License-Identifier: BSD-3-Clause
#include "sim/winding/scenario_winding.hpp"

#include <cmath>
#include <utility>

namespace hoopfield {

TakeUpPlan take_up_plan(const Scenario& s) {
  return {s.load.length,     s.load.width,       s.delivery.distance,
          s.delivery.offset, s.load.axis_offset, s.load.corner_radius};
}

WindingInput winding_input(const ResolvedScenario& resolved, std::shared_ptr<const FilmLaw> law,
                           const FilmPath& film_path, double turns, double temperature) {
  const Scenario& s = resolved.inputs;
  const TensionInput& tension = s.delivery.tension;
  WindingInput in;
  in.plan = take_up_plan(s);
  in.speed = s.rotation.speed;
  in.ramp_turns = s.rotation.ramp_turns;
  in.turns = turns;
  in.law = std::move(law);
  in.drawn = film_path.entry;
  // The film path may be that of another force or stretch than the control starts from.
  const bool fixed = tension.control == TensionControl::fixed_length;
  const double fed = fixed ? film_path.laid.stretch * resolved.length_per_turn : 0.0;
  if (fixed ? std::abs(fed - 1.0) < 1e-9 : film_path.span_force == resolved.span_force) in.laid = film_path.laid;
  in.mode = film_path.mode;
  in.roll_section = s.film.width * s.film.thickness;
  in.temperature = temperature;
  in.force = resolved.span_force;
  in.internal_path = s.delivery.internal_path;
  in.film_on_load = s.friction.film_on_load;
  in.film_on_film = s.friction.film_on_film;
  in.tolerance = s.numerics.tolerance;
  in.control.lag = tension.lag;
  in.control.gain = tension.gain;
  switch (tension.control) {
    case TensionControl::constant: in.control.kind = WindingControl::Kind::constant; break;
    case TensionControl::follow: in.control.kind = WindingControl::Kind::follow; break;
    case TensionControl::fixed_length:
      in.control.kind = WindingControl::Kind::fixed_length;
      in.control.length_per_turn = resolved.length_per_turn;
      break;
  }
  return in;
}

SpanResult span_result(const WindingResult& wound) {
  SpanResult out;
  out.force_set = wound.force_set;
  out.force_mean = wound.force_mean;
  out.force_min = wound.force_min;
  out.force_max = wound.force_max;
  for (const SpanPoint& p : wound.trace) {
    out.angle.push_back(p.angle);
    out.force.push_back(p.force);
    out.take_up_speed.push_back(p.take_up_speed);
  }
  return out;
}

}  // namespace hoopfield
