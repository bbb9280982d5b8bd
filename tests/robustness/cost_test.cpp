// SPDX-License-Identifier: BSD-3-Clause
// What a prediction may cost: bounds and patterns that would never end are refused before any work, hard ones end.
#include "models/error.hpp"
#include "sim/inputs/inputs.hpp"
#include "tests/support/checks.hpp"

#include <string>

using namespace hoopfield;

TEST_CASE("values that no film, load or machine has are refused at their key", "[robustness]") {
  const std::pair<const char*, const char*> values[] = {
      {"film.width", "1e20 m"},          {"film.thickness", "1e6 um"},   {"delivery.tension.force", "1e-12 N"},
      {"delivery.roller_gap", "1e20 m"}, {"load.height", "1e20 m"},      {"pattern.start_height", "-1e20 m"},
      {"rotation.speed", "1e-9 rpm"},    {"rotation.ramp_turns", "1e9"}, {"delivery.tension.gain", "1e9"},
      {"load.creep_start", "1e-300 s"},  {"storage.duration", "1e20 d"}};
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
      CHECK(std::string(error.what()).find("film elements in 60 slices; expected at most") != std::string::npos);
    }
  }
}

TEST_CASE("no accepted scenario takes more than 120 times the work of the reference case", "[robustness]") {
  const auto work = [](const char* key, const char* text) {
    Scenario s = test::reference_scenario();
    set_value(s, key, text);
    return predict(s).counters.work();
  };
  const double usual = work("pattern.pitch", "190 mm");
  for (const auto& [key, text] : {std::pair{"pattern.bottom_turns", "100"}, std::pair{"pattern.overlap", "95 %"},
                                  std::pair{"film.thickness", "2 mm"}, std::pair{"friction.film_on_film", "0"}}) {
    INFO(key << " = " << text);
    CHECK(work(key, text) <= 120.0 * usual);
  }
  // Nearly slack film that slips at every touch took minutes; now it ends, and says why.
  Scenario slack = test::reference_scenario();
  set_value(slack, "delivery.tension.force", "0.1 N");
  try {
    (void)predict(slack);
  } catch (const SolverError& error) {
    CHECK(std::string(error.what()).find("a hundred times the work of a usual wrap") != std::string::npos);
    CHECK_FALSE(error.hint.empty());
  }
}
