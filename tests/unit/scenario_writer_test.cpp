// SPDX-License-Identifier: BSD-3-Clause
// A scenario written as text and read again is the same scenario, to the last bit.
#include "sim/io/text/scenario_writer.hpp"
#include "models/error.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "tests/support/catch.hpp"

#include <random>

using namespace hoopfield;

namespace {

Scenario reference_case() {
  return read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
}

Scenario again(const Scenario& s) { return read_scenario_with_film(scenario_text(s), s.path, s.film_text); }

void check_same(const Scenario& a, const Scenario& b) {
  const auto rows_a = input_rows(a), rows_b = input_rows(b);
  REQUIRE(rows_a.size() == rows_b.size());
  for (std::size_t i = 0; i < rows_a.size(); ++i) {
    INFO(rows_a[i].key);
    CHECK(rows_a[i].key == rows_b[i].key);
    CHECK(rows_a[i].text == rows_b[i].text);
    CHECK(rows_a[i].origin == rows_b[i].origin);
    if (std::isfinite(rows_a[i].number)) CHECK(rows_a[i].number == rows_b[i].number);
  }
  CHECK(inputs_hash(a) == inputs_hash(b));
}

}  // namespace

TEST_CASE("A scenario survives its text") {
  const Scenario s = reference_case();
  check_same(s, again(s));
  CHECK(scenario_text(again(s)) == scenario_text(s));
}

TEST_CASE("Numbers survive to the last bit, whatever unit they are written in") {
  std::mt19937_64 generator(5);
  std::uniform_real_distribution<double> unit(0.0, 1.0);
  for (int i = 0; i < 300; ++i) {
    Scenario s = reference_case();
    set_numbers(s, {{"delivery.prestretch", 1.0 + 2.0 * unit(generator)},
                    {"film.thickness", 1e-5 + 2e-5 * unit(generator)},
                    {"rotation.speed", 0.5 + unit(generator)},
                    {"storage.temperature", 280.0 + 30.0 * unit(generator)},
                    {"load.stiffness_along_length", 1e5 + 1e5 * unit(generator)}});
    const Scenario r = again(s);
    for (const char* key : {"delivery.prestretch", "film.thickness", "rotation.speed", "load.stiffness_along_length"})
      REQUIRE(get_number(r, key) == get_number(s, key));
    REQUIRE(r.storage.temperature == s.storage.temperature);
  }
}

TEST_CASE("Choices, words, flags, tables and origins survive") {
  Scenario s = reference_case();
  set_values(s, {{"load.kind", "rigid"},
                 {"friction.film_on_film", "0.2"},
                 {"friction.film_on_load", "stuck"},
                 {"pattern.descent", "false"},
                 {"delivery.tension.dial_table", "[[1, \"50 N\"], [5, \"90 N\"]]"},
                 {"delivery.tension.dial", "3.3"},
                 {"target.quantity", "pull_force"},
                 {"target.top", "90 N"},
                 {"report.site", "Hall \"3\" \\ \u00c4 \u202e<b>"},
                 {"report.author", "A. N. Other"},
                 {"report.customer", "#1 = [x]"},
                 {"report.date", "2026-11-27"},
                 {"scenario.title", "a \"title\" with \\ and \n\t\x01 and \u00c4"}});
  s.sources["load.height"].origin = Origin::measured;
  check_same(s, again(s));
  CHECK(again(s).sources.at("load.height").origin == Origin::measured);
  CHECK(again(s).title == s.title);
  CHECK(again(s).report.site == s.report.site);
  CHECK(again(s).report.date == "2026-11-27");
}

TEST_CASE("A film's text replaces its file, and complaints name it") {
  Scenario s = reference_case();
  s.path = "nowhere/scenario.toml";
  CHECK_NOTHROW(again(s));
  s.film_text += "\nnot_a_key = 1\n";
  CHECK_THROWS_AS(again(s), InputError);
}
