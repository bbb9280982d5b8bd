// SPDX-License-Identifier: BSD-3-Clause
#include "models/load/corner_slip.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace hoopfield {

namespace {

constexpr double greatest_mass_share = 0.5;  // of a face that may leave it in one step of the iteration
constexpr double rounding = 1e-15;           // of the film on a face: a sweep that moves less has moved nothing
constexpr std::size_t sweeps_to_fall_back = 200, sweeps_alone = 200000;

/// The unknowns and what they imply; re-evaluated face by face.
class Chain {
 public:
  Chain(const std::vector<double>& mass, const std::vector<double>& limit, const FaceTension& tension)
      : limit_(limit), tension_(tension), start_(mass), mass_(mass), slip_(limit.size(), 0.0), log_(mass.size()) {
    assert(limit.size() + 1 == mass.size() || mass.empty());
    for (std::size_t f = 0; f < mass.size(); ++f) evaluate(f);
  }

  [[nodiscard]] std::size_t corners() const { return slip_.size(); }
  [[nodiscard]] double jump(std::size_t c) const { return log_[c + 1].value - log_[c].value; }
  [[nodiscard]] double softness(std::size_t f) const { return -log_[f].slope; }
  [[nodiscard]] double limit(std::size_t c) const { return limit_[c]; }
  [[nodiscard]] double slip(std::size_t c) const { return slip_[c]; }

  /// Sets all slips at once, shortened so that no face loses more than a share of its film; returns the share kept.
  double move_to(const std::vector<double>& wanted) {
    double share = 1.0;
    for (std::size_t f = 0; f < mass_.size(); ++f) {
      const double change = new_mass(f, wanted) - mass_[f];
      if (change < -greatest_mass_share * mass_[f]) share = std::min(share, -greatest_mass_share * mass_[f] / change);
    }
    for (std::size_t c = 0; c < corners(); ++c) slip_[c] += share * (wanted[c] - slip_[c]);
    for (std::size_t f = 0; f < mass_.size(); ++f) set_mass(f);
    return share;
  }

  void move_one(std::size_t c, double wanted) {
    slip_[c] = wanted;
    set_mass(c);
    set_mass(c + 1);
  }

  /// Distance from the conditions of the minimum at one corner, in ln T.
  [[nodiscard]] double violation(std::size_t c) const {
    if (slip_[c] == 0.0) return std::max(std::abs(jump(c)) - limit_[c], 0.0);
    return std::abs(jump(c) - std::copysign(limit_[c], slip_[c]));
  }

  [[nodiscard]] double greatest_violation() const {
    double greatest = 0.0;
    for (std::size_t c = 0; c < corners(); ++c) greatest = std::max(greatest, violation(c));
    return greatest;
  }

  [[nodiscard]] double mass(std::size_t f) const { return mass_[f]; }
  [[nodiscard]] CornerSlip result(std::size_t iterations) const { return {slip_, mass_, iterations}; }

 private:
  [[nodiscard]] double new_mass(std::size_t f, const std::vector<double>& slip) const {
    return start_[f] + (f > 0 ? slip[f - 1] : 0.0) - (f < slip.size() ? slip[f] : 0.0);
  }
  void set_mass(std::size_t f) {
    const double m = new_mass(f, slip_);
    if (m == mass_[f]) return;
    mass_[f] = m;
    evaluate(f);
  }
  void evaluate(std::size_t f) {
    log_[f] = tension_(f, mass_[f]);
    if (!std::isfinite(log_[f].value) || !(log_[f].slope < 0.0)) {
      throw SolverError("corner slip: the tension of a face does not fall with the film on it");
    }
  }

  const std::vector<double>& limit_;
  const FaceTension& tension_;
  std::vector<double> start_, mass_, slip_;
  std::vector<LogTension> log_;
};

/// Newton step of all sliding corners together (tridiagonal), others held. `sign` 0 = stuck.
std::vector<double> newton_target(const Chain& chain, const std::vector<int>& sign) {
  const std::size_t n = chain.corners();
  std::vector<double> upper(n, 0.0), right(n, 0.0), wanted(n, 0.0);
  for (std::size_t c = 0; c < n; ++c) {  // forward elimination; stuck corners decouple their neighbours
    if (sign[c] == 0) continue;
    const double low = c > 0 && sign[c - 1] != 0 ? -chain.softness(c) : 0.0;
    const double high = c + 1 < n && sign[c + 1] != 0 ? -chain.softness(c + 1) : 0.0;
    const double pivot = chain.softness(c) + chain.softness(c + 1) - (low != 0.0 ? low * upper[c - 1] : 0.0);
    const double load = chain.jump(c) - sign[c] * chain.limit(c);
    right[c] = (load - (low != 0.0 ? low * right[c - 1] : 0.0)) / pivot;
    upper[c] = high / pivot;
  }
  for (std::size_t i = n; i-- > 0;) {
    if (sign[i] == 0) continue;
    if (i + 1 < n && sign[i + 1] != 0) right[i] -= upper[i] * right[i + 1];
  }
  for (std::size_t c = 0; c < n; ++c) {
    wanted[c] = chain.slip(c) + (sign[c] != 0 ? right[c] : 0.0);
    if (wanted[c] * sign[c] < 0.0) wanted[c] = 0.0;  // would slip against its own friction: stick
  }
  return wanted;
}

/// Minimum along one corner's slip, by bracketing and a safeguarded Newton iteration. The jump falls as the slip grows.
void best_slip(Chain& chain, std::size_t c, double tolerance) {
  double slip = chain.slip(c);
  double low = slip - chain.mass(c + 1);  // either face would be bare there
  double high = slip + chain.mass(c);
  const double bare = 1e-9 * (high - low);  // with no slip here a face would hold next to nothing: not a candidate
  double goal = low > -bare ? chain.limit(c) : -chain.limit(c);
  if (low < -bare && high > bare) {
    if (slip != 0.0) chain.move_one(c, slip = 0.0);
    const double jump = chain.jump(c);
    if (std::abs(jump) <= chain.limit(c)) return;
    goal = std::copysign(chain.limit(c), jump);
    (jump > 0.0 ? low : high) = 0.0;
  }
  for (int i = 0; i < 200; ++i) {
    const double rest = chain.jump(c) - goal;
    if (std::abs(rest) <= 0.1 * tolerance) break;
    (rest > 0.0 ? low : high) = slip;
    double next = slip + rest / (chain.softness(c) + chain.softness(c + 1));
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (next == slip) break;
    chain.move_one(c, slip = next);
  }
}

void sweep_once(Chain& chain, bool backwards, double tolerance) {
  const std::size_t n = chain.corners();
  for (std::size_t k = 0; k < n; ++k) {
    const std::size_t c = backwards ? n - 1 - k : k;
    if (chain.violation(c) > 0.0) best_slip(chain, c, tolerance);
  }
}

/// Sweeps until the conditions are met, or until a sweep moves nothing any more: a tension that jumps a little as the
/// film on its face changes (a step of the film law cut into another number of pieces) has its minimum at the jump.
CornerSlip sweep(Chain& chain, bool backwards, double tolerance, std::size_t done, std::size_t most) {
  for (std::size_t i = 0; i < most; ++i) {
    if (chain.greatest_violation() <= tolerance) return chain.result(done + i);
    const CornerSlip before = chain.result(0);
    sweep_once(chain, backwards, tolerance);
    double moved = 0.0;
    for (std::size_t c = 0; c < chain.corners(); ++c)
      moved = std::max(moved, std::abs(chain.slip(c) - before.slip[c]) / before.mass[c]);
    if (moved <= rounding) return chain.result(done + i + 1);
  }
  throw SolverError("corner slip: no minimum found", "check the friction and the stiffness of the film");
}

std::vector<int> slip_signs(const Chain& chain) {
  std::vector<int> sign(chain.corners(), 0);
  for (std::size_t c = 0; c < sign.size(); ++c) {
    const double jump = chain.jump(c);
    if (chain.slip(c) != 0.0) {
      sign[c] = chain.slip(c) > 0.0 ? 1 : -1;
    } else if (std::abs(jump) > chain.limit(c)) {
      sign[c] = jump > 0.0 ? 1 : -1;
    }
  }
  return sign;
}

/// Newton step of the sliding corners, shortened until the objective still falls (or nearly) at its end. False when the
/// step does not lead downhill.
bool newton_step(Chain& chain) {
  const std::vector<int> sign = slip_signs(chain);
  const std::vector<double> target = newton_target(chain, sign);
  std::vector<double> from(chain.corners()), to(chain.corners());
  for (std::size_t c = 0; c < from.size(); ++c) from[c] = chain.slip(c);
  const auto slope = [&] {
    double sum = 0.0;
    for (std::size_t c = 0; c < from.size(); ++c)
      sum += (target[c] - from[c]) * (sign[c] * (sign[c] != 0 ? chain.limit(c) : 0.0) - chain.jump(c));
    return sum;
  };
  const double at_start = slope();
  if (!(at_start < 0.0)) return false;
  double share = chain.move_to(target);
  for (int i = 0; i < 20; ++i) {
    const double at_end = slope();
    if (at_end <= -0.1 * at_start) return true;
    share *= std::clamp(at_start / (at_start - at_end), 0.1, 0.9);
    for (std::size_t c = 0; c < from.size(); ++c) to[c] = from[c] + share * (target[c] - from[c]);
    chain.move_to(to);
  }
  return true;
}

}  // namespace

CornerSlip slip_corners_by_sweeps(const std::vector<double>& mass, const std::vector<double>& limit,
                                  const FaceTension& tension, bool backwards, double tolerance) {
  Chain chain(mass, limit, tension);
  return sweep(chain, backwards, tolerance, 0, sweeps_alone);
}

CornerSlip slip_corners(const std::vector<double>& mass, const std::vector<double>& limit, const FaceTension& tension,
                        double tolerance) {
  Chain chain(mass, limit, tension);
  const std::size_t most = 60 + 2 * chain.corners();
  for (std::size_t i = 0; i < most; ++i) {
    if (chain.greatest_violation() <= tolerance) return chain.result(i);
    // A sweep now and then frees a set of sliding corners that would go round in circles.
    if (i % 8 == 7 || !newton_step(chain)) sweep_once(chain, i % 16 == 7, tolerance);
  }
  return sweep(chain, false, tolerance, most, sweeps_to_fall_back);
}

double greatest_excess(const std::vector<double>& log_tension, const std::vector<double>& limit) {
  double greatest = 0.0;
  for (std::size_t c = 0; c < limit.size(); ++c) {
    greatest = std::max(greatest, std::abs(log_tension[c + 1] - log_tension[c]) - limit[c]);
  }
  return greatest;
}

}  // namespace hoopfield
