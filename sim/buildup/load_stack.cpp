// SPDX-License-Identifier: BSD-3-Clause
#include "sim/buildup/load_stack.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace hoopfield {
namespace {

using Pair = std::array<double, 2>;
/// ln(1 + x); a few terms of its series for the short moves of nearly every step.
double log_one_plus(double x) {
  if (std::abs(x) > 1e-4) return std::log1p(x);
  return x * (1.0 - x * (0.5 - x * (1.0 / 3.0 - 0.25 * x)));  // the next term is below 2e-17 of it
}

/// Slack film: no stress, the branches recover. One step for the stretch that keeps P = 0 at its end.
FilmState recover_freely(const FilmLaw& law, const FilmState& start, double dt, const WidthMode& mode,
                         double temperature_flow, double temperature_end) {
  if (!(dt > 0.0)) {
    FilmState free = start;
    law.step(free, stretch_at_stress(law, start, 0.0, mode, temperature_end), 0.0, mode, temperature_end,
             temperature_end);
    return free;
  }
  double stretch = start.stretch;
  for (int i = 0; i < 40; ++i) {
    FilmState trial = start;
    const FilmStress end = law.step(trial, stretch, dt, mode, temperature_flow, temperature_end);
    if (std::abs(end.nominal) <= 1e-10 * std::abs(end.slope)) return trial;
    if (!(end.slope > 0.0)) break;
    stretch *= std::exp(std::clamp(-end.nominal / end.slope, -0.1, 0.1));
  }
  FilmState trial = start;
  creep(law, trial, 0.0, dt, mode, temperature_flow);
  return trial;
}

}  // namespace

LoadStack::LoadStack(const StackSetup& setup, const std::vector<std::size_t>& capacity_per_slice)
    : setup_(setup), loops_(stack_loops()), creep_steps_(setup.creep) {
  start_anew(capacity_per_slice);
}

void LoadStack::start_anew(const std::vector<std::size_t>& capacity_per_slice) {
  const std::size_t n = capacity_per_slice.size();
  slices_.resize(n);
  trial_.resize(n);
  stress_.resize(n);
  path_.resize(n);
  for (auto* list : {&unknown_, &base_, &move_, &sum_, &held_, &residual_, &change_, &creep_memory_, &start_closing_})
    list->assign(n, Pair{});
  base_sums_.assign(n, StrandSums{});
  diagonal_.resize(n);
  upper_.resize(n);
  for (std::size_t s = 0; s < n; ++s) make_empty(s, std::max<std::size_t>(capacity_per_slice[s], 1));
  pending_.clear();
  counters = {};
  balance_ = {};
}

/// Everything anew, padding too, so that nothing of an earlier slice is left; memory once taken is kept.
void LoadStack::make_empty(std::size_t s, std::size_t capacity) {
  Slice& slice = slices_[s];
  const std::size_t branches = setup_.law->branch_count();
  slice.film.allocate(capacity, branches);
  trial_[s].allocate(capacity, branches);
  stress_[s].allocate(capacity, branches);
  const std::size_t padded = slice.film.stride;
  for (auto* list : {&slice.weight, &slice.along_width, &slice.nominal}) list->assign(padded, 0.0);
  for (auto* list : {&slice.reference_stretch, &path_[s]}) list->assign(padded, 1.0);
  slice.reference_path.assign(padded, setup_.length);  // padding stays near stretch 1
  slice.face.clear();
  slice.face.reserve(capacity);
  slice.patch.clear();
  slice.patch.reserve(capacity);
  slice.creep.assign(setup_.creep.time.size(), Pair{});
  slice.tension = {};
  slice.closing = slice.drift = slice.sum = {};
}

bool LoadStack::empty() const {
  return std::all_of(slices_.begin(), slices_.end(), [](const Slice& s) { return s.film.size == 0; });
}

void LoadStack::lay(std::size_t slice, std::size_t face, const FilmState& state, double weight, std::size_t patch) {
  pending_.push_back({slice, face, patch, state, weight, 0.0});
}

void LoadStack::stretch_to(std::size_t s, const Pair& closing) {
  const Slice& slice = slices_[s];
  loops_.stretch(slice.strands(), slice.reference_stretch.data(), slice.reference_path.data(),
                 {(setup_.length - closing[0]) * surroundings_.path_factor_end,
                  (setup_.width - closing[1]) * surroundings_.path_factor_end},
                 path_[s].data());
}

void LoadStack::evaluate(std::size_t s) {
  const Slice& slice = slices_[s];
  base_[s] = unknown_[s];
  stretch_to(s, base_[s]);
  setup_.law->step_block(slice.film, trial_[s], path_[s].data(), dt_, setup_.mode, surroundings_.temperature_mid,
                         surroundings_.temperature_end, stress_[s]);
  counters.branch_updates += slice.film.size * setup_.law->branch_count();
  base_sums_[s] = loops_.sums(slice.strands(), stress_[s], path_[s].data());
  for (std::size_t d = 0; d < 2; ++d) base_sums_[s].tension[d] += held_[s][d];
}

void LoadStack::newton_update() {
  // Block tridiagonal elimination; the blocks beside the diagonal are all -C G/dz^2 (none without shear stiffness).
  const std::size_t n = slices_.size();
  const ClosingCompliance& c = setup_.compliance;
  const double g = shear_coupling();
  const std::array<double, 4> side = {-c.length_length * g, -c.length_width * g, -c.length_width * g,
                                      -c.width_width * g};
  const auto times = [](const std::array<double, 4>& a, const std::array<double, 4>& b) {
    return std::array<double, 4>{a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2],
                                 a[2] * b[1] + a[3] * b[3]};
  };
  const auto inverse = [](const std::array<double, 4>& a) {
    const double det = a[0] * a[3] - a[1] * a[2];
    return std::array<double, 4>{a[3] / det, -a[1] / det, -a[2] / det, a[0] / det};
  };
  for (std::size_t i = 0; i < n; ++i) {
    std::array<double, 4> pivot = diagonal_[i];
    Pair right = {-residual_[i][0], -residual_[i][1]};
    if (i > 0 && g > 0.0) {
      const std::array<double, 4> fill = times(side, upper_[i - 1]);
      for (std::size_t j = 0; j < 4; ++j) pivot[j] -= fill[j];
      right[0] -= side[0] * change_[i - 1][0] + side[1] * change_[i - 1][1];
      right[1] -= side[2] * change_[i - 1][0] + side[3] * change_[i - 1][1];
    }
    const std::array<double, 4> inv = inverse(pivot);
    upper_[i] = times(inv, side);
    change_[i] = {inv[0] * right[0] + inv[1] * right[1], inv[2] * right[0] + inv[3] * right[1]};
  }
  if (g > 0.0) {
    for (std::size_t i = n - 1; i-- > 0;) {
      const Pair& next = change_[i + 1];
      change_[i][0] -= upper_[i][0] * next[0] + upper_[i][1] * next[1];
      change_[i][1] -= upper_[i][2] * next[0] + upper_[i][3] * next[1];
    }
  }
}

/// Equilibrium of one slice at `unknown_` on the film's tangent: fills residual, diagonal, move and sum. Returns the
/// greatest residual; `scale` = closing under the greatest of the forces that balance, `rounding` = finest closing
/// there is.
double LoadStack::residual(std::size_t s, double& rounding, double& scale) {
  const ClosingCompliance& c = setup_.compliance;
  const Pair plan = {setup_.length, setup_.width};
  Pair pull{}, load{}, stiffness{};
  for (std::size_t d = 0; d < 2; ++d) {
    const double closed = base_[s][d] - unknown_[s][d];
    move_[s][d] = log_one_plus(closed / (plan[d] - base_[s][d]));
    sum_[s][d] = base_sums_[s].tension[d] + base_sums_[s].slope[d] * move_[s][d];
    stiffness[d] = creep_->gain * base_sums_[s].slope[d] / (plan[d] - unknown_[s][d]);
    if (sum_[s][d] < held_[s][d]) {  // all slack but what is being laid
      sum_[s][d] = held_[s][d];
      stiffness[d] = 0.0;
    }
    pull[d] = sum_[s][d] * creep_->gain + creep_memory_[s][d];
  }
  load = pull;  // minus the shear force passed to the neighbours
  const double shear = add_shear(s, load);
  residual_[s] = {unknown_[s][0] - c.length_length * load[0] - c.length_width * load[1],
                  unknown_[s][1] - c.length_width * load[0] - c.width_width * load[1]};
  const double k0 = stiffness[0] + shear, k1 = stiffness[1] + shear;
  diagonal_[s] = {1.0 + c.length_length * k0, c.length_width * k1, c.length_width * k0, 1.0 + c.width_width * k1};
  // A stretch is known to the rounding of 1, so a film tension to that times its stiffness: no closing can be found
  // more finely than the compliance times this.
  rounding = std::max(
      {rounding, 1e-15 * setup_.length * (diagonal_[s][0] - 1.0), 1e-15 * setup_.width * (diagonal_[s][3] - 1.0)});
  scale = std::max({scale, c.length_length * (std::abs(pull[0]) + shear * std::abs(unknown_[s][0])),
                    c.width_width * (std::abs(pull[1]) + shear * std::abs(unknown_[s][1]))});
  const double sum = residual_[s][0] + residual_[s][1];  // no number where either is none
  return std::isfinite(sum) ? std::max(std::abs(residual_[s][0]), std::abs(residual_[s][1]))
                            : std::numeric_limits<double>::infinity();
}

/// Shear force from the neighbouring slices, added to `load`; returns its stiffness against the slice's own closing,
/// N/m.
double LoadStack::add_shear(std::size_t s, Pair& load) const {
  const std::size_t n = slices_.size();
  const double g = shear_coupling();
  if (!(g > 0.0)) return 0.0;
  double stiffness = 0.0;
  for (const std::size_t other : {s - 1, s + 1}) {
    if (other >= n) continue;  // s - 1 wraps round below the first
    for (std::size_t d = 0; d < 2; ++d) load[d] += g * (unknown_[other][d] - unknown_[s][d]);
    stiffness += g;
  }
  return stiffness;
}

/// Newton on the film's tangent, whose only curve is the logarithm.
bool LoadStack::balance() {
  for (int iteration = 0; iteration < 40; ++iteration) {
    double worst = 0.0, scale = 1e-300, rounding = 0.0;
    for (std::size_t s = 0; s < slices_.size(); ++s) worst = std::max(worst, residual(s, rounding, scale));
    if (!std::isfinite(worst)) return false;
    if (worst <= 1e-10 * scale + rounding) {
      balance_ = {std::max(balance_.residual, worst), std::max(balance_.closing, scale)};
      return true;
    }
    newton_update();
    for (std::size_t s = 0; s < slices_.size(); ++s) {
      unknown_[s][0] += std::clamp(change_[s][0], -0.05 * setup_.length, 0.05 * setup_.length);
      unknown_[s][1] += std::clamp(change_[s][1], -0.05 * setup_.width, 0.05 * setup_.width);
    }
  }
  return false;
}

/// True when the tangent holds to a hundredth of the tolerance: short moves, and no film that turns slack or taut on
/// the way (but for the last digits). The slope of a step is that of the leading terms, good to about a hundredth of
/// the stiffness. In a jump `P = s/l` bends by about its slope, and what is missed there is not carried on: stretch and
/// strains are exact.
bool LoadStack::within_tangent() const {
  constexpr double last_digits = 1e-10;
  const double allowed = (dt_ > 0.0 ? 0.01 : 0.05) * setup_.tolerance;
  const double curvature = dt_ > 0.0 ? setup_.law->curvature_bound(dt_) : 0.0;
  for (std::size_t s = 0; s < slices_.size(); ++s) {
    double longest = 0.0;
    for (std::size_t d = 0; d < 2; ++d) {
      const double move = std::abs(move_[s][d]);
      longest = std::max(longest, move);
      if (move <= last_digits) continue;
      const double bend = dt_ > 0.0 ? curvature * base_sums_[s].section[d] : 1.5 * base_sums_[s].slope[d];
      const double slant = dt_ > 0.0 ? 0.01 * base_sums_[s].slope[d] : 0.0;
      if ((bend * move + slant) * move > allowed * base_sums_[s].tension[d]) return false;
    }
    if (longest > last_digits && loops_.turns_slack_or_taut(slices_[s].strands(), stress_[s], move_[s])) return false;
  }
  return true;
}

/// True when a slice has closed by nearly its whole length or width: it no longer holds anything apart.
bool LoadStack::folded() const {
  constexpr double most = 0.9;
  return std::any_of(unknown_.begin(), unknown_.end(), [&](const Pair& closing) {
    return !(closing[0] < most * setup_.length && closing[1] < most * setup_.width);
  });
}

bool LoadStack::solve() {
  creep_ = &creep_steps_.at(dt_);
  for (std::size_t s = 0; s < slices_.size(); ++s) {
    creep_memory_[s] = creep_->memory(slices_[s].creep, slices_[s].sum);
    for (std::size_t d = 0; d < 2; ++d) unknown_[s][d] = slices_[s].closing[d] + log_age_ * slices_[s].drift[d];
  }
  for (int evaluation = 0; evaluation < 60; ++evaluation) {
    counters.iterations += slices_.size();
    for (std::size_t s = 0; s < slices_.size(); ++s) evaluate(s);
    if (!balance() || folded()) return false;
    if (within_tangent()) return true;
    if (evaluation < 20) continue;
    for (std::size_t s = 0; s < slices_.size(); ++s)  // slack film puts kinks in the curve
      for (std::size_t d = 0; d < 2; ++d) unknown_[s][d] = 0.5 * (unknown_[s][d] + base_[s][d]);
  }
  return false;
}

void LoadStack::accept(std::size_t s) {
  Slice& slice = slices_[s];
  const std::size_t branches = setup_.law->branch_count();
  if (loops_.follow(slice.strands(), move_[s], branches, trial_[s], stress_[s])) recover_slack(s);
  slice.tension = {};
  for (std::size_t i = 0; i < slice.film.size; ++i)
    slice.tension[slice.face[i]] += slice.weight[i] * stress_[s].nominal[i];
  std::swap(slice.film, trial_[s]);
  std::swap(slice.nominal, stress_[s].nominal);
  start_closing_[s] = slice.closing;
  slice.closing = unknown_[s];
  creep_->advance(slice.creep, slice.sum, sum_[s]);
  slice.sum = sum_[s];
}

/// Elements whose stress would be negative recover from where they were.
void LoadStack::recover_slack(std::size_t s) {
  const std::size_t branches = setup_.law->branch_count();
  for (std::size_t i = 0; i < slices_[s].film.size; ++i) {
    if (!(stress_[s].nominal[i] < 0.0)) continue;
    stress_[s].nominal[i] = 0.0;
    trial_[s].put_state(i,
                        recover_freely(*setup_.law, slices_[s].film.state_of(i, branches), dt_, setup_.mode,
                                       surroundings_.temperature_mid, surroundings_.temperature_end),
                        branches);
  }
}

void LoadStack::add_element(Slice& slice, const Pending& film, double path_factor) {
  const std::size_t i = slice.film.size++;
  const std::size_t direction = direction_of(film.face);
  const double face_length = direction == 0 ? setup_.length : setup_.width;
  slice.film.put_state(i, film.state, setup_.law->branch_count());
  slice.weight[i] = film.weight;
  slice.along_width[i] = direction == 0 ? 0.0 : 1.0;
  slice.reference_stretch[i] = film.state.stretch;
  slice.reference_path[i] = (face_length - slice.closing[direction]) * path_factor;
  slice.face.push_back(static_cast<std::uint8_t>(film.face));
  slice.patch.push_back(static_cast<std::uint32_t>(film.patch));
  slice.nominal[i] = film.nominal;
  slice.tension[film.face] += film.weight * slice.nominal[i];
}

void LoadStack::settle(double temperature, double path_factor) {
  surroundings_ = {temperature, temperature, path_factor, path_factor};
  dt_ = log_age_ = 0.0;
  for (auto& held : held_) held = {};
  for (Pending& p : pending_) {
    p.nominal = setup_.law->stress(p.state, setup_.mode, temperature).nominal;
    held_[p.slice][direction_of(p.face)] += p.weight * p.nominal;
  }
  const bool solved = solve();
  for (auto& held : held_) held = {};
  if (!solved) {
    pending_.clear();
    throw SolverError("the load finds no equilibrium with the film laid on it",
                      "a stiffer load (load.stiffness_along_length, load.stiffness_along_width) or less force");
  }
  for (std::size_t s = 0; s < slices_.size(); ++s) accept(s);
  for (const Pending& p : pending_) add_element(slices_[p.slice], p, path_factor);
  pending_.clear();
}

bool LoadStack::attempt(double dt, const Surroundings& surroundings, double log_age) {
  dt_ = dt;
  log_age_ = log_age;
  surroundings_ = surroundings;
  return solve();
}

double LoadStack::path_change() const {
  double taken = 0.0, greatest = 1e-300;
  const Pair plan = {setup_.length, setup_.width};
  for (std::size_t s = 0; s < slices_.size(); ++s)
    for (std::size_t d = 0; d < 2; ++d) {
      const double stiffness = base_sums_[s].slope[d] / (plan[d] - base_[s][d]);
      taken = std::max(taken, stiffness * std::abs(unknown_[s][d] - slices_[s].closing[d]));
      greatest = std::max(greatest, sum_[s][d]);
    }
  return taken / greatest;
}

void LoadStack::commit() {
  for (std::size_t s = 0; s < slices_.size(); ++s) {
    if (log_age_ > 0.0)
      for (std::size_t d = 0; d < 2; ++d) slices_[s].drift[d] = (unknown_[s][d] - slices_[s].closing[d]) / log_age_;
    accept(s);
  }
  ++counters.steps;
}

std::array<double, face_count> LoadStack::tension_within_step(std::size_t s, double dt, double share) {
  const Slice& slice = slices_[s];
  const FilmBlock& start = trial_[s];
  const std::size_t branches = setup_.law->branch_count();
  Pair closing = start_closing_[s];
  for (std::size_t d = 0; d < 2; ++d) closing[d] += share * (slice.closing[d] - closing[d]);
  stretch_to(s, closing);
  sample_.allocate(start.stride, branches);
  BlockStress& stress = stress_[s];
  setup_.law->step_block(start, sample_, path_[s].data(), dt, setup_.mode, surroundings_.temperature_mid,
                         surroundings_.temperature_end, stress);
  counters.branch_updates += start.size * branches;
  std::array<double, face_count> tension{};
  for (std::size_t i = 0; i < start.size; ++i)
    tension[slice.face[i]] += slice.weight[i] * std::max(stress.nominal[i], 0.0);
  return tension;
}

bool LoadStack::step(double dt, const Surroundings& surroundings, double log_age) {
  if (!attempt(dt, surroundings, log_age)) return false;
  commit();
  return true;
}

}  // namespace hoopfield
