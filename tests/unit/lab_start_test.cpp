// SPDX-License-Identifier: BSD-3-Clause
// The start of a laboratory curve: slack and toe, give of the machine, spikes, slips and the sign of the pull.
#include "models/error.hpp"
#include "models/text.hpp"
#include "sim/film_lab/film_test.hpp"
#include "sim/film_lab/lab_rows_detail.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <random>
#include <string>

using namespace hoopfield;

namespace {

constexpr double grip = 0.05, width = 0.025, thickness = 23e-6;  // m

FilmCurve pulled(double rate, double stretch = 3.0) {
  FilmTest test;
  test.rate = rate;
  test.stretch = stretch;
  return run_film_test(test::general_film(), test);
}

double stress_at(const FilmCurve& curve, double strain) {
  std::size_t i = 1;
  while (i + 1 < curve.points.size() && curve.points[i].stretch < 1.0 + strain) ++i;
  const auto &a = curve.points[i - 1], &b = curve.points[i];
  return a.stress + (b.stress - a.stress) * (1.0 + strain - a.stretch) / (b.stretch - a.stretch);
}

double stress_at(const LabCurve& curve, double strain) {
  std::size_t i = 1;
  while (i + 1 < curve.points.size() && curve.points[i].stretch < 1.0 + strain) ++i;
  const auto &a = curve.points[i - 1], &b = curve.points[i];
  return a.stress + (b.stress - a.stress) * (1.0 + strain - a.stretch) / (b.stretch - a.stretch);
}

/// Straight through the corner of the slack, rounded over about twice `rounding`.
double without_slack(double strain, double slack, double rounding) {
  if (!(rounding > 0.0)) return std::max(0.0, strain - slack);
  const double x = (strain - slack) / rounding;
  return x > 30.0 ? strain - slack : rounding * std::log1p(std::exp(x));
}

struct Measured {
  double slack = 0.0, rounding = 0.0;  // strain
  double noise = 0.0;                  // of each force
  double cell_noise = 0.0;             // N, whatever the force
  double compliance = 0.0;             // m/N
  int rows = 2000;
  double sign = 1.0;
  unsigned seed = 1;
};

/// As a tensile machine writes it: travel of the grips (mm) and force (N) at even times.
std::string table(const FilmCurve& film, double rate, const Measured& how, const std::string& remarks = {},
                  const std::function<double(int, double)>& change = {}) {
  std::mt19937 random(how.seed);
  std::normal_distribution<double> normal(0.0, 1.0);
  std::string text = "# kind: tensile\n# width: 25 mm\n# thickness: 23 um\n# grip distance: 50 mm\n" + remarks +
                     "time_s,displacement_mm,force_N\n";
  for (int i = 0; i < how.rows; ++i) {
    const double strain = 2.9 * i / (how.rows - 1);
    const double film_strain = without_slack(strain, how.slack, how.rounding);
    double force = stress_at(film, film_strain) * width * thickness;
    const double travel = strain * grip + how.compliance * force;
    force = how.sign * (force * (1.0 + how.noise * normal(random)) + how.cell_noise * normal(random));
    if (change) force = change(i, force);
    text += shortest(strain / rate) + "," + shortest(travel * 1e3) + "," + shortest(force) + "\n";
  }
  return text;
}

LabCurve read(const std::string& text) { return read_lab_curve_text({"curve.csv", text}); }

bool warns(const LabCurve& curve, const std::string& words) {
  return std::any_of(curve.warnings.begin(), curve.warnings.end(),
                     [&](const std::string& warning) { return warning.find(words) != std::string::npos; });
}

/// Greatest distance in strain between the curve as read and the film's own, where the film is still steep.
double off_in_strain(const LabCurve& curve, const FilmCurve& film) {
  double most = 0.0;
  for (const LabPoint& p : curve.points) {
    const double strain = p.stretch - 1.0;
    if (strain > 0.03) break;
    const double slope = (stress_at(film, strain + 1e-3) - stress_at(film, std::max(0.0, strain - 1e-3))) /
                         (strain > 1e-3 ? 2e-3 : strain + 1e-3);
    most = std::max(most, std::abs(p.stress - stress_at(film, strain)) / slope);
  }
  return most;
}

/// Least-squares slope through the rows below a strain, as a person would draw it.
double modulus(const LabCurve& curve, double from, double to) {
  double n = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
  for (const LabPoint& p : curve.points) {
    const double strain = p.stretch - 1.0;
    if (strain < from || strain > to) continue;
    n += 1.0, x += strain, y += p.stress, xx += strain * strain, xy += strain * p.stress;
  }
  return (n * xy - x * y) / (n * xx - x * x);
}

}  // namespace

TEST_CASE("lab start: 0.4 mm of slack are found and taken off", "[film_lab]") {
  for (const double rate : {0.003, 0.167, 3.0}) {
    const FilmCurve film = pulled(rate);
    const double truth = stress_at(film, 0.03) / 0.03;
    for (const double rounding : {0.0, 5e-4, 1e-3}) {
      for (const double noise : {0.0, 0.005, 0.03}) {
        for (unsigned seed = 1; seed <= 5; ++seed) {
          INFO("rate " << rate << ", rounding " << rounding << ", noise " << noise << ", seed " << seed);
          Measured how;
          how.slack = 0.4 / 50.0;
          how.rounding = rounding;
          how.noise = noise;
          how.seed = seed;
          how.cell_noise = 0.002;
          const LabCurve curve = read(table(film, rate, how));
          REQUIRE(warns(curve, "slack or a toe"));
          REQUIRE(curve.points.size() > 1950);
          CHECK(curve.points.front().stretch == 1.0);
          CHECK(curve.points.front().stress == 0.0);
          CHECK(curve.points.front().time == 0.0);
          // The stretch at the end tells the shift.
          CHECK(curve.points.back().stretch == Approx(3.9 - how.slack).margin(0.002));
          if (noise < 0.01) CHECK(off_in_strain(curve, film) < 0.002);
          CHECK(modulus(curve, 0.0, 0.03) == Approx(modulus(read(table(film, rate, {})), 0.0, 0.03)).epsilon(0.10));
          CHECK(stress_at(curve, 0.03) / 0.03 == Approx(truth).epsilon(0.10 + noise));
        }
      }
    }
  }
}

TEST_CASE("lab start: a curve without slack is left as it is", "[film_lab]") {
  for (const double rate : {0.003, 0.167, 3.0}) {
    const FilmCurve film = pulled(rate);
    for (const int rows : {60, 300, 2000, 20000}) {
      for (const double noise : {0.0, 0.005, 0.03}) {
        for (const double cell : {0.0, 0.01, 0.1}) {
          for (unsigned seed = 1; seed <= 3; ++seed) {
            INFO("rate " << rate << ", rows " << rows << ", noise " << noise << ", cell " << cell << ", seed " << seed);
            Measured how;
            how.rows = rows;
            how.noise = noise;
            how.cell_noise = cell;
            how.seed = seed;
            const LabCurve curve = read(table(film, rate, how, "# machine compliance: 0 um/N\n"));
            CHECK(curve.warnings.empty());
            CHECK(curve.points.back().stretch == Approx(3.9).epsilon(1e-12));
          }
        }
      }
    }
  }
}

TEST_CASE("lab start: the tangent of a straight line is that line", "[film_lab]") {
  std::vector<detail::LabRow> rows;
  for (int i = 0; i <= 100; ++i) {
    const double strain = 0.001 * i;
    rows.push_back({strain, 1.0 + strain, 2e8 * std::max(0.0, strain - 0.0105), i + 1});
  }
  const auto tangent = detail::start_tangent(rows);
  REQUIRE(tangent);
  CHECK(tangent->strain == Approx(0.0105).epsilon(1e-9));
  CHECK(tangent->slope == Approx(2e8).epsilon(1e-9));
  CHECK(tangent->error < 1e-9);
  rows.resize(3);
  CHECK_FALSE(detail::start_tangent(rows));
  CHECK_FALSE(detail::start_tangent({}));
}

TEST_CASE("lab start: the give of the machine is taken off the travel", "[film_lab]") {
  const FilmCurve film = pulled(0.167);
  const Measured still;
  Measured gives;
  gives.compliance = 40e-6;  // of a soft frame, a tenth of the strip's own
  const LabCurve truth = read(table(film, 0.167, still, "# machine compliance: 0 um/N\n"));
  const LabCurve taken = read(table(film, 0.167, gives, "# machine compliance: 40 um/N\n"));
  const LabCurve left = read(table(film, 0.167, gives));
  CHECK(truth.warnings.empty());
  CHECK(taken.warnings.empty());
  REQUIRE(taken.points.size() == truth.points.size());
  for (std::size_t i = 0; i < truth.points.size(); ++i)
    CHECK(taken.points[i].stretch == Approx(truth.points[i].stretch).epsilon(1e-12));
  CHECK(modulus(left, 0.0, 0.02) < 0.95 * modulus(truth, 0.0, 0.02));
  CHECK(warns(left, "too low by an unknown amount"));
  // Where the table gives the stretch there is no travel to correct.
  const LabCurve stretch = read(
      "# machine compliance: 2 um/N\n# temperature: 23 degC\nstretch_percent,stress_MPa,time_s\n0,0,0\n10,8,1\n"
      "20,8.1,2\n30,8.2,3\n40,8.3,4\n50,8.4,5\n60,8.5,6\n70,8.6,7\n80,8.7,8\n");
  CHECK(warns(stretch, "machine compliance not used"));
}

TEST_CASE("lab start: more give than travel is refused", "[film_lab]") {
  const FilmCurve film = pulled(0.167);
  CHECK_THROWS_WITH(read(table(film, 0.167, {}, "# machine compliance: 2 mm/N\n")),
                    Catch::Matchers::Contains("folds the curve back"));
  CHECK_THROWS_WITH(read(table(film, 0.167, {}, "# machine compliance: -2 um/N\n")),
                    Catch::Matchers::Contains("out of bounds; expected 0 um/N"));
}

TEST_CASE("lab start: a spike is no slip, and a slip stays", "[film_lab]") {
  const FilmCurve film = pulled(0.167);
  const std::string rigid = "# machine compliance: 0 um/N\n";
  for (const double spike : {0.1, 3.0})
    for (const int length : {1, 2}) {
      INFO("times " << spike << ", rows " << length);
      const LabCurve curve = read(table(film, 0.167, {}, rigid, [&](int i, double force) {
        return i >= 700 && i < 700 + length ? spike * force : force;
      }));
      CHECK(curve.rows_read == 2000);
      CHECK(curve.points.size() == 2000u - static_cast<unsigned>(length));
      REQUIRE(curve.warnings.size() == 1);
      CHECK(warns(curve, "with a spike of the force"));
    }
  // It slips by a third of its force and comes up again over 20 rows.
  const LabCurve slip = read(table(film, 0.167, {}, rigid, [](int i, double force) {
    return i >= 700 && i < 720 ? force * (0.65 + 0.35 * (i - 700) / 20.0) : force;
  }));
  CHECK(slip.points.size() == 700);
  CHECK(warns(slip, "taken as a slip in the grips"));
  // It breaks within four rows.
  const LabCurve broken = read(table(film, 0.167, {}, rigid, [](int i, double force) {
    return i < 1500 ? force : force * std::max(0.0, 1.0 - 0.24 * (i - 1499));
  }));
  CHECK(broken.points.size() == 1500);
  REQUIRE(broken.break_stretch);
  CHECK(*broken.break_stretch == Approx(2.9 * 1499 / 1999));
  // Noise about zero while the slack runs out is nothing.
  Measured slack;
  slack.slack = 0.1;
  slack.cell_noise = 0.02;
  const LabCurve late = read(table(film, 0.167, slack, rigid));
  REQUIRE(late.warnings.size() == 1);
  CHECK(late.points.back().stretch == Approx(3.8).margin(0.002));
}

TEST_CASE("lab start: pull written as negative", "[film_lab]") {
  const FilmCurve film = pulled(0.167);
  Measured down;
  down.sign = -1.0;
  down.cell_noise = 0.005;
  const LabCurve curve = read(table(film, 0.167, down, "# machine compliance: 0 um/N\n"));
  REQUIRE(curve.warnings.size() == 1);
  CHECK(warns(curve, "its sign was turned"));
  CHECK(stress_at(curve, 1.0) == Approx(stress_at(film, 1.0)).epsilon(0.01));
  CHECK_THROWS_WITH(read(table(film, 0.167, {}, {}, [](int i, double force) { return i % 2 == 0 ? force : -force; })),
                    Catch::Matchers::Contains("is negative where film is pulled"));
}
