// SPDX-License-Identifier: BSD-3-Clause
#include "models/load/layer_slip.hpp"

#include "models/error.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace hoopfield {
namespace {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;
using Index = Eigen::Index;

constexpr double tolerance = 1e-12;               // of the sum A + B of an interface
constexpr int most_rounds = 2000, patience = 50;  // of the sweeps that solve_layer_slip() falls back on

/// The interfaces that can slip at all, and how their forces answer to slip: differences B - A and sums A + B of the
/// tensions on both sides, linear in the slips, each row over its own A + B at the start: the outermost film may cover
/// a millionth of the height.
struct Linear {
  std::vector<std::size_t> crossing;  // of each unknown
  Vector share;                       // tanh(mu beta/2)
  Vector slip;                        // where difference and sum were taken
  Vector difference, sum;
  Vector slack;                        // difference that is let be
  Matrix difference_slope, sum_slope;  // by slip

  [[nodiscard]] Index size() const { return slip.size(); }
  [[nodiscard]] double difference_at(Index j, const Vector& s) const {
    return difference[j] + difference_slope.row(j).dot(s - slip);
  }
  [[nodiscard]] double friction_at(Index j, const Vector& s) const {
    return share[j] * std::max(sum[j] + sum_slope.row(j).dot(s - slip), 0.0);
  }
};

/// Columns per unknown: weights with which a piece stands before (-) and behind (+) the corner, outside the interface.
void outside_weights(const LayerSlip& p, const std::vector<std::size_t>& unknowns, Matrix& net, Matrix& both) {
  const auto n = static_cast<Index>(p.pieces.size());
  net = both = Matrix::Zero(n, static_cast<Index>(unknowns.size()));
  for (std::size_t j = 0; j < unknowns.size(); ++j) {
    for (std::size_t k = unknowns[j]; k < p.crossings.size(); ++k) {
      const Crossing& c = p.crossings[k];
      if (c.corner != p.crossings[unknowns[j]].corner) continue;
      const auto column = static_cast<Index>(j);
      net(static_cast<Index>(c.from), column) -= c.weight;
      net(static_cast<Index>(c.to), column) += c.weight;
      both(static_cast<Index>(c.from), column) += c.weight;
      both(static_cast<Index>(c.to), column) += c.weight;
    }
  }
}

/// d stress / d slip: film that comes in slackens its own piece; the sums of all strands move the load, the load the
/// paths: `dS + diag(slope sums) give dS = direct change`.
Matrix stress_slopes(const LayerSlip& p, const Matrix& net) {
  Matrix slope = net;
  Eigen::Matrix2d give;
  give << p.give[0][0], p.give[0][1], p.give[1][0], p.give[1][1];
  Eigen::Vector2d stiffness = Eigen::Vector2d::Zero();
  Eigen::Matrix2Xd direct = Eigen::Matrix2Xd::Zero(2, net.cols());
  for (std::size_t i = 0; i < p.pieces.size(); ++i) {
    const StrandPiece& piece = p.pieces[i];
    const auto row = static_cast<Index>(i);
    slope.row(row) *= -piece.slope / (piece.weight * piece.mass);
    const auto d = static_cast<Index>(piece.direction);
    direct.row(d) += piece.weight * slope.row(row);
    stiffness[d] += piece.weight * piece.slope;
  }
  const Eigen::Matrix2d system = Eigen::Matrix2d::Identity() + stiffness.asDiagonal() * give;
  const Eigen::Matrix2Xd path = -give * system.inverse() * direct;
  for (std::size_t i = 0; i < p.pieces.size(); ++i)
    slope.row(static_cast<Index>(i)) += p.pieces[i].slope * path.row(static_cast<Index>(p.pieces[i].direction));
  return slope;
}

Linear linearised(const LayerSlip& p, const std::vector<double>& slip) {
  assert(slip.size() == p.crossings.size());
  Linear out;
  for (std::size_t k = 0; k < p.crossings.size(); ++k)
    if (std::isfinite(p.crossings[k].limit)) out.crossing.push_back(k);
  if (out.crossing.empty()) return out;
  const auto n = static_cast<Index>(out.crossing.size());
  out.share.resize(n);
  out.slip.resize(n);
  for (Index j = 0; j < n; ++j) {
    const std::size_t k = out.crossing[static_cast<std::size_t>(j)];
    out.share[j] = std::tanh(0.5 * p.crossings[k].limit);
    out.slip[j] = slip[k];
  }
  Matrix net, both;
  outside_weights(p, out.crossing, net, both);
  Vector stress(static_cast<Index>(p.pieces.size()));
  for (std::size_t i = 0; i < p.pieces.size(); ++i) stress[static_cast<Index>(i)] = p.pieces[i].stress;
  out.difference = net.transpose() * stress;
  out.sum = both.transpose() * stress;
  const Matrix slope = stress_slopes(p, net);
  out.difference_slope = net.transpose() * slope;
  out.sum_slope = both.transpose() * slope;
  out.slack = Vector::Constant(n, p.slack);
  for (Index j = 0; j < n; ++j) {
    const double scale = out.sum[j];
    if (!(scale > 0.0)) continue;  // all slack there
    out.slack[j] /= scale;
    for (Vector* v : {&out.difference, &out.sum}) (*v)[j] /= scale;
    for (Matrix* v : {&out.difference_slope, &out.sum_slope}) v->row(j) /= scale;
  }
  return out;
}

std::vector<double> all_slips(const Linear& m, const Vector& s, const std::vector<double>& before) {
  std::vector<double> out = before;
  for (Index j = 0; j < m.size(); ++j) out[m.crossing[static_cast<std::size_t>(j)]] = s[j];
  return out;
}

/// Distance of one interface from its condition.
double distance(const Linear& m, Index j, const Vector& s) {
  const double difference = m.difference_at(j, s), friction = m.friction_at(j, s);
  const double rest =
      s[j] == 0.0 ? std::abs(difference) - friction : std::abs(difference - std::copysign(friction, s[j]));
  return std::max(rest - m.slack[j], 0.0);
}

double greatest_distance(const Linear& m, const Vector& s) {
  double greatest = 0.0;
  for (Index j = 0; j < m.size(); ++j) {
    const double here = distance(m, j, s);
    if (std::isnan(here)) return here;
    greatest = std::max(greatest, here);
  }
  return greatest;
}

bool holds(const Linear& m, const Vector& s) { return greatest_distance(m, s) <= tolerance; }

/// Slips of the interfaces with a sign, each at its limit; the others do not slip.
Vector slide(const Linear& m, const std::vector<int>& sign) {
  std::vector<Index> active;
  for (Index j = 0; j < m.size(); ++j)
    if (sign[static_cast<std::size_t>(j)] != 0) active.push_back(j);
  const auto n = static_cast<Index>(active.size());
  Matrix system(n, n);
  Vector right(n);
  for (Index r = 0; r < n; ++r) {
    const Index j = active[static_cast<std::size_t>(r)];
    const double friction = sign[static_cast<std::size_t>(j)] * m.share[j];
    const auto slope = (m.difference_slope.row(j) - friction * m.sum_slope.row(j)).eval();
    right[r] = slope.dot(m.slip) - (m.difference[j] - friction * m.sum[j]);
    for (Index c = 0; c < n; ++c) system(r, c) = slope[active[static_cast<std::size_t>(c)]];
  }
  Vector slip = Vector::Zero(m.size());
  if (n == 0) return slip;
  const Vector found = system.partialPivLu().solve(right);
  for (Index r = 0; r < n; ++r) slip[active[static_cast<std::size_t>(r)]] = found[r];
  return slip;
}

/// Which interfaces slip, found by trial: those that would slip against their friction stick, those beyond their limit
/// slip. False when that goes round in circles.
bool find_sliding(const Linear& m, Vector& slip, double& products) {
  std::vector<int> sign(static_cast<std::size_t>(m.size()), 0);
  const auto way = [](double v) { return v > 0.0 ? 1 : v < 0.0 ? -1 : 0; };
  for (Index j = 0; j < m.size(); ++j) {
    int& s = sign[static_cast<std::size_t>(j)];
    s = way(m.slip[j]);
    if (s == 0 && std::abs(m.difference[j]) > m.share[j] * m.sum[j] + m.slack[j]) s = way(m.difference[j]);
  }
  for (Index round = 0; round < 30 + 2 * m.size(); ++round) {
    const Vector trial = slide(m, sign);
    const auto size = static_cast<double>(m.size());
    products += size * size * (size / 3.0 + 4.0);
    if (!trial.allFinite()) return false;
    bool changed = false;
    for (Index j = 0; j < m.size(); ++j) {
      int& s = sign[static_cast<std::size_t>(j)];
      if (s != 0) {
        if (s * trial[j] >= 0.0) continue;
        s = 0;
      } else {
        const double difference = m.difference_at(j, trial);
        if (std::abs(difference) <= m.friction_at(j, trial) + m.slack[j] + tolerance) continue;
        s = way(difference);
      }
      changed = true;
    }
    if (changed) continue;
    slip = trial;
    return holds(m, slip);
  }
  return false;
}

/// Best slip of one interface with all others held.
double best_slip(const Linear& m, Index j, Vector& s) {
  s[j] = 0.0;
  const double difference = m.difference_at(j, s);
  if (std::abs(difference) <= m.friction_at(j, s) + m.slack[j]) return 0.0;
  const double friction = std::copysign(m.share[j], difference);
  const double sum = m.sum[j] + m.sum_slope.row(j).dot(s - m.slip);
  return -(difference - friction * sum) / (m.difference_slope(j, j) - friction * m.sum_slope(j, j));
}

/// False when the conditions do not hold after so many rounds, or in so many have not come closer by half.
bool sweep(const Linear& m, Vector& slip, bool backwards, int rounds, int to_wait, double& products) {
  double to_halve = std::numeric_limits<double>::infinity();
  for (int round = 0, halved = 0; round < rounds && round - halved <= to_wait; ++round) {
    const double distance = greatest_distance(m, slip);
    if (distance <= tolerance) return true;
    if (distance <= to_halve) {
      to_halve = 0.5 * distance;
      halved = round;
    }
    products += 5.0 * static_cast<double>(m.size() * m.size());
    for (Index i = 0; i < m.size(); ++i) {
      const Index j = backwards ? m.size() - 1 - i : i;
      slip[j] = best_slip(m, j, slip);
    }
  }
  return false;
}

}  // namespace

std::vector<double> solve_layer_slip(const LayerSlip& problem, const std::vector<double>& slip, double* products) {
  const Linear m = linearised(problem, slip);
  if (m.size() == 0) return slip;
  const auto unknowns = static_cast<double>(m.size()), pieces = static_cast<double>(problem.pieces.size());
  double work = 2.0 * unknowns * unknowns * pieces;  // of the tangent
  Vector found = m.slip;
  const bool slides = find_sliding(m, found, work);
  if (!slides) {
    found = m.slip;
    (void)sweep(m, found, false, most_rounds, patience, work);
  }
  if (products != nullptr) *products += work;
  if (!slides && !found.allFinite()) return slip;
  return all_slips(m, found, slip);
}

std::vector<double> sweep_layer_slip(const LayerSlip& problem, const std::vector<double>& slip, bool backwards) {
  const Linear m = linearised(problem, slip);
  if (m.size() == 0) return slip;
  Vector found = m.slip;
  double work = 0.0;
  if (!sweep(m, found, backwards, 100000, 100000, work))
    throw SolverError("corner slip: the layers at a corner do not settle",
                      "check friction.film_on_load and friction.film_on_film");
  return all_slips(m, found, slip);
}

std::vector<double> crossing_lengths(const LayerSlip& problem, const std::vector<double>& slip) {
  std::vector<double> length(slip.size(), 0.0);
  for (std::size_t k = 0; k < slip.size(); ++k)
    for (std::size_t j = 0; j <= k; ++j)
      if (problem.crossings[j].corner == problem.crossings[k].corner) length[k] += slip[j];
  return length;
}

double layer_slip_violation(const LayerSlip& problem, const std::vector<double>& slip) {
  double greatest = 0.0;
  for (std::size_t j = 0; j < problem.crossings.size(); ++j) {
    const double limit = problem.crossings[j].limit;
    if (!std::isfinite(limit)) continue;
    double before = 0.0, behind = 0.0;
    for (std::size_t k = j; k < problem.crossings.size(); ++k) {
      const Crossing& c = problem.crossings[k];
      if (c.corner != problem.crossings[j].corner) continue;
      before += c.weight * problem.pieces[c.from].stress;
      behind += c.weight * problem.pieces[c.to].stress;
    }
    if (!(before + behind > 0.0)) continue;
    const double share = std::tanh(0.5 * limit);
    const double ratio = (behind - before) / (before + behind);
    const double rest = slip[j] == 0.0 ? std::abs(ratio) - share : std::abs(ratio - std::copysign(share, slip[j]));
    const double beyond = std::max(rest - problem.slack / (before + behind), 0.0);
    greatest = std::max(greatest, 2.0 * beyond / (1.0 - share * share));
  }
  return greatest;
}

}  // namespace hoopfield
