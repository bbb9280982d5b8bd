// SPDX-License-Identifier: BSD-3-Clause
// One linear Maxwell branch against the files a rheology package ships for its own Maxwell element: data/Gt/Maxwell.gt
// (modulus 1, time 1: relaxation) and data/Creep/Maxwell.creep (creep at stress 1) of the repository
// jorge-ramirez-upm/RepTate, commit facc22bf, read in full; every tenth or twentieth row stands here. The package's
// mode sets of melts are left out: its file of modes does not go with its files of elongation.
#include "sim/film_lab/film_test.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

using namespace hoopfield;

namespace {

constexpr double modulus = 100e6, relaxation_time = 1.0;
using Table = std::vector<std::pair<double, double>>;

const Table relaxation = {{0.01, 0.990049834},        {0.031622777, 0.968871994}, {0.1, 0.904837418},
                          {0.316227766, 0.728893414}, {1.0, 0.367879441},         {3.16227766, 0.04232922},
                          {10.0, 4.53999e-05}};
const Table creep = {{0.01, 1.01},
                     {0.1, 1.1},
                     {0.316227766, 1.316227766},
                     {1.0, 2.0},
                     {3.16227766, 4.16227766},
                     {10.0, 11.0},
                     {31.6227766, 32.6227766},
                     {100.0, 101.0}};

FilmDescription maxwell() {
  FilmDescription film;
  film.name = "illustrative";
  film.law = "maxwell";
  film.density = 920.0;
  film.branches = {{{"modulus", modulus}, {"relaxation_time", relaxation_time}}};
  return film;
}

/// The point nearest to a time after the first stretching.
const FilmCurvePoint& point_at(const FilmCurve& curve, double time) {
  const double start = curve.points[curve.loaded].time;
  const auto off = [&](const FilmCurvePoint& p) { return std::abs(p.time - start - time); };
  const auto found =
      std::min_element(curve.points.begin() + static_cast<std::ptrdiff_t>(curve.loaded), curve.points.end(),
                       [&](const auto& a, const auto& b) { return off(a) < off(b); });
  REQUIRE(off(*found) < 1e-6 * time);
  return *found;
}

}  // namespace

TEST_CASE("one Maxwell branch relaxes as the file of a rheology package says", "[film][film_lab]") {
  FilmTest test;
  test.kind = FilmTestKind::relaxation;
  test.rate = 1e9;
  test.stretch = 0.01;
  test.hold = 100.0;
  const FilmCurve curve = run_film_test(maxwell(), test);
  const double start = curve.points[curve.loaded].stress;
  CHECK(start * 1.01 == Approx(modulus * std::log(1.01)).epsilon(1e-9));
  for (const auto& [time, share] : relaxation) {
    INFO(time);
    CHECK(point_at(curve, time).stress / start == Approx(share).epsilon(1e-5));  // the file has six digits at its end
  }
}

TEST_CASE("one Maxwell branch creeps as the file of a rheology package says", "[film][film_lab]") {
  FilmTest test;
  test.kind = FilmTestKind::creep;
  test.rate = 1e9;
  test.creep_stress = 1e-6 * modulus;  // so small that force and stress are one to 1e-4
  test.hold = 1000.0;
  const FilmCurve curve = run_film_test(maxwell(), test);
  for (const auto& [time, compliance] : creep) {
    INFO(time);
    CHECK((point_at(curve, time).stretch - 1.0) * 1e6 == Approx(compliance).epsilon(2e-4));
  }
}
