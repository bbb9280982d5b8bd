// SPDX-License-Identifier: BSD-3-Clause
// Layers at corners that share faces, on the tangent of film and load. Capstan ratios: Euler-Eytelwein, exp(mu beta).
#include "models/load/layer_slip.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <random>

using namespace hoopfield;

namespace {

constexpr double stuck = std::numeric_limits<double>::infinity();

LayerSlip two_pieces(double stress_a, double stress_b, double limit) {
  LayerSlip p;
  p.pieces = {{2.0, 0.4, stress_a, 90.0, 0}, {2.0, 0.3, stress_b, 60.0, 1}};
  p.crossings = {{0, 1, 2.0, 0, limit}};
  return p;
}

/// A strand round four corners, some pieces covering only a part of the height.
LayerSlip random_helix(std::mt19937& random, std::size_t pieces) {
  std::uniform_real_distribution<double> u(0.0, 1.0);
  LayerSlip p;
  const double on_load = u(random) < 0.1 ? 0.0 : 0.5 * u(random);
  const double on_film = u(random) < 0.3 ? stuck : 0.5 * u(random);
  for (std::size_t i = 0; i < pieces; ++i)
    p.pieces.push_back({u(random) < 0.2 ? 0.01 + u(random) : 1.0, 0.2 + 0.3 * u(random), 10.0 * (0.2 + u(random)),
                        60.0 + 60.0 * u(random), i % 2});
  for (std::size_t i = 0; i + 1 < pieces; ++i)
    p.crossings.push_back(
        {i, i + 1, std::min(p.pieces[i].weight, p.pieces[i + 1].weight), i % 4, i < 4 ? on_load : on_film});
  if (u(random) < 0.5) p.give = {{{0.002 * u(random), 0.0}, {0.0, 0.002 * u(random)}}};
  return p;
}

/// The problem after the slips, by the rule of the tangent: written out piece by piece, sums by iteration.
LayerSlip moved(LayerSlip p, const std::vector<double>& slip) {
  const std::vector<double> length = crossing_lengths(p, slip);
  std::vector<double> direct(p.pieces.size(), 0.0);
  for (std::size_t k = 0; k < length.size(); ++k) {
    const Crossing& c = p.crossings[k];
    const StrandPiece &a = p.pieces[c.from], &b = p.pieces[c.to];
    direct[c.from] += a.slope * c.weight * length[k] / (a.weight * a.mass);
    direct[c.to] -= b.slope * c.weight * length[k] / (b.weight * b.mass);
  }
  std::array<double, 2> path{};
  std::vector<double> change = direct;
  for (int i = 0; i < 3000; ++i) {
    std::array<double, 2> sum{}, stiffness{};
    for (std::size_t j = 0; j < change.size(); ++j) {
      sum[p.pieces[j].direction] += p.pieces[j].weight * change[j];
      stiffness[p.pieces[j].direction] += p.pieces[j].weight * p.pieces[j].slope;
    }
    for (std::size_t d = 0; d < 2; ++d) {
      const double wanted = -(p.give[d][0] * sum[0] + p.give[d][1] * sum[1]);
      path[d] += (wanted - path[d]) / (1.0 + p.give[d][d] * stiffness[d]);
    }
    for (std::size_t j = 0; j < change.size(); ++j)
      change[j] = direct[j] + p.pieces[j].slope * path[p.pieces[j].direction];
  }
  for (std::size_t j = 0; j < change.size(); ++j) p.pieces[j].stress += change[j];
  return p;
}

/// Potential of the film, `dPhi = - sum weight stress dm` with stress linear in m, and work against friction forces.
double potential(const LayerSlip& start, const std::vector<double>& friction, const std::vector<double>& slip) {
  const std::vector<double> length = crossing_lengths(start, slip);
  std::vector<double> mass(start.pieces.size(), 0.0);
  for (std::size_t k = 0; k < length.size(); ++k) {
    const Crossing& c = start.crossings[k];
    mass[c.from] -= c.weight * length[k] / start.pieces[c.from].weight;
    mass[c.to] += c.weight * length[k] / start.pieces[c.to].weight;
  }
  double sum = 0.0;
  for (std::size_t i = 0; i < mass.size(); ++i) {
    const StrandPiece& piece = start.pieces[i];
    sum += piece.weight * (-piece.stress * mass[i] + 0.5 * piece.slope / piece.mass * mass[i] * mass[i]);
  }
  for (std::size_t j = 0; j < slip.size(); ++j)
    if (slip[j] != 0.0) sum += friction[j] * std::abs(slip[j]);
  return sum;
}

}  // namespace

TEST_CASE("two pieces slip by (P_b - r P_a)/(k_b + r k_a)", "[layer_slip]") {
  const double limit = 0.3, r = std::exp(limit);
  const double k_a = 90.0 / 0.4, k_b = 60.0 / 0.3;
  const LayerSlip p = two_pieces(10.0, 20.0, limit);
  const double slip = solve_layer_slip(p, {0.0})[0];
  CHECK(slip == Approx((20.0 - r * 10.0) / (k_b + r * k_a)).epsilon(1e-13));
  const LayerSlip other = two_pieces(20.0, 10.0, limit);
  CHECK(solve_layer_slip(other, {0.0})[0] == Approx(-(20.0 - r * 10.0) / (k_a + r * k_b)).epsilon(1e-13));
  CHECK(solve_layer_slip(two_pieces(10.0, 13.0, limit), {0.0})[0] == 0.0);
  CHECK(solve_layer_slip(two_pieces(1.0, 100.0, stuck), {0.0})[0] == 0.0);
  // A load that gives takes part of every change: k/(1 + weight slope give).
  LayerSlip soft = p;
  soft.give = {{{0.004, 0.0}, {0.0, 0.001}}};
  const double soft_a = k_a / (1.0 + 2.0 * 90.0 * 0.004), soft_b = k_b / (1.0 + 2.0 * 60.0 * 0.001);
  CHECK(solve_layer_slip(soft, {0.0})[0] == Approx((20.0 - r * 10.0) / (soft_b + r * soft_a)).epsilon(1e-13));
  // Restarted from its own end it stays there; from an overshoot it comes back, as the slip counts from the start.
  for (const double at : {slip, 1.5 * slip})
    CHECK(solve_layer_slip(moved(p, {at}), {at})[0] == Approx(slip).epsilon(1e-12));
}

TEST_CASE("random helices: limits, minimum, and no order of corners or layers matters", "[layer_slip]") {
  std::mt19937 random(20261);
  std::uniform_real_distribution<double> u(-1.0, 1.0);
  std::size_t slipped = 0, raised = 0;
  for (int i = 0; i < 300; ++i) {
    const LayerSlip p = random_helix(random, 2 + static_cast<std::size_t>(i % 22));
    const std::vector<double> none(p.crossings.size(), 0.0);
    const std::vector<double> slip = solve_layer_slip(p, none);
    const LayerSlip after = moved(p, slip);
    CHECK(layer_slip_violation(after, slip) < 1e-9);
    const std::vector<double> forwards = sweep_layer_slip(p, none, false), backwards = sweep_layer_slip(p, none, true);
    const double scale = 1e-3 + std::abs(*std::max_element(slip.begin(), slip.end(), [](double a, double b) {
                           return std::abs(a) < std::abs(b);
                         }));
    for (std::size_t k = 0; k < slip.size(); ++k) {
      CHECK(forwards[k] == Approx(slip[k]).margin(1e-7 * scale));
      CHECK(backwards[k] == Approx(slip[k]).margin(1e-7 * scale));
      slipped += slip[k] != 0.0 ? 1 : 0;
    }
    if (p.give[0][0] != 0.0) continue;  // the load's own energy is not in this potential
    // The minimum: with the friction forces held, no other slip has a lower potential.
    std::vector<double> friction(slip.size());
    for (std::size_t j = 0; j < slip.size(); ++j)
      for (std::size_t k = j; k < slip.size(); ++k)
        if (p.crossings[k].corner == p.crossings[j].corner)
          friction[j] += std::tanh(0.5 * p.crossings[j].limit) * p.crossings[k].weight *
                         (after.pieces[p.crossings[k].from].stress + after.pieces[p.crossings[k].to].stress);
    const double least = potential(p, friction, slip);
    CHECK(least <= 0.0);
    for (int trial = 0; trial < 20; ++trial) {
      std::vector<double> other = slip;
      for (std::size_t k = 0; k < other.size(); ++k)
        if (std::isfinite(p.crossings[k].limit)) other[k] += 1e-3 * u(random);
      CHECK(potential(p, friction, other) >= least - 1e-9 * std::abs(least));
      raised += potential(p, friction, other) > least ? 1 : 0;
    }
  }
  CHECK(slipped > 500);
  CHECK(raised > 1000);
}

TEST_CASE("layers: frictionless evens all sums out, film stuck to film moves as one", "[layer_slip]") {
  std::mt19937 random(5);
  LayerSlip p = random_helix(random, 14);
  for (Crossing& c : p.crossings) c.limit = 0.0;
  const LayerSlip even = moved(p, solve_layer_slip(p, std::vector<double>(13, 0.0)));
  for (const StrandPiece& piece : even.pieces) CHECK(piece.stress == Approx(even.pieces[0].stress).epsilon(1e-9));
  for (std::size_t k = 4; k < 13; ++k) p.crossings[k].limit = stuck;
  const std::vector<double> slip = solve_layer_slip(p, std::vector<double>(13, 0.0));
  const std::vector<double> length = crossing_lengths(p, slip);
  for (std::size_t k = 4; k < 13; ++k) CHECK(length[k] == length[k % 4]);
  CHECK(layer_slip_violation(moved(p, slip), slip) < 1e-9);
}
