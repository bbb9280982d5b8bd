// SPDX-License-Identifier: BSD-3-Clause
// The periodic solution with constant feed was computed independently of this code from conservation of film at
// both corners: L+ x + q D2 = L- y and its mirror image, for 1.2 m x 1.0 m and the outlet at 1.5 m.
#include "models/error.hpp"
#include "sim/outputs/result.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/winding_cases.hpp"

#include <algorithm>
#include <cmath>

using namespace hoopfield;
using namespace hoopfield::testing;

namespace {

double ripple(const WindingInput& in) {
  const WindingResult r = wind(in);
  return (r.force_max - r.force_min) / in.force;
}

}  // namespace

TEST_CASE("constant feed settles to the known periodic strains", "[winding]") {
  const WindingInput in = constant_feed();
  const WindingResult r = wind(in);
  REQUIRE(r.faces.size() == 80);
  for (std::size_t i = 76; i < 80; ++i) {
    const double wanted = r.faces[i].face % 2 == 0 ? 0.054442 : 0.046327;  // front, back: 1.0 m wide
    CHECK(r.faces[i].film.stretch - 1.0 == Approx(wanted).margin(1e-6));
  }
  CHECK(1.2 / r.faces[79].film.stretch + 1.0 / r.faces[78].film.stretch == Approx(2.095238).margin(1e-6));
  const double stiffness = 100e6 * in.roll_section;
  CHECK(r.force_min / stiffness == Approx(0.022005).margin(1e-5));
  CHECK(r.force_max / stiffness == Approx(0.079833).margin(1e-5));
  const auto least = std::min_element(r.trace.begin(), r.trace.end(),
                                      [](const SpanPoint& a, const SpanPoint& b) { return a.force < b.force; });
  const auto greatest = std::max_element(r.trace.begin(), r.trace.end(),
                                         [](const SpanPoint& a, const SpanPoint& b) { return a.force < b.force; });
  const double degree = std::numbers::pi / 180.0;
  CHECK(std::fmod(least->angle / degree, 180.0) == Approx(173.95).margin(2.0));
  CHECK(std::fmod(greatest->angle / degree, 180.0) == Approx(123.87).margin(2.0));
}

TEST_CASE("control \"constant\" lays every face at exactly the set force with the same film", "[winding]") {
  WindingInput in = reference_winding();
  in.control.kind = WindingControl::Kind::constant;
  for (const bool repeat : {false, true}) {
    in.repeat_settled = repeat;
    const WindingResult r = wind(in);
    REQUIRE(r.faces.size() == 64);
    for (const LaidFace& f : r.faces) {
      CHECK(f.force == 70.0);
      CHECK(f.film.stretch == r.faces[0].film.stretch);
      CHECK(f.film.strain == r.faces[0].film.strain);
    }
    CHECK(in.roll_section * in.law->stress(r.faces[0].film, in.mode, in.temperature).nominal ==
          Approx(70.0).epsilon(1e-9));
    CHECK(r.force_min == 70.0);
    CHECK(r.force_max == 70.0);
    CHECK(r.force_mean == Approx(70.0).epsilon(1e-14));
  }
}

TEST_CASE("faces come at the geometric events, in order, with the time of the ramp", "[winding]") {
  WindingInput in = reference_winding();
  const WindingResult r = wind(in);
  const TakeUp take_up(in.plan);
  const Rotation rotation{in.speed, 2.0 * std::numbers::pi};
  REQUIRE(r.faces.size() == 64);
  for (std::size_t i = 0; i < r.faces.size(); ++i) {
    const double angle = take_up.events()[i % 4].angle + 2.0 * std::numbers::pi * static_cast<double>(i / 4);
    CHECK(r.faces[i].face == take_up.events()[i % 4].face);
    CHECK(r.faces[i].angle == Approx(angle).epsilon(1e-12));
    CHECK(r.faces[i].time == Approx(rotation.time_at(angle)).epsilon(1e-12));
    CHECK(r.faces[i].mass * r.faces[i].film.stretch == Approx(r.faces[i].length).epsilon(1e-12));
    CHECK(in.roll_section * in.law->stress(r.faces[i].film, in.mode, in.temperature).nominal ==
          Approx(r.faces[i].force).epsilon(1e-9));
  }
  CHECK(r.end_time == Approx(rotation.time_at(32.0 * std::numbers::pi)).epsilon(1e-12));
}

TEST_CASE("slow rotation: \"follow\" gives the set force", "[winding]") {
  WindingInput in = reference_winding();
  in.tolerance = 1e-5;
  double last = 1.0;
  for (const double share : {1.0, 0.1, 0.01}) {
    WindingInput slow = in;
    slow.speed = share * in.speed;
    const WindingResult r = wind(slow);
    double off = 0.0;
    for (std::size_t i = r.faces.size() - 4; i < r.faces.size(); ++i)
      off = std::max(off, std::abs(r.faces[i].force / 70.0 - 1.0));
    CHECK(off < last);
    last = off;
  }
  // Not zero: take-up is uneven within a turn, so faces get film of more or less age, which has crept more or less.
  CHECK(last < 3e-3);
}

TEST_CASE("friction: stuck keeps each face at its event, frictionless film is one tension", "[winding]") {
  WindingInput in = reference_winding();
  in.turns = 4.0;
  in.tolerance = 1e-4;
  in.film_on_load.reset();
  const WindingResult stuck = wind(in);
  CHECK(stuck.counters.slips == 0);
  for (const LaidFace& f : stuck.faces) CHECK(f.force == f.force_at_event);

  WindingInput rough = in;
  rough.film_on_load = 50.0;
  rough.film_on_film = 50.0;
  const WindingResult same = wind(rough);
  for (std::size_t i = 0; i < same.faces.size(); ++i)
    CHECK(same.faces[i].force == Approx(stuck.faces[i].force).epsilon(1e-3));

  WindingInput smooth = in;
  smooth.film_on_load = 0.0;
  smooth.film_on_film = 0.0;
  smooth.covered_film_sticks = false;
  const Winder winder(smooth);
  WindingState s = winder.start();
  for (int i = 0; i < 15; ++i) {
    winder.advance(s);
    for (const LaidFace& f : s.faces) CHECK(f.force == Approx(s.span.force).epsilon(2e-8));
  }
}

TEST_CASE("friction: no ratio between neighbours is beyond the capstan limit, film is conserved", "[winding]") {
  for (const double mu : {0.02, 0.08, 0.2}) {
    WindingInput in = reference_winding();
    in.turns = 3.0;
    in.ramp_turns = 0.0;
    in.film_on_load = mu;
    in.film_on_film = mu;
    in.control.kind = WindingControl::Kind::fixed_length;
    in.control.length_per_turn = 1.0 / 3.2;
    in.plan.corner_radius = 0.0;
    const Winder winder(in);
    WindingState s = winder.start();
    const double begin = s.span.mass;
    while (winder.advance(s)) {
      for (std::size_t i = s.faces.size() > 4 ? s.faces.size() - 3 : 1; i < s.faces.size(); ++i) {
        const auto now = [&](const LaidFace& face) { return winder.span().film().force(face.rested); };
        const double ratio = std::abs(std::log(now(s.faces[i]) / now(s.faces[i - 1])));
        CHECK(ratio <= mu * 0.5 * std::numbers::pi + 1e-8);
      }
    }
    double laid = 0.0;
    for (const LaidFace& f : s.faces) laid += f.mass;
    CHECK(begin + 3.0 * 4.4 / 3.2 - laid == Approx(s.span.mass).epsilon(1e-9));
    CHECK(s.counters.slips > 0);
  }
}

TEST_CASE("the ripple of a square repeats every quarter turn", "[winding]") {
  WindingInput in = reference_winding();
  in.plan.length = in.plan.width = 1.1;
  in.tolerance = 1e-5;
  in.repeat_settled = false;
  const WindingResult r = wind(in);
  for (std::size_t i = r.faces.size() - 4; i < r.faces.size(); ++i)
    CHECK(r.faces[i].force == Approx(r.faces[r.faces.size() - 1].force).epsilon(3e-5));
  const WindingResult oblong = wind(reference_winding());
  CHECK(std::abs(oblong.faces[63].force - oblong.faces[62].force) > 0.5);  // the check above can fail
}

TEST_CASE("a run taken up half-way is the straight run", "[winding]") {
  WindingInput in = reference_winding();
  in.film_on_load = 0.05;
  in.turns = 6.0;
  const Winder winder(in);
  WindingState straight = winder.start();
  WindingState half;
  for (int i = 0; winder.advance(straight); ++i)
    if (i == 10) half = straight;
  const Winder other(in);
  while (other.advance(half)) {
  }
  const WindingResult a = winder.result(straight), b = other.result(half);
  REQUIRE(a.faces.size() == b.faces.size());
  for (std::size_t i = 0; i < a.faces.size(); ++i) {
    CHECK(a.faces[i].force == b.faces[i].force);
    CHECK(a.faces[i].film.strain == b.faces[i].film.strain);
  }
  CHECK(a.force_mean == b.force_mean);
}

TEST_CASE("copied settled turns are what computing them gives", "[winding]") {
  WindingInput in = reference_winding();
  const WindingResult quick = wind(in);
  in.repeat_settled = false;
  const WindingResult full = wind(in);
  CHECK(quick.counters.copied_turns > 8);
  CHECK(full.counters.copied_turns == 0);
  REQUIRE(quick.faces.size() == full.faces.size());
  for (std::size_t i = 0; i < full.faces.size(); ++i) {
    CHECK(quick.faces[i].force == Approx(full.faces[i].force).epsilon(3e-4));
    CHECK(quick.faces[i].time == Approx(full.faces[i].time).epsilon(1e-12));
  }
  CHECK(quick.force_mean == Approx(full.force_mean).epsilon(3e-4));
  CHECK(quick.film_used == Approx(full.film_used).epsilon(1e-4));
}

TEST_CASE("copied turns with film slipping are what computing them gives", "[winding]") {
  WindingInput in = reference_winding();
  in.film_on_load = in.film_on_film = 0.06;
  in.turns = 12.3;
  const WindingResult quick = wind(in);
  in.repeat_settled = false;
  in.most_film_steps = 1e7;
  const WindingResult full = wind(in);
  CHECK(quick.counters.copied_turns > 3);
  CHECK(full.counters.slips > quick.counters.slips);
  REQUIRE(quick.faces.size() == full.faces.size());
  for (std::size_t i = 0; i < full.faces.size(); ++i) {
    INFO("face " << i);
    CHECK(quick.faces[i].face == full.faces[i].face);
    CHECK(quick.faces[i].force == Approx(full.faces[i].force).epsilon(1e-3));
    CHECK(quick.faces[i].force_at_event == Approx(full.faces[i].force_at_event).epsilon(1e-3));
    CHECK(quick.faces[i].angle == Approx(full.faces[i].angle).epsilon(1e-12));
  }
}

TEST_CASE("directions known to the trade (common practice, no source)", "[winding]") {
  const WindingInput base = reference_winding();
  const double usual = ripple(base);
  WindingInput in = base;
  in.speed *= 1.5;
  CHECK(ripple(in) > usual);
  in = base;
  in.internal_path += 1.0;
  CHECK(ripple(in) < usual);
  in = base;
  in.control.lag = 0.05;
  CHECK(ripple(in) < usual);
  in = base;
  in.plan.axis_offset = 0.1;
  CHECK(ripple(in) > usual);
}

TEST_CASE("part turns and short wraps", "[winding]") {
  WindingInput in = reference_winding();
  in.turns = 1.5;
  CHECK(wind(in).faces.size() == 6);
  in.turns = 0.1;  // no face is finished
  const WindingResult r = wind(in);
  CHECK(r.faces.empty());
  CHECK(r.film_used > 0.0);
  CHECK(std::isfinite(r.force_mean));
}

TEST_CASE("a control law of one's own is used as given", "[winding]") {
  WindingInput in = constant_feed();
  in.control.law = std::make_shared<FixedLength>(4.4 / (2.0 * std::numbers::pi * 1.05));
  in.control.kind = WindingControl::Kind::own;
  const WindingResult own = wind(in), usual = wind(constant_feed());
  for (std::size_t i = 0; i < own.faces.size(); ++i)
    CHECK(own.faces[i].force == Approx(usual.faces[i].force).epsilon(1e-9));
}

TEST_CASE("fixed length: mean stretch on the load is set by the length fed", "[winding]") {
  WindingInput in = reference_winding();
  in.plan.corner_radius = 0.0;
  in.control.kind = WindingControl::Kind::fixed_length;
  in.control.length_per_turn = 1.0 / 3.25;
  in.film_on_load.reset();
  in.tolerance = 1e-5;
  const WindingResult r = wind(in);
  double mass = 0.0;
  for (std::size_t i = r.faces.size() - 4; i < r.faces.size(); ++i) mass += r.faces[i].mass;
  CHECK(mass == Approx(4.4 / 3.25).epsilon(1e-6));
}

TEST_CASE("inputs that cannot be wound are refused with a reason", "[winding]") {
  const auto broken = [](auto change) {
    WindingInput in = reference_winding();
    change(in);
    return in;
  };
  CHECK_THROWS_AS(wind(broken([](WindingInput& in) { in.speed = 0.0; })), OutOfRange);
  CHECK_THROWS_AS(wind(broken([](WindingInput& in) { in.turns = -1.0; })), OutOfRange);
  CHECK_THROWS_AS(wind(broken([](WindingInput& in) { in.film_on_load = -0.1; })), OutOfRange);
  CHECK_THROWS_AS(wind(broken([](WindingInput& in) { in.tolerance = 0.0; })), OutOfRange);
  CHECK_THROWS_AS(wind(broken([](WindingInput& in) { in.plan.distance = 0.5; })), OutOfRange);
  CHECK_THROWS_AS(wind(broken([](WindingInput& in) { in.law.reset(); })), InputError);
  CHECK_THROWS_AS(wind(broken([](WindingInput& in) { in.force = 1e5; })), SolverError);
  CHECK_THROWS_WITH(wind(broken([](WindingInput& in) {
                      in.control.kind = WindingControl::Kind::fixed_length;
                      in.control.length_per_turn = 1.0 / 2.0;
                    })),
                    ContainsSubstring("slack"));
}
