// SPDX-License-Identifier: BSD-3-Clause
// What a prediction may cost: bounds and patterns that would never end are refused before any work, hard ones end.
#include "models/error.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/work_limit.hpp"
#include "tests/support/checks.hpp"
#include "tests/support/key_bounds.hpp"

#include <string>
#include <utility>
#include <vector>

using namespace hoopfield;

TEST_CASE("values that no film, load or machine has are refused at their key", "[robustness]") {
  const std::pair<const char*, const char*> values[] = {
      {"film.width", "1e20 m"},          {"film.thickness", "1e6 um"},   {"delivery.tension.force", "1e-12 N"},
      {"delivery.roller_gap", "1e20 m"}, {"load.height", "1e20 m"},      {"pattern.start_height", "-1e20 m"},
      {"rotation.speed", "1e-9 rpm"},    {"rotation.ramp_turns", "1e9"}, {"delivery.tension.gain", "1e9"},
      {"load.creep_start", "1e-300 s"},  {"storage.duration", "1e20 d"}, {"delivery.tension.force", "0.5 N"}};
  for (const auto& [key, text] : values) {
    Scenario s = test::reference_scenario();
    INFO(key << " = " << text);
    CHECK_THROWS_AS(set_value(s, key, text), OutOfRange);
  }
}

TEST_CASE("a pattern of more turns than can be worked out is refused with the estimate", "[robustness]") {
  const std::pair<const char*, const char*> values[] = {{"pattern.pitch", "1 um"},
                                                        {"pattern.pitch", "5 mm"},
                                                        {"pattern.overlap", "99.99 %"},
                                                        {"carriage.speed_up", "1e-9 m/s"}};
  for (const auto& [key, text] : values) {
    Scenario s = test::reference_scenario();
    INFO(key << " = " << text);
    try {
      set_value(s, key, text);
      (void)predict(s);
      FAIL("accepted");
    } catch (const OutOfRange& error) {
      CHECK(error.key == key);
      CHECK(std::string(error.what()).find("film elements in 30 slices; expected at most") != std::string::npos);
    }
  }
}

TEST_CASE("no accepted scenario takes more than a hundred times the work of the reference case", "[robustness]") {
  using Changes = std::vector<std::pair<std::string, std::string>>;
  const auto scenario = [](const Changes& changes) {
    Scenario s = test::reference_scenario();
    set_values(s, changes);
    return s;
  };
  const double usual = predict(scenario({})).counters.work();
  const Changes no_friction = {{"friction.film_on_load", "0"}, {"friction.film_on_film", "0"}};
  Changes slack = no_friction, one_body = no_friction;
  slack.emplace_back("delivery.tension.force", "1 N");
  one_body.emplace_back("load.shear_stiffness", "1e5 N");
  for (const Changes& changes : {Changes{{"pattern.bottom_turns", "100"}}, Changes{{"pattern.overlap", "95 %"}},
                                 Changes{{"film.thickness", "2 mm"}}, Changes{{"delivery.tension.force", "5 N"}},
                                 Changes{{"delivery.tension.force", "1 N"}}, no_friction, slack, one_body}) {
    INFO(changes.back().first << " = " << changes.back().second);
    const Scenario s = scenario(changes);
    try {
      const double work = predict(s).counters.work();
      CHECK(work <= 100.0 * usual);
    } catch (const SolverError& error) {
      // What film slipping at every touch would make longer ends there, and says why.
      CHECK(std::string(error.what()).find("a hundred times the work of a usual wrap") != std::string::npos);
      CHECK_FALSE(error.hint.empty());
    }
  }
}

TEST_CASE("beyond that the limit grows in proportion to slices times turns and moments", "[robustness]") {
  CHECK(most_work(60, 17, 45, 1e-3) == most_work(10, 5, 45, 1e-3));
  CHECK(most_work(120, 217, 45, 1e-3) == Approx(most_work(60, 217, 45, 1e-3) * 2.0));
  CHECK(most_work(60, 400, 100, 1e-3) == Approx(most_work(60, 200, 50, 1e-3) * 2.0));
  CHECK(most_work(60, 17, 45, 1e-5) == Approx(most_work(60, 17, 45, 1e-3) * 10.0));
}

TEST_CASE("every number of a scenario at its bounds is refused, or costs no more than that", "[robustness]") {
  const double usual = predict(test::reference_scenario()).counters.work();
  int solved = 0, refused = 0;
  for (const test::KeyBounds& bounds : test::key_bounds()) {
    // Just within a bound that is itself left out.
    const double inside = 1e-9 * (bounds.high - bounds.low);
    for (const double value : {bounds.low, bounds.low + inside, bounds.high - inside, bounds.high}) {
      INFO(bounds.key << " = " << value << " in SI units");
      Scenario s = test::reference_scenario();
      s.numerics.slices = 12;
      try {
        set_numbers(s, {{bounds.key, value}});
        const double work = predict(s).counters.work();
        CHECK(work <= 100.0 * usual);
        ++solved;
      } catch (const Error& error) {
        CHECK(std::string(error.what()).size() > 20);
        ++refused;
      }
    }
  }
  CHECK(solved > 60);
  CHECK(refused > 60);
}
