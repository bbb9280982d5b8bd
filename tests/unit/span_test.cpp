// SPDX-License-Identifier: BSD-3-Clause
#include "models/error.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/winding_cases.hpp"

#include <boost/numeric/odeint.hpp>
#include <cmath>

using namespace hoopfield;
using namespace hoopfield::testing;

TEST_CASE("rotation from rest: angle, time and speed agree", "[span]") {
  const Rotation r{1.3, 5.0};
  CHECK(r.time_at(0.0) == 0.0);
  CHECK(r.speed_at(r.time_at(5.0)) == Approx(1.3).epsilon(1e-14));
  for (const double angle : {0.3, 2.0, 4.999, 5.0, 7.0, 40.0}) {
    const double t = r.time_at(angle), h = 1e-6;
    CHECK(r.angle_at(t) == Approx(angle).epsilon(1e-12));
    CHECK((r.angle_at(t + h) - r.angle_at(t - h)) / (2.0 * h) == Approx(r.speed_at(t)).epsilon(1e-6));
  }
  CHECK(Rotation{2.0, 0.0}.speed_at(0.0) == 2.0);
}

TEST_CASE("round load, even take-up: the span keeps its film for any step", "[span]") {
  WindingInput in = reference_winding();
  in.ramp_turns = 0.0;
  in.plan.length = in.plan.width = 1.0;
  in.plan.corner_radius = 0.5 - 1e-9;
  in.film_on_load.reset();
  const Winder winder(in);
  const WindingState start = winder.start();
  const auto& events = winder.take_up().events();
  const double end = winder.span().rotation().time_at(events[0].angle);
  const FilmState& reference = start.span.row.laid;
  for (const std::size_t steps : {1U, 3U, 50U}) {
    const SpanState state = winder.span().advance(start.span, {corner_before_face(events[0].face), 0.0, end}, steps,
                                                  [](SpanState&, const SpanPoint&) {});
    CHECK(state.force == Approx(70.0).epsilon(1e-5));
    CHECK(state.row.laid.stretch == Approx(reference.stretch).epsilon(1e-6));
    for (std::size_t k = 0; k < 3; ++k) CHECK(state.row.laid.strain[k] == Approx(reference.strain[k]).margin(1e-6));
  }
  in.control.kind = WindingControl::Kind::constant;
  const WindingResult held = wind(in);
  in.control.kind = WindingControl::Kind::follow;
  const WindingResult followed = wind(in);
  for (std::size_t i = 0; i < 64; ++i) {
    CHECK(followed.faces[i].force == Approx(held.faces[i].force).epsilon(1e-5));
    CHECK(followed.faces[i].film.strain[1] == Approx(held.faces[i].film.strain[1]).margin(1e-6));
  }
}

namespace {

/// Control and span written anew for a linear-elastic film and Odeint:
/// dm/dt = feed, tau dx/dt = v - x.
double odeint_force(const WindingInput& in, double stretch_at_force, double modulus_section, const TakeUp& take_up,
                    std::size_t corner, double begin, double end, double m0) {
  using State = std::array<double, 2>;
  State y{m0, in.speed * take_up.perimeter() / (2.0 * std::numbers::pi)};  // the lag has seen the mean take-up
  const auto rhs = [&](const State& s, State& d, double t) {
    const TakeUpPoint at = take_up.at(in.speed * t, corner);
    const double force = modulus_section * ((in.internal_path + at.span) / s[0] - 1.0);
    d[0] = s[1] / stretch_at_force * (1.0 + in.control.gain * (force / in.force - 1.0));
    d[1] = (in.speed * at.lever_arm - s[1]) / in.control.lag;
  };
  namespace odeint = boost::numeric::odeint;
  auto stepper = odeint::make_controlled<odeint::runge_kutta_dopri5<State>>(1e-11, 1e-11);
  odeint::integrate_adaptive(stepper, rhs, y, begin, end, 1e-3);
  return modulus_section * ((in.internal_path + take_up.at(in.speed * end, corner).span) / y[0] - 1.0);
}

}  // namespace

TEST_CASE("span with control in the loop against Odeint on the plain equations", "[span]") {
  WindingInput in = constant_feed();
  in.control.kind = WindingControl::Kind::follow;
  in.control.lag = 0.3;
  in.control.gain = 0.8;
  in.internal_path = 0.4;
  const Winder winder(in);
  const WindingState start = winder.start();
  const auto& events = winder.take_up().events();
  const std::size_t corner = corner_before_face(events[0].face);
  const double end = events[0].angle / in.speed;
  const double reference =
      odeint_force(in, 1.05, 100e6 * in.roll_section, winder.take_up(), corner, 0.0, end, start.span.mass);
  double last = 0.0;
  for (const std::size_t steps : {16U, 32U, 64U, 128U}) {
    const auto none = [](SpanState&, const SpanPoint&) {};
    const SpanState s = winder.span().advance(start.span, {corner, 0.0, end}, steps, none);
    const double error = std::abs(s.force - reference);
    if (last > 0.0) CHECK(std::log2(last / error) == Approx(2.0).margin(0.25));
    last = error;
  }
  CHECK(last < 2e-4 * reference);
}

TEST_CASE("a step that is done again leaves no trace", "[span]") {
  const WindingInput in = reference_winding();
  const Winder winder(in);
  WindingState a = winder.start();
  winder.advance(a);
  winder.advance(a);
  const auto& event = winder.take_up().events()[a.events % 4];
  const double end = winder.span().rotation().time_at(event.angle);
  const SpanInterval leg{corner_before_face(event.face), a.time, end};
  const auto none = [](SpanState&, const SpanPoint&) {};
  const SpanState once = winder.span().advance(a.span, leg, 7, none);
  (void)winder.span().advance(a.span, leg, 2, none);  // a coarse try, thrown away
  const SpanState again = winder.span().advance(a.span, leg, 7, none);
  CHECK(once.force == again.force);
  CHECK(once.mass == again.mass);
  CHECK(once.control.lagged_demand == again.control.lagged_demand);
  CHECK(once.row.laid.strain == again.row.laid.strain);
}

TEST_CASE("the span mass is what was there, plus feed, less film laid", "[span]") {
  for (const double radius : {0.0, 0.08}) {
    WindingInput in = reference_winding();
    in.plan.corner_radius = radius;
    in.turns = 3.0;
    in.ramp_turns = 0.0;
    in.control.kind = WindingControl::Kind::fixed_length;
    in.control.length_per_turn = 1.0 / 3.2;
    in.film_on_load.reset();
    in.tolerance = 1e-5;
    in.repeat_settled = false;
    const Winder winder(in);
    WindingState s = winder.start();
    const double begin = s.span.mass;
    while (winder.advance(s)) {
    }
    double laid = 0.0;
    for (const LaidFace& f : s.faces) laid += f.mass;
    const double fed = 3.0 * winder.take_up().perimeter() / 3.2;
    if (radius == 0.0) {
      CHECK(begin + fed - laid == Approx(s.span.mass).epsilon(1e-9));
    } else {
      const double on_rounds = begin + fed - laid - s.span.mass;  // each round of every turn, at about 3.2
      CHECK(on_rounds == Approx(3.0 * 2.0 * std::numbers::pi * radius / 3.2).epsilon(0.02));
    }
  }
}
