// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/film_fit.hpp"
#include "models/error.hpp"
#include "models/film/dual.hpp"
#include "models/film/eyring_step.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/io/text/film_writer.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"
#include "tests/support/lab_curves.hpp"

#include <cmath>

using namespace hoopfield;

namespace {

FitOptions options(std::size_t branches) {
  FitOptions o;
  o.branches = branches;
  o.base = assumed_film();
  o.derived_intervals = false;
  return o;
}

const FittedParameter& parameter(const FilmFit& fit, const std::string& key) {
  for (const FittedParameter& p : fit.parameters)
    if (p.key == key) return p;
  throw std::runtime_error("no parameter " + key);
}

}  // namespace

TEST_CASE("film fit: the step and its partial derivatives", "[film_fit]") {
  for (const double y0 : {-30.0, -2.0, 0.0, 0.3, 5.0, 40.0})
    for (const double alpha : {-3.0, -1e-3, 0.0, 0.02, 0.7, 6.0})
      for (const double beta : {1e-14, 1e-6, 0.01, 0.9, 20.0}) {
        using Sensitive = Dual<3>;
        const EyringStep<Sensitive> end =
            eyring_step(Sensitive::variable(y0, 0), Sensitive::variable(alpha, 1), Sensitive::variable(beta, 2));
        CHECK(end.y.value == eyring_step(y0, alpha, beta).y);
        CHECK(end.slope.value == eyring_step(y0, alpha, beta).slope);
        const double h = 1e-5;
        const auto y = [](double a, double b, double c) { return eyring_step(a, b, c).y; };
        INFO(y0 << " " << alpha << " " << beta);
        CHECK(end.y.by[0] ==
              Approx((y(y0 + h, alpha, beta) - y(y0 - h, alpha, beta)) / (2 * h)).epsilon(1e-5).margin(1e-7));
        CHECK(end.y.by[1] == Approx(end.slope.value).epsilon(1e-9).margin(1e-13));
        CHECK(end.y.by[1] ==
              Approx((y(y0, alpha + h, beta) - y(y0, alpha - h, beta)) / (2 * h)).epsilon(1e-5).margin(1e-7));
        const double b = 1e-5 * beta;
        CHECK(end.y.by[2] * beta ==
              Approx((y(y0, alpha, beta + b) - y(y0, alpha, beta - b)) / (2e-5)).epsilon(1e-4).margin(1e-7));
      }
}

TEST_CASE("film fit: model and law agree along a path, derivatives agree with differences", "[film_fit]") {
  FilmDescription film = test::general_film();
  const FitLayout layout(3);
  for (const double temperature : {296.15, 313.15}) {
    for (const double exponent : {0.5, 0.2}) {
      LabCurve curve = test::measured(film, {{0.0, 1.0}, {2.5, 3.5}, {602.5, 3.5}, {603.0, 3.0}}, 0.0, 1,
                                      FilmTestKind::cycle, temperature, 300);
      curve.width_exponent = exponent;
      const FitPath path = make_fit_path(curve);
      CHECK(path.has(FitLeg::unloading));
      CHECK(path.has(FitLeg::hold));
      const auto law = make_film_law(film);
      const Eigen::VectorXd p = parameters_from(layout, film);
      Eigen::VectorXd stress, up, down;
      Eigen::MatrixXd jacobian;
      model_stress(path, layout, p, film.reference_temperature, stress, &jacobian);
      FilmState state;
      for (const FitStep& step : path.steps) {
        const double nominal =
            law->step(state, step.stretch, step.duration, path.mode, temperature, temperature).nominal;
        if (step.reading >= 0) CHECK(stress[step.reading] == Approx(nominal).epsilon(1e-12).margin(1e-6));
      }
      for (Eigen::Index i = 0; i < layout.size(); ++i) {
        const double h = 1e-5 * std::max(1.0, std::abs(p[i])) * (i >= layout.softening() ? 0.1 : 1.0);
        Eigen::VectorXd q = p;
        q[i] += h;
        model_stress(path, layout, q, film.reference_temperature, up);
        q[i] -= 2 * h;
        model_stress(path, layout, q, film.reference_temperature, down);
        const Eigen::VectorXd difference = (up - down) / (2 * h);
        INFO(layout.key(i) << " at " << temperature << ", n " << exponent);
        CHECK((jacobian.col(i) - difference).norm() <= 1e-6 * difference.norm() + 1e-3);
      }
    }
  }
}

TEST_CASE("film fit: exact curves give their film back", "[film_fit]") {
  const FilmDescription film = test::general_film();
  const FilmFit fit = fit_film(test::curve_set(film, 0.0, 1), options(3));
  CHECK(fit.film.network.modulus == Approx(film.network.modulus).epsilon(0.02));
  CHECK(fit.film.network.stretch_limit == Approx(film.network.stretch_limit).epsilon(0.02));
  CHECK(fit.film.viscous_share == Approx(film.viscous_share).epsilon(0.03));
  for (std::size_t k = 0; k < 3; ++k) {
    CHECK(fit.film.branches[k]["modulus"] == Approx(film.branches[k]["modulus"]).epsilon(0.03));
    CHECK(std::log(fit.film.branches[k]["reference_rate"]) ==
          Approx(std::log(film.branches[k]["reference_rate"])).margin(0.5));
  }
  for (const CurveResidual& c : fit.curves) CHECK(c.rms < 2e-3);
}

TEST_CASE("film fit: stiffness of a virtual test equals the data within the stated residual", "[film_fit]") {
  const FilmDescription film = test::general_film();
  FitOptions o = options(3);
  o.derived_intervals = true;
  o.derived.rate = 0.1;
  const FilmFit fit = fit_film(test::curve_set(film, 0.01, 7), o);
  const DerivedNumbers truth = derive_numbers(film, o.derived);
  for (std::size_t i = 0; i < fit.derived.size(); ++i) {
    const auto& exact = truth.*derived_fields()[i].value;
    if (fit.derived[i].parameter->key == "film_numbers.break_stretch") continue;
    INFO(fit.derived[i].parameter->key << " " << *fit.derived[i].value << " +- " << fit.derived[i].error << ", exact "
                                       << *exact);
    CHECK(fit.derived[i].error > 0.0);
    CHECK(std::abs(*fit.derived[i].value - *exact) < 4.0 * fit.derived[i].error);
  }
  // The curve itself, tested virtually with the production law, against the measured curve.
  FilmTest how;
  how.rate = 0.1;
  how.stretch = 2.5;
  const FilmCurve curve = run_film_test(fit.film, how);
  for (const double stretch : {1.5, 2.0, 3.0, 3.4})
    CHECK(*stress_at_stretch(curve, stretch) ==
          Approx(*stress_at_stretch(run_film_test(film, how), stretch)).epsilon(3 * fit.curves[1].rms));
}

TEST_CASE("film fit: what curves cannot tell is said, with the test that would", "[film_fit]") {
  const FilmDescription film = test::general_film();
  const auto set = test::curve_set(film, 0.01, 3);
  const FilmFit tensile = fit_film({set[1]}, options(2));
  const FittedParameter& share = parameter(tensile, "network.modulus");
  CHECK_FALSE(share.determined);
  CHECK_FALSE(share.test.empty());
  CHECK(share.error_with_test < share.error);
  std::string all;
  for (const std::string& sentence : tensile.unknown) all += sentence + "\n";
  CHECK_THAT(all, ContainsSubstring("no curve unloads"));
  CHECK_THAT(all, ContainsSubstring("same temperature"));
  CHECK_FALSE(parameter(tensile, "branch[1].activation_energy").determined);
  CHECK(parameter(tensile, "branch[1].activation_energy").value == Approx(109e3).epsilon(0.9));
  const FilmFit more = fit_film(set, options(3));
  CHECK(parameter(more, "hardening.viscous_share").determined);
  CHECK(parameter(more, "network.modulus").determined);
}

TEST_CASE("film fit: activation energies from curves at two temperatures", "[film_fit]") {
  const FilmDescription film = test::general_film();
  auto set = test::curve_set(film, 0.005, 5);
  set.push_back(
      test::measured(film, {{0.0, 1.0}, {12.5, 3.5}, {3612.5, 3.5}}, 0.005, 99, FilmTestKind::relaxation, 313.15));
  set.push_back(test::measured(film, {{0.0, 1.0}, {25.0, 3.5}}, 0.005, 98, FilmTestKind::tensile, 313.15));
  set.push_back(test::measured(film, {{0.0, 1.0}, {0.8, 3.5}}, 0.005, 97, FilmTestKind::tensile, 313.15));
  FitOptions o = options(3);
  o.model_error = 0.0;  // the film follows the fitted law
  const FilmFit fit = fit_film(set, o);
  CHECK(fit.film.reference_temperature == 296.15);
  for (std::size_t k = 1; k < 3; ++k) {
    const FittedParameter& q = parameter(fit, "branch[" + std::to_string(k + 1) + "].activation_energy");
    INFO(q.key << " " << q.low << " " << q.high);
    CHECK(q.determined);
    CHECK(std::abs(q.value - film.branches[k]["activation_energy"]) < 4.0 * q.error);
  }
  CHECK(fit.film.thermal.modulus_softening ==
        Approx(0.010).margin(4.0 * parameter(fit, "thermal.modulus_softening").error));
}

TEST_CASE("film fit: too few points, bad numbers of branches", "[film_fit]") {
  const auto set = test::curve_set(test::general_film(), 0.0, 1);
  LabCurve few = set[0];
  few.points.resize(9);
  for (std::size_t i = 0; i < 9; ++i) few.points[i] = set[0].points[i * 60];
  CHECK_THROWS_WITH(fit_film({few}, options(3)),
                    ContainsSubstring("too few for this parameter set") && ContainsSubstring("from-datasheet"));
  CHECK_THROWS_AS(fit_film(set, options(9)), OutOfRange);
  CHECK_THROWS_AS(fit_film({}, options(2)), InputError);
}

TEST_CASE("film fit: curves of a wrong unit and a curve fitted and held out", "[film_fit]") {
  auto set = test::curve_set(test::general_film(), 0.0, 1);
  for (const double factor : {1e-6, 1e4}) {
    LabCurve wrong = set[0];
    for (LabPoint& point : wrong.points) point.stress *= factor;
    CHECK_THROWS_WITH(fit_film({wrong}, options(1)), ContainsSubstring("no film law comes near the curves"));
  }
  FitOptions o = options(2);
  o.hold_out = {set[1]};
  o.hold_out.front().name = set[0].name = "same.csv";
  CHECK_THROWS_WITH(fit_film({set[0]}, o), ContainsSubstring("same.csv is fitted, too"));
}

TEST_CASE("film fit: the film written reads back, covariance and all", "[film_fit]") {
  const FilmFit fit = fit_film(test::curve_set(test::general_film(), 0.01, 2), options(2));
  const FilmDescription back = read_film_text({"fit.toml", film_text(fit.film, {"a remark\nof two lines"})});
  CHECK(back.network.modulus == Approx(fit.film.network.modulus).epsilon(1e-6));
  CHECK(back.branches[1]["flow_stress"] == Approx(fit.film.branches[1]["flow_stress"]).epsilon(1e-6));
  REQUIRE(back.covariance);
  CHECK(back.covariance->keys == fit.film.covariance->keys);
  for (std::size_t i = 0; i < back.covariance->error.size(); ++i)
    CHECK(back.covariance->error[i] == Approx(fit.film.covariance->error[i]).epsilon(1e-4));
  for (std::size_t i = 0; i < back.covariance->correlation.size(); ++i)
    CHECK(back.covariance->correlation[i] == Approx(fit.film.covariance->correlation[i]).margin(1e-4));
}
