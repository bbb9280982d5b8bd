// SPDX-License-Identifier: BSD-3-Clause
// Virtual tests at their edges, curve files and data sheets.
#include "sim/film_lab/datasheet.hpp"
#include "sim/film_lab/derived_numbers.hpp"
#include "sim/film_lab/film_fit.hpp"
#include "sim/film_lab/film_test.hpp"
#include "sim/film_lab/strip.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <cmath>
#include <string>

using namespace hoopfield;

namespace {

FilmTest tensile(double stretch) {
  FilmTest test;
  test.stretch = stretch;
  return test;
}

bool illustrative(const std::string& remark) {
  std::string text = remark + "\n# kind: tensile\n# temperature: 23 degC\nstretch_percent,stress_MPa,time_s\n";
  for (int i = 0; i < 20; ++i)
    text += std::to_string(i * 10) + "," + std::to_string(1 + i) + "," + std::to_string(i) + "\n";
  return read_lab_curve_text({"curve.csv", text}).illustrative;
}

}  // namespace

TEST_CASE("film test: a creep stress below the first step leaves the numbers of stretching out", "[film_lab]") {
  FilmTest test;
  test.kind = FilmTestKind::creep;
  test.creep_stress = 1e-6;
  const FilmCurve curve = run_film_test(test::general_film(), test);
  REQUIRE(curve.loaded == 0);
  CHECK_FALSE(curve.numbers.secant_modulus);
  CHECK_FALSE(curve.numbers.end_stress);
  CHECK_FALSE(curve.numbers.end_stiffness);
  CHECK(*curve.numbers.creep_start == 0.0);
  CHECK(*curve.numbers.creep_strain == Approx(0.0).margin(1e-9));
}

TEST_CASE("film test: the secant modulus is read at 1 % or not at all", "[film_lab]") {
  const FilmDescription film = test::general_film();
  const double modulus = *run_film_test(film, tensile(2.5)).numbers.secant_modulus;
  CHECK_FALSE(run_film_test(film, tensile(0.001)).numbers.secant_modulus);
  CHECK_FALSE(run_film_test(film, tensile(0.0099)).numbers.secant_modulus);
  CHECK(*run_film_test(film, tensile(0.01)).numbers.secant_modulus == Approx(modulus).epsilon(1e-3));
  // A creep test passes 1 % between two points.
  FilmTest creep;
  creep.kind = FilmTestKind::creep;
  creep.creep_stress = 5e6;
  CHECK(*run_film_test(film, creep).numbers.secant_modulus == Approx(modulus).epsilon(2e-3));
}

TEST_CASE("film test: a step taken back takes its heat back", "[film_lab]") {
  const FilmDescription film = test::general_film();
  FilmTest test = tensile(2.5);
  test.draw_heat = true;
  Strip strip(film, test, nullptr);
  for (int i = 1; i <= 100; ++i) strip.move(1.0 + 0.025 * i, 0.025);
  const Strip::State before = strip.state();
  const double stress = strip.stress();
  strip.move(3.6, 0.1);
  REQUIRE(strip.temperature() > before.temperature + 0.05);
  strip.set_state(before);
  CHECK(strip.temperature() == before.temperature);
  CHECK(strip.stress() == stress);
}

TEST_CASE("film test: heat of drawing does not depend on the steps", "[film_lab]") {
  const FilmDescription film = test::general_film();
  FilmTest test = tensile(2.5);
  test.draw_heat = true;
  const auto heated = [&](int steps) {
    Strip strip(film, test, nullptr);
    for (int i = 1; i <= steps; ++i) strip.move(1.0 + 2.5 * i / steps, 2.5 / steps);
    return strip.temperature() - test.temperature;
  };
  CHECK(heated(200) == Approx(heated(3200)).epsilon(0.01));
}

TEST_CASE("film fit: the word illustrative is never lost", "[film_lab]") {
  for (const char* remark :
       {"# illustrative: true", "# illustrative: yes", "# Illustrative: 1", "# illustrative:", "# illustrative",
        "# illustrative data, not measured", "# source: Illustrative, made up", "# these numbers are illustrative"}) {
    INFO(remark);
    CHECK(illustrative(remark));
  }
  for (const char* remark : {"# illustrative: false", "# illustrative: No", "# source: laboratory", "# a remark"}) {
    INFO(remark);
    CHECK_FALSE(illustrative(remark));
  }
}

TEST_CASE("film fit: a break that was seen is said", "[film_lab]") {
  FilmTest test = tensile(3.0);
  test.rate = 0.1;
  LabCurve curve = lab_curve(test, run_film_test(test::general_film(), test), "pulled");
  FitOptions options;
  options.branches = 2;
  options.starts = 1;
  options.base = assumed_film();
  options.derived_intervals = false;
  const auto last = [&] { return fit_film({curve}, options).unknown.back(); };
  CHECK(last().find("no break data") != std::string::npos);
  curve.break_stretch = 3.0;
  CHECK(last().find("broke at 300 %") != std::string::npos);
}

TEST_CASE("data sheet: below 1 % the stress goes through zero", "[film_lab]") {
  const std::string text =
      "name = \"a\"\nsource = \"illustrative\"\nmodulus = \"190 MPa\"\nstress_at_100 = \"8.5 MPa\"\n"
      "kept = \"70 %\"\nkept_time = \"60 s\"\nkept_stretch = \"0.4 %\"\n";
  FitOptions options;
  options.derived_intervals = false;
  const FilmFit fit = film_from_sheet(read_film_sheet_text({"sheet.toml", text}), options);
  CHECK(fit.curves.at(1).measured.at(0) == Approx(0.7 * 190e6 * 0.004));
}

TEST_CASE("data sheet: the break, the price and a thickness in gauge", "[film_lab]") {
  const std::string text =
      "source = \"illustrative\"\nmodulus = \"190 MPa\"\nwidth = \"25 mm\"\nthickness = \"80 gauge\"\n"
      "force_at_200 = \"5 N\"\nbreak_stretch = \"480 %\"\nbreak_force = \"15 N\"\nprice_per_roll = 60\n";
  const FilmSheet sheet = read_film_sheet_text({"sheet.toml", text + "roll_mass = \"16 kg\"\n"});
  const double section = 0.025 * 80 * 0.254e-6;
  REQUIRE(sheet.stress_at.size() == 2);
  CHECK(sheet.stress_at[0].second == Approx(5.0 / section));
  CHECK(sheet.stress_at[1].first == Approx(4.8));
  CHECK(sheet.stress_at[1].second == Approx(15.0 / section));
  CHECK(*sheet.price == Approx(60.0 / 16.0));
  CHECK(sheet_price_text(sheet).find("price = \"3.75 /kg\"") != std::string::npos);
  const FilmSheet by_size =
      read_film_sheet_text({"sheet.toml", text + "roll_length = \"1500 m\"\nroll_width = \"500 mm\"\n"});
  CHECK(*by_size.price == Approx(60.0 / (1500 * 0.5 * 80 * 0.254e-6 * 920.0)));
  FitOptions options;
  options.derived_intervals = false;
  const FilmFit fit = film_from_sheet(sheet, options);
  const CurveResidual& curve = fit.curves.at(0);
  CHECK(curve.stretch.back() == Approx(5.8));
  CHECK(curve.fitted.back() == Approx(curve.measured.back()).epsilon(0.1));
  CHECK(fit.film.breaking->stretch == Approx(4.8));
}

TEST_CASE("data sheet: what a film file from it is good for", "[film_lab]") {
  FilmSheet sheet;
  CHECK(sheet_verdict(sheet).find("good for a first look") != std::string::npos);
  CHECK(sheet_verdict(sheet).find("how much tension stays") != std::string::npos);
  CHECK(sheet_price_text(sheet).empty());
  sheet.hold = FilmSheet::Hold{2.0, 60.0, 0.7};
  CHECK(sheet_verdict(sheet).find("how much tension stays") == std::string::npos);
}
