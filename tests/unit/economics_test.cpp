// SPDX-License-Identifier: BSD-3-Clause
// The chain from loads to CO2e: worked examples and identities.
#include "sim/outputs/economics.hpp"
#include "sim/io/hdf5/hdf5_writer.hpp"
#include "sim/io/text/json_writer.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"
#include "tests/support/synthetic_result.hpp"

#include <H5Cpp.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <limits>

using namespace hoopfield;
using Json = nlohmann::ordered_json;

namespace {

constexpr double inch = 0.0254, ounce = 0.45359237 / 16.0, gauge = 0.254e-6;

/// Round numbers of our own: 0.2 kg a load, 20 kg a roll, so 100 loads a roll.
Economics round_numbers(const std::optional<double>& loads_per_year) {
  CostInput cost;
  cost.loads_per_year = loads_per_year;
  cost.roll_mass = 20.0;
  cost.roll_change_time = 300.0;
  cost.labour_rate = 36.0 / 3600.0;
  cost.co2e_factor = 2.0;
  cost.energy_factor = 80e6;
  cost.currency = "EUR";
  return economics({20.0, 0.2}, {0.5, 20e-6, 1000.0}, 1.5, cost);
}

}  // namespace

TEST_CASE("film mass: worked example, 20 turns of 4.4 m at 200 % and 150 % stretch", "[economics]") {
  // m = rho w0 t0 N P / l, Python-free arithmetic of our own: 920 * 0.5 * 23e-6 * 88 / 3.
  const RollFilm film{0.5, 23e-6, 920.0};
  const double thrifty = film_mass(20 * 4.4, 3.0, film), present = film_mass(20 * 4.4, 2.5, film);
  CHECK(thrifty == Approx(0.310347).margin(5e-7));
  CHECK(present == Approx(0.372416).margin(5e-7));
  CHECK(1.0 - thrifty / present == Approx(1.0 / 6.0).epsilon(1e-12));  // 1 - 2.5/3
  CHECK(laid_length(thrifty, 3.0, film) == Approx(88.0).epsilon(1e-12));
}

TEST_CASE("film mass: 80 ga and 55 ga loads of the trade lay the same length", "[economics]") {
  // An arithmetic check on a fact of the trade (common practice, no source): 20 in web, 192 % on the load and 6.2 oz
  // against 272 % and 3.3 oz; ounces are rounded.
  const double thick = laid_length(6.2 * ounce, 2.92, {20 * inch, 80 * gauge, 920.0});
  const double thin = laid_length(3.3 * ounce, 3.72, {20 * inch, 55 * gauge, 920.0});
  CHECK(thin == Approx(thick).epsilon(0.03));
  CHECK(thin != Approx(thick).epsilon(0.01));  // the check can fail: 1.4 % apart
}

TEST_CASE("every turn more takes a perimeter of film at the stretch on the load", "[economics]") {
  Scenario s = hoopfield::testing::synthetic_scenario();
  s.film_description = test::general_film();
  s.load.stiffness_along_length = s.load.stiffness_along_width = std::numeric_limits<double>::infinity();
  s.load.corner_radius = 0.0;
  s.pattern.pitch = 0.19;
  s.numerics.slices = 20;
  const Result r = predict(s);
  Scenario longer = s;
  longer.pattern.bottom_turns += 4.0;
  const double laid = 4.0 * 2.0 * (s.load.length + s.load.width);  // the rest is turns before and the tail in the span
  CHECK(predict(longer).film.mass - r.film.mass ==
        Approx(film_mass(laid, r.film_path.stretch_on_load, roll_film(s))).epsilon(1e-6));
  const Economics chain = economics(s, r);
  CHECK(chain.film_mass == r.film.mass);
  CHECK(*chain.film_cost == Approx(1.6 * r.film.mass).epsilon(1e-14));
}

TEST_CASE("the chain on round numbers", "[economics]") {
  const Economics e = round_numbers(50000.0);
  CHECK(*e.loads_per_roll == Approx(100.0));
  CHECK(*e.roll_length == Approx(2000.0));  // 20 kg / (0.5 m * 20 um * 1000 kg/m^3)
  CHECK(*e.film_cost == Approx(0.30));
  CHECK(*e.labour_cost == Approx(0.03));  // 5 min at 36 an hour over 100 loads
  CHECK(*e.cost == Approx(0.33));
  REQUIRE(e.year);
  CHECK(e.year->film_mass == Approx(10000.0));
  CHECK(*e.year->rolls == Approx(500.0));
  CHECK(*e.year->roll_change_time == Approx(500.0 * 300.0));
  CHECK(*e.year->film_cost == Approx(15000.0));
  CHECK(*e.year->labour_cost == Approx(1500.0));
  CHECK(*e.year->cost == Approx(16500.0));
  CHECK(e.year->co2e_low == Approx(20000.0));
  CHECK(e.year->energy_high == Approx(8e11));
  // Every link of the chain from its neighbours.
  CHECK(*e.year->rolls * *e.roll_mass == Approx(e.year->film_mass).epsilon(1e-14));
  CHECK(e.year->film_mass * e.co2e_factor.low == Approx(e.year->co2e_low).epsilon(1e-14));
  CHECK(e.year->loads * *e.cost == Approx(*e.year->cost).epsilon(1e-14));
  CHECK(e.year->loads / *e.loads_per_roll == Approx(*e.year->rolls).epsilon(1e-14));
}

TEST_CASE("what is not given is absent and never made up", "[economics]") {
  CHECK_FALSE(round_numbers(std::nullopt).year);
  CostInput nothing;
  const Economics e = economics({20.0, 0.2}, {0.5, 20e-6, 1000.0}, std::nullopt, nothing);
  CHECK_FALSE(e.film_cost);
  CHECK_FALSE(e.cost);
  CHECK_FALSE(e.loads_per_roll);
  CHECK_FALSE(e.labour_cost);
  CHECK_FALSE(economics_asked({}, nothing));
  nothing.loads_per_year = 1000.0;
  CHECK(economics_asked({}, nothing));
  const Economics unpriced = economics({20.0, 0.2}, {0.5, 20e-6, 1000.0}, std::nullopt, nothing);
  CHECK_FALSE(unpriced.year->cost);
  CHECK_FALSE(unpriced.year->rolls);
}

TEST_CASE("published factors give a range with its source, a given factor is a point", "[economics]") {
  const Economics e = economics({29.333, 0.310347}, {0.5, 23e-6, 920.0}, std::nullopt, {});
  CHECK(e.co2e_factor.low == Approx(1.698).margin(5e-4));  // 1.54 t per short ton
  CHECK(e.co2e_low == Approx(0.310347 * 1.54 / 0.90718474).epsilon(1e-12));
  CHECK(e.co2e_low == Approx(0.5268).margin(5e-5));
  CHECK(e.co2e_high == Approx(0.6517).margin(5e-5));
  CHECK(e.energy_high == Approx(24.24e6).margin(5e3));
  CHECK(e.energy_low < e.energy_high);
  CHECK_FALSE(e.co2e_factor.given);
  CHECK_THAT(e.co2e_factor.source, ContainsSubstring("Hopewell"));
  const Economics given = round_numbers(std::nullopt);
  CHECK(given.co2e_low == given.co2e_high);
  CHECK(given.co2e_factor.source == "given");
}

TEST_CASE("at the break-even price a candidate costs as much as the present wrap", "[economics]") {
  const Economics present = round_numbers(std::nullopt);
  CostInput cost;
  cost.roll_mass = 12.0;
  cost.roll_change_time = 300.0;
  cost.labour_rate = 36.0 / 3600.0;
  cost.currency = "EUR";
  const RollFilm thin{0.5, 12e-6, 1000.0};
  const double price = *break_even_price(present, economics({21.0, 0.126}, thin, 2.0, cost));
  CHECK(*economics({21.0, 0.126}, thin, price, cost).cost == Approx(*present.cost).epsilon(1e-13));
  CHECK(price > 2.0);  // so the candidate pays at 2.0
  cost.currency = "USD";
  CHECK_FALSE(break_even_price(present, economics({21.0, 0.126}, thin, 2.0, cost)));
  cost.currency = "EUR";
  cost.labour_rate.reset();  // only one side knows its roll changes: film against film
  CHECK(*break_even_price(present, economics({21.0, 0.126}, thin, 2.0, cost)) == Approx(0.30 / 0.126));
}

TEST_CASE("JSON and HDF5 hold the same chain, and no year without loads per year", "[economics]") {
  Scenario s = hoopfield::testing::synthetic_scenario();
  const Result r = hoopfield::testing::synthetic_result();
  CHECK_FALSE(Json::parse(summary_json(s, r)).at("cost").contains("year"));
  s.cost.loads_per_year = 1000.0;
  s.cost.roll_length = 1500.0;
  s.film_description.density = 920.0;
  const Json cost = Json::parse(summary_json(s, r)).at("cost");
  const Economics e = economics(s, r);
  CHECK(cost.at("year").at("film_mass_kg").get<double>() == e.year->film_mass);
  CHECK(cost.at("year").at("film_mass_kg").get<double>() ==
        Approx(cost.at("year").at("rolls").get<double>() * cost.at("roll_mass_kg").get<double>()).epsilon(1e-14));
  CHECK(cost.at("energy_low_MJ").get<double>() == Approx(e.energy_low * 1e-6).epsilon(1e-15));
  const std::string bytes = hdf5_bytes(s, r);
  H5::FileAccPropList access;
  REQUIRE(H5Pset_fapl_core(access.getId(), 1U << 16U, false) >= 0);
  REQUIRE(H5Pset_file_image(access.getId(), const_cast<char*>(bytes.data()), bytes.size()) >= 0);
  const H5::H5File file("economics-in-memory.h5", H5F_ACC_RDONLY, H5::FileCreatPropList::DEFAULT, access);
  double rolls = 0.0;
  file.openDataSet("summary/cost/year_rolls").read(&rolls, H5::PredType::NATIVE_DOUBLE);
  CHECK(rolls == *e.year->rolls);
  s.film.price.reset();
  s.cost = {};
  CHECK_FALSE(Json::parse(summary_json(s, r)).contains("cost"));
}
