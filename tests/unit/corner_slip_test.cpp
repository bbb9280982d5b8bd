// SPDX-License-Identifier: BSD-3-Clause
// Capstan ratios: Euler-Eytelwein, exp(mu beta); numbers recomputed here.
#include "models/load/corner_slip.hpp"
#include "models/error.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <random>

using namespace hoopfield;

namespace {

constexpr double right_angle = 0.5 * std::numbers::pi;
constexpr double stuck = std::numeric_limits<double>::infinity();

/// Film whose tension grows as (length/m)^k: any k > 0, never slack.
struct Film {
  std::vector<double> length, scale, power;
  LogTension operator()(std::size_t f, double m) const {
    return {std::log(scale[f]) + power[f] * std::log(length[f] / m), -power[f] / m};
  }
  [[nodiscard]] std::vector<double> logs(const std::vector<double>& m) const {
    std::vector<double> out;
    for (std::size_t f = 0; f < m.size(); ++f) out.push_back((*this)(f, m[f]).value);
    return out;
  }
};

struct Case {
  Film film;
  std::vector<double> mass, limit;
};

Case random_case(std::mt19937& random, std::size_t faces) {
  std::uniform_real_distribution<double> u(0.0, 1.0);
  Case c;
  for (std::size_t f = 0; f < faces; ++f) {
    c.film.length.push_back(0.4 + u(random));
    c.film.scale.push_back(50.0 * std::exp(1.5 * (u(random) - 0.5)));
    c.film.power.push_back(2.0 + 20.0 * u(random));
    c.mass.push_back(c.film.length.back() / (1.0 + u(random)));
    if (f > 0) c.limit.push_back(u(random) < 0.1 ? 0.0 : (u(random) < 0.1 ? stuck : u(random)));
  }
  return c;
}

void check_minimum(const Case& c, const CornerSlip& r) {
  const auto logs = c.film.logs(r.mass);
  CHECK(greatest_excess(logs, c.limit) < 1e-11);
  for (std::size_t k = 0; k < r.slip.size(); ++k) {
    if (r.slip[k] == 0.0) continue;
    CHECK(logs[k + 1] - logs[k] == Approx(std::copysign(c.limit[k], r.slip[k])).margin(1e-11));
  }
  CHECK(std::accumulate(r.mass.begin(), r.mass.end(), 0.0) ==
        Approx(std::accumulate(c.mass.begin(), c.mass.end(), 0.0)).epsilon(1e-14));
}

}  // namespace

TEST_CASE("a tight span pulls film over one corner until the capstan ratio is left", "[corner_slip]") {
  const double mu = 0.3;
  const Film film{{1.0, 1.0}, {10.0, 40.0}, {12.0, 12.0}};
  const CornerSlip r = slip_corners({1.0, 1.0}, {mu * right_angle}, film);
  const auto logs = film.logs(r.mass);
  CHECK(std::exp(logs[1] - logs[0]) == Approx(1.60198).margin(6e-6));
  CHECK(r.slip[0] > 0.0);
  CHECK(r.mass[0] + r.mass[1] == Approx(2.0).epsilon(1e-15));
}

TEST_CASE("film dragged over four corners keeps exp(4 mu beta)", "[corner_slip]") {
  const double mu = 0.3;
  const std::vector<double> limit(4, mu * right_angle);
  const Film film{{1, 1, 1, 1, 1}, {1.0, 1.0, 1.0, 1.0, 1e4}, {12, 12, 12, 12, 12}};
  const CornerSlip r = slip_corners({1, 1, 1, 1, 1}, limit, film);
  const auto logs = film.logs(r.mass);
  CHECK(std::exp(logs[4] - logs[0]) == Approx(6.58606).margin(6e-6));
}

TEST_CASE("the minimum meets its conditions and does not depend on the order of corners", "[corner_slip]") {
  std::mt19937 random(20240917);
  std::size_t slipped = 0;
  for (int i = 0; i < 300; ++i) {
    const Case c = random_case(random, 2 + static_cast<std::size_t>(i % 14));
    const CornerSlip r = slip_corners(c.mass, c.limit, c.film);
    check_minimum(c, r);
    const CornerSlip forwards = slip_corners_by_sweeps(c.mass, c.limit, c.film, false);
    const CornerSlip backwards = slip_corners_by_sweeps(c.mass, c.limit, c.film, true);
    for (std::size_t f = 0; f < c.mass.size(); ++f) {
      CHECK(r.mass[f] == Approx(forwards.mass[f]).epsilon(1e-9));
      CHECK(forwards.mass[f] == Approx(backwards.mass[f]).epsilon(1e-9));
    }
    for (const double s : r.slip) slipped += s != 0.0 ? 1 : 0;
    // At a minimum nothing moves any more, and the chain read from its other end slips the same way.
    const CornerSlip again = slip_corners(r.mass, c.limit, c.film, 1e-10);
    for (const double s : again.slip) CHECK(s == 0.0);
    Case mirrored = c;
    for (auto* v : {&mirrored.mass, &mirrored.limit, &mirrored.film.length, &mirrored.film.scale, &mirrored.film.power})
      std::reverse(v->begin(), v->end());
    const CornerSlip m = slip_corners(mirrored.mass, mirrored.limit, mirrored.film);
    for (std::size_t f = 0; f < c.mass.size(); ++f)
      CHECK(m.mass[c.mass.size() - 1 - f] == Approx(r.mass[f]).epsilon(1e-10));
  }
  CHECK(slipped > 300);
}

TEST_CASE("long chains with wild tensions settle without falling back on sweeps", "[corner_slip]") {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> u(0.0, 1.0);
  for (int i = 0; i < 200; ++i) {
    Case c = random_case(random, 2 + static_cast<std::size_t>(i % 60));
    for (double& s : c.film.scale) s *= std::exp(3.0 * (u(random) - 0.5));
    const CornerSlip r = slip_corners(c.mass, c.limit, c.film);
    check_minimum(c, r);
    CHECK(r.iterations < 60 + 2 * c.limit.size());
  }
}

TEST_CASE("ratios never leave the limits over a random history of increments", "[corner_slip]") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> u(0.0, 1.0);
  for (int history = 0; history < 20; ++history) {
    Case c = random_case(random, 9);
    for (int i = 0; i < 50; ++i) {
      for (double& s : c.film.scale) s *= std::exp(0.4 * (u(random) - 0.5));
      const CornerSlip r = slip_corners(c.mass, c.limit, c.film);
      check_minimum(c, r);
      c.mass = r.mass;
    }
  }
}

TEST_CASE("frictionless and stuck corners are exact limits", "[corner_slip]") {
  std::mt19937 random(3);
  Case c = random_case(random, 12);
  std::fill(c.limit.begin(), c.limit.end(), stuck);
  CHECK(slip_corners(c.mass, c.limit, c.film).mass == c.mass);
  std::fill(c.limit.begin(), c.limit.end(), 0.0);
  const auto logs = c.film.logs(slip_corners(c.mass, c.limit, c.film).mass);
  for (const double v : logs) CHECK(v == Approx(logs[0]).margin(2e-11));
}

TEST_CASE("one after another is not the same: sequential slipping misses the minimum", "[corner_slip]") {
  // Pairs relaxed once each, in order, end away from the minimum that all corners share.
  const Film film{{1, 1, 1, 1}, {10, 20, 45, 90}, {12, 12, 12, 12}};
  const std::vector<double> limit(3, 0.2 * right_angle);
  const CornerSlip all = slip_corners({1, 1, 1, 1}, limit, film);
  std::vector<double> mass = {1, 1, 1, 1};
  for (std::size_t c = 0; c < 3; ++c) {
    const auto part = [&](std::size_t f, double m) { return film(c + f, m); };
    const CornerSlip r = slip_corners({mass[c], mass[c + 1]}, {limit[c]}, part);
    mass[c] = r.mass[0];
    mass[c + 1] = r.mass[1];
  }
  double greatest = 0.0;
  for (std::size_t f = 0; f < 4; ++f)
    greatest = std::max(greatest, std::abs(film(f, mass[f]).value - film(f, all.mass[f]).value));
  CHECK(greatest > 0.02);
}

TEST_CASE("film whose tension does not fall with its length is refused", "[corner_slip]") {
  const FaceTension flat = [](std::size_t, double) { return LogTension{1.0, 0.0}; };
  CHECK_THROWS_AS(slip_corners({1.0, 1.0}, {0.1}, flat), SolverError);
  CHECK_THROWS_AS(slip_corners({1.0, 1.0}, {0.1},
                               [](std::size_t, double) {
                                 return LogTension{std::nan(""), -1.0};
                               }),
                  SolverError);
}
