// SPDX-License-Identifier: BSD-3-Clause
// Keys that scale what is set: each is the same as setting the scaled value.
#include "models/error.hpp"
#include "models/film/film_law.hpp"
#include "models/film/law_registry.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"

using namespace hoopfield;

namespace {

Scenario with(const std::vector<std::pair<std::string, std::string>>& values) {
  Scenario s = read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
  set_values(s, {{"numerics.slices", "10"}, {"storage.duration", "1 d"}, {"storage.temperature", "23 degC"}});
  set_values(s, values);
  return s;
}

}  // namespace

TEST_CASE("force_scale times the set force is the force", "[bands]") {
  const Result scaled = predict(with({{"delivery.tension.force", "50 N"}, {"delivery.tension.force_scale", "1.4"}}));
  const Result plain = predict(with({{"delivery.tension.force", "70 N"}}));
  CHECK(scaled.span.force_set == Approx(plain.span.force_set).epsilon(1e-12));
  CHECK(scaled.after_storage.stations[1].hoop_tension == Approx(plain.after_storage.stations[1].hoop_tension));
}

TEST_CASE("force_scale does not act on a fed length", "[bands]") {
  const auto fed = [](const char* scale) {
    return predict(with({{"delivery.tension.control", "fixed_length"},
                         {"delivery.tension.length_per_turn", "0.31"},
                         {"delivery.tension.force_scale", scale}}));
  };
  CHECK(fed("1.2").end.stations[1].hoop_tension == fed("1").end.stations[1].hoop_tension);
}

TEST_CASE("prestretch_slip takes points off the pre-stretch", "[bands]") {
  const Result slipped = predict(with({{"delivery.prestretch_slip", "10 %"}}));
  const Result less = predict(with({{"delivery.prestretch", "240 %"}}));
  CHECK(slipped.film_path.prestretch_force == Approx(less.film_path.prestretch_force).epsilon(1e-12));
  CHECK(slipped.film.mass == Approx(less.film.mass).epsilon(1e-12));
  CHECK_THROWS_AS(with({{"delivery.prestretch", "5 %"}, {"delivery.prestretch_slip", "10 %"}}), OutOfRange);
}

TEST_CASE("a film of scaled stiffness carries scaled stresses at the same stretch", "[bands]") {
  const FilmDescription film = with({}).film_description;
  const auto law = make_film_law(film), stiffer = make_film_law(scaled_film(film, 1.3));
  const WidthMode mode = WidthMode::power(0.2);
  FilmState a, b;
  for (const double stretch : {1.2, 2.0, 3.4, 3.2}) {
    (void)law->step(a, stretch, 0.5, mode, 296.15, 296.15);
    (void)stiffer->step(b, stretch, 0.5, mode, 296.15, 296.15);
    CHECK(stiffer->stress(b, mode, 296.15).nominal == Approx(1.3 * law->stress(a, mode, 296.15).nominal).epsilon(1e-9));
  }
  // In a wrap: force and stiffness scaled together leave the stretch as it was.
  const Result both = predict(with({{"film.stiffness_scale", "1.1"}, {"delivery.tension.force", "77 N"}}));
  CHECK(both.film_path.stretch_on_load == Approx(predict(with({})).film_path.stretch_on_load).epsilon(1e-4));
}

TEST_CASE("a share of the tent moves what the formula adds to 1", "[bands]") {
  Scenario s = with({});
  const StationResult plain = predict(s).end.stations[1];
  s.stations.tent_share = 0.5;
  const StationResult half = predict(s).end.stations[1];
  CHECK(half.tent_factor == Approx(1.0 + 0.5 * (plain.tent_factor - 1.0)).epsilon(1e-12));
  CHECK(half.strand_force == plain.strand_force);
}
