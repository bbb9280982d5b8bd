// SPDX-License-Identifier: BSD-3-Clause
#include "sim/winding/scenario_winding.hpp"
#include "models/error.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/winding_cases.hpp"

#include <numbers>

using namespace hoopfield;
using namespace hoopfield::testing;

namespace {

Scenario scenario() {
  Scenario s;
  s.film.width = 0.5;
  s.film.thickness = 23e-6;
  s.film_description = general_film();
  s.delivery.prestretch = 2.5;
  s.delivery.tension.control = TensionControl::follow;
  s.delivery.tension.force = 70.0;
  s.rotation.ramp_turns = 1.0;
  s.load.length = 1.2;
  s.load.width = 1.0;
  return s;
}

FilmPath path_of(const Scenario& s, const FilmLaw& law) {
  const TakeUp take_up(
      {s.load.length, s.load.width, s.delivery.distance, s.delivery.offset, s.load.axis_offset, s.load.corner_radius});
  FilmPathInput in;
  in.law = &law;
  in.roll_width = s.film.width;
  in.roll_thickness = s.film.thickness;
  in.density = s.film_description.density;
  in.draw_ratio = 1.0 + s.delivery.prestretch;
  in.internal_path = s.delivery.internal_path;
  in.mean_span = take_up.mean_span();
  in.span_force = *s.delivery.tension.force;
  in.take_up_speed = s.rotation.speed * take_up.perimeter() / (2.0 * std::numbers::pi);
  in.width_exponent = s.film_description.neck_in;
  return solve_film_path(in);
}

}  // namespace

TEST_CASE("winding of a scenario: held force lays the film of the film path", "[winding]") {
  Scenario s = scenario();
  s.delivery.tension.control = TensionControl::constant;
  const auto law = make_film_law(s.film_description);
  const FilmPath path = path_of(s, *law);
  WindingInput in = winding_input(s, law, path, 3.0, 296.15);
  const WindingResult given = wind(in);
  in.laid.reset();  // the winding stage lets the film creep itself
  const WindingResult own = wind(in);
  REQUIRE(given.faces.size() == 12);
  for (std::size_t i = 0; i < 12; ++i) {
    CHECK(given.faces[i].force == 70.0);
    CHECK(given.faces[i].film.stretch == path.laid.stretch);
    CHECK(given.faces[i].film.strain == path.laid.strain);
    CHECK(own.faces[i].film.stretch == Approx(path.laid.stretch).epsilon(1e-6));
  }
  const SpanResult span = span_result(given);
  CHECK(span.force_set == 70.0);
  CHECK(span.force_mean == Approx(70.0).epsilon(1e-12));
  CHECK(span.angle.size() == span.take_up_speed.size());
}

TEST_CASE("winding of a scenario: an arm or ring gives the tensions of a turning load", "[winding]") {
  Scenario s = scenario();
  const auto law = make_film_law(s.film_description);
  const FilmPath path = path_of(s, *law);
  const WindingResult turning = wind(winding_input(s, law, path, 5.0, 296.15));
  s.rotation.kind = RotationKind::delivery;
  const WindingResult ring = wind(winding_input(s, law, path, 5.0, 296.15));
  REQUIRE(turning.faces.size() == ring.faces.size());
  for (std::size_t i = 0; i < ring.faces.size(); ++i) CHECK(ring.faces[i].force == turning.faces[i].force);
}

TEST_CASE("winding of a scenario: what is missing is named", "[winding]") {
  Scenario s = scenario();
  const auto law = make_film_law(s.film_description);
  const FilmPath path = path_of(s, *law);
  s.delivery.tension.control = TensionControl::fixed_length;
  CHECK_THROWS_WITH(winding_input(s, law, path, 5.0, 296.15), ContainsSubstring("length_per_turn"));
  s.delivery.tension.length_per_turn = 1.0 / 3.1;
  const WindingResult fixed = wind(winding_input(s, law, path, 5.0, 296.15));
  CHECK(fixed.reference.stretch == Approx(3.1).epsilon(1e-9));
  s.delivery.tension.force.reset();
  CHECK_THROWS_AS(winding_input(s, law, path, 5.0, 296.15), InputError);
}
