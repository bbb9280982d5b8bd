// SPDX-License-Identifier: BSD-3-Clause
#include "sim/wrap/plausibility.hpp"

#include "models/error.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/checks.hpp"

#include <algorithm>
#include <initializer_list>
#include <string>

using namespace hoopfield;

namespace {

Scenario reference() {
  Scenario s = test::reference_scenario();
  s.numerics.slices = 10;
  s.storage.temperature = {{0.0, 296.15}};
  return s;
}

std::string text_of(const Result& r, const std::string& code) {
  for (const Warning& w : r.warnings)
    if (w.code == code) return w.text;
  return "";
}

bool doubts_nothing(const Result& r) {
  for (const char* code : {"film-gains-tension", "film-springs-back", "film-hardly-sets", "draw-hot", "load-closes-far",
                           "force-gain-fades"})
    if (!text_of(r, code).empty()) return false;
  return true;
}

}  // namespace

TEST_CASE("plausible: the examples raise no doubt") {
  for (const char* name :
       {"01_first_prediction/scenario.toml", "02_span_ripple/scenario.toml", "11_report/scenario.toml",
        "08_thin_against_thick/present.toml", "08_thin_against_thick/candidate.toml"}) {
    Scenario s = read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/" + name);
    s.numerics.slices = 10;
    Result r = predict(s);
    add_sensitivity(s, r);
    CAPTURE(name);
    CHECK(doubts_nothing(r));
  }
}

TEST_CASE("plausible: film whose draw heats it beyond softening") {
  Scenario s = reference();
  s.wrapping.temperature = 296.15;
  const double rise = predict(s).film_path.draw_temperature_rise;
  s.film_description.thermal.heat_capacity *= rise / 85.0;  // so little that the draw heats it by some 85 K
  const Result r = predict(s);
  REQUIRE(r.film_path.film_temperature > plausible.softening);
  CHECK_THAT(text_of(r, "draw-hot"), ContainsSubstring("own assumption") && ContainsSubstring("less pre-stretch"));
}

TEST_CASE("plausible: a load that closes far is told of, and refused where it is crushed") {
  Scenario s = reference();
  const auto with = [&](double stiffness) {
    s.load.stiffness_along_length = s.load.stiffness_along_width = stiffness;
    return predict(s);
  };
  const auto share = [&](const Result& r) {
    double most = 0.0;
    for (const double u : r.closing_along_length.data) most = std::max(most, u / s.load.length);
    for (const double u : r.closing_along_width.data) most = std::max(most, u / s.load.width);
    return most;
  };
  const Result soft = with(20e3);
  REQUIRE(share(soft) > plausible.closing);
  CHECK_THAT(text_of(soft, "load-closes-far"), ContainsSubstring("girth"));
  CHECK(text_of(with(2e5), "load-closes-far").empty());
  try {
    (void)with(2e3);
    FAIL("a crushed load was predicted");
  } catch (const SolverError& error) {
    CHECK_THAT(error.what(), ContainsSubstring("crushed"));
    CHECK_THAT(error.hint, ContainsSubstring("load.stiffness_along_length"));
  }
}

TEST_CASE("plausible: film like rubber springs back and hardly sets") {
  Scenario s = reference();
  FilmDescription& film = s.film_description;
  film.network.modulus *= 4.0;
  for (auto& branch : film.branches) branch["modulus"] *= 0.05;
  const Result r = predict(s);
  CHECK_THAT(text_of(r, "film-hardly-sets"), ContainsSubstring("like rubber"));
  CHECK_THAT(text_of(r, "film-springs-back"), ContainsSubstring("not validated"));
}

TEST_CASE("plausible: film that gains tension in storage, unless the store is colder") {
  Result r = predict(reference());
  const auto warned = [&] {
    r.warnings.clear();
    const Scenario s = reference();
    plausibility_warnings(s, plan_wrap(s), r, r.warnings);
    return !text_of(r, "film-gains-tension").empty();
  };
  CHECK_FALSE(warned());
  for (std::size_t i = 0; i < 3; ++i) r.after_storage.stations[i].hoop_tension = 1.05 * r.end.stations[i].hoop_tension;
  CHECK(warned());
  for (StationResult& station : r.after_storage.stations) station.temperature -= 10.0;
  CHECK_FALSE(warned());
}

TEST_CASE("plausible: force that storage takes back") {
  Result r = predict(reference());
  r.sensitivity = Sensitivity{1.05, 0.24};
  sensitivity_warning(r);
  CHECK_THAT(text_of(r, "force-gain-fades"), ContainsSubstring("turns or film"));
  r.warnings.clear();
  r.sensitivity = Sensitivity{1.05, 0.9};
  sensitivity_warning(r);
  CHECK(text_of(r, "force-gain-fades").empty());
}
