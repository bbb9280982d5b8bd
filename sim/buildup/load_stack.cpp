// SPDX-License-Identifier: BSD-3-Clause
#include "sim/buildup/load_stack.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

using Pair = std::array<double, 2>;

/// Strands on the left and right face run along the length (direction 0), those on front and back along the width.
constexpr std::size_t direction_of(std::size_t face) { return face == left || face == right ? 0 : 1; }

FilmState state_of(const FilmBlock& block, std::size_t i, std::size_t branches) {
  FilmState state;
  state.stretch = block.stretch[i];
  for (std::size_t k = 0; k < branches; ++k) state.strain[k] = block.strain[k * block.stride + i];
  return state;
}

void put_state(FilmBlock& block, std::size_t i, const FilmState& state, std::size_t branches) {
  block.stretch[i] = state.stretch;
  for (std::size_t k = 0; k < branches; ++k) block.strain[k * block.stride + i] = state.strain[k];
}

/// Slack film: no stress, the branches recover. One step for the stretch that keeps P = 0 at its end.
FilmState recover_freely(const FilmLaw& law, const FilmState& start, double dt, const WidthMode& mode,
                         double temperature_flow, double temperature_end) {
  if (!(dt > 0.0)) {
    FilmState free = start;
    law.step(free, stretch_at_stress(law, start, 0.0, mode, temperature_end), 0.0, mode, temperature_end, temperature_end);
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

/// Constants of the hereditary creep over one step: `C (S gain + memory)`.
struct CreepStep {
  double gain = 1.0;
  Pair memory{};
};

CreepStep creep_step(const CreepLadder& ladder, const std::vector<Pair>& terms, const Pair& sum, double dt) {
  CreepStep out;
  for (std::size_t k = 0; k < ladder.time.size(); ++k) {
    double decay = 1.0, mean = 1.0;  // exp(-x) and its mean over the step
    if (dt > 0.0) {
      const double x = dt / ladder.time[k];
      decay = std::exp(-x);
      mean = -std::expm1(-x) / x;
      out.gain += ladder.weight[k] * (1.0 - mean);
    }
    for (std::size_t d = 0; d < 2; ++d)
      out.memory[d] += ladder.weight[k] * (terms[k][d] * decay + (dt > 0.0 ? sum[d] * (mean - decay) : 0.0));
  }
  return out;
}

void advance_creep(const CreepLadder& ladder, std::vector<Pair>& terms, const Pair& before, const Pair& after, double dt) {
  if (!(dt > 0.0)) return;
  for (std::size_t k = 0; k < ladder.time.size(); ++k) {
    const double x = dt / ladder.time[k];
    const double decay = std::exp(-x);
    const double mean = -std::expm1(-x) / x;
    for (std::size_t d = 0; d < 2; ++d)
      terms[k][d] = terms[k][d] * decay + before[d] * (mean - decay) + after[d] * (1.0 - mean);
  }
}

}  // namespace

LoadStack::LoadStack(const StackSetup& setup, const std::vector<std::size_t>& capacity_per_slice) : setup_(setup) {
  const std::size_t n = capacity_per_slice.size();
  const std::size_t branches = setup_.law->branch_count();
  slices_.resize(n);
  trial_.resize(n);
  path_.resize(n);
  nominal_.resize(n);
  slope_.resize(n);
  unknown_.resize(n);
  sum_.resize(n);
  stiffness_.resize(n);
  held_.resize(n);
  for (std::size_t s = 0; s < n; ++s) {
    const std::size_t capacity = std::max<std::size_t>(capacity_per_slice[s], 1);
    slices_[s].film.allocate(capacity, branches);
    trial_[s].allocate(capacity, branches);
    for (auto* list : {&slices_[s].weight, &slices_[s].reference_stretch, &slices_[s].reference_path, &slices_[s].nominal})
      list->reserve(capacity);
    slices_[s].face.reserve(capacity);
    slices_[s].patch.reserve(capacity);
    slices_[s].creep.assign(setup_.creep.time.size(), Pair{});
    path_[s].resize(capacity);
    nominal_[s].resize(capacity);
    slope_[s].resize(capacity);
  }
}

bool LoadStack::empty() const {
  return std::all_of(slices_.begin(), slices_.end(), [](const Slice& s) { return s.film.size == 0; });
}

void LoadStack::lay(std::size_t slice, std::size_t face, const FilmState& state, double weight, std::size_t patch) {
  pending_.push_back({slice, face, patch, state, weight});
}

void LoadStack::evaluate(std::size_t s, double dt, const Surroundings& surroundings, const Pair& closing, Pair& sum,
                         Pair& stiffness) {
  const Slice& slice = slices_[s];
  const std::size_t n = slice.film.size;
  const Pair plan = {setup_.length, setup_.width};
  Pair free_path{};
  for (std::size_t d = 0; d < 2; ++d) free_path[d] = (plan[d] - closing[d]) * surroundings.path_factor_end;
  for (std::size_t i = 0; i < n; ++i)
    path_[s][i] = slice.reference_stretch[i] * free_path[direction_of(slice.face[i])] / slice.reference_path[i];
  setup_.law->step_block(slice.film, trial_[s], path_[s].data(), dt, setup_.mode, surroundings.temperature_mid,
                         surroundings.temperature_end, nominal_[s].data(), slope_[s].data());
  counters.branch_updates += n * setup_.law->branch_count();
  sum = held_[s];
  stiffness = {};
  for (std::size_t i = 0; i < n; ++i) {
    if (!(nominal_[s][i] > 0.0)) continue;  // slack film pulls nothing
    const std::size_t d = direction_of(slice.face[i]);
    sum[d] += slice.weight[i] * nominal_[s][i];
    stiffness[d] += slice.weight[i] * slope_[s][i] / (plan[d] - closing[d]);
  }
}

void LoadStack::newton_update(const std::vector<Pair>& residual, const std::vector<std::array<double, 4>>& diagonal,
                              std::vector<Pair>& change) const {
  // Block tridiagonal elimination; the blocks beside the diagonal are all -C G/dz^2 (none without shear stiffness).
  const std::size_t n = residual.size();
  const ClosingCompliance& c = setup_.compliance;
  const double g = n > 1 ? setup_.shear_stiffness / (setup_.slice_height * setup_.slice_height) : 0.0;
  const std::array<double, 4> side = {-c.length_length * g, -c.length_width * g, -c.length_width * g, -c.width_width * g};
  const auto times = [](const std::array<double, 4>& a, const std::array<double, 4>& b) {
    return std::array<double, 4>{a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2],
                                 a[2] * b[1] + a[3] * b[3]};
  };
  const auto inverse = [](const std::array<double, 4>& a) {
    const double det = a[0] * a[3] - a[1] * a[2];
    return std::array<double, 4>{a[3] / det, -a[1] / det, -a[2] / det, a[0] / det};
  };
  std::vector<std::array<double, 4>> upper(n);
  change.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    std::array<double, 4> pivot = diagonal[i];
    Pair right = {-residual[i][0], -residual[i][1]};
    if (i > 0 && g > 0.0) {
      const std::array<double, 4> fill = times(side, upper[i - 1]);
      for (std::size_t j = 0; j < 4; ++j) pivot[j] -= fill[j];
      right[0] -= side[0] * change[i - 1][0] + side[1] * change[i - 1][1];
      right[1] -= side[2] * change[i - 1][0] + side[3] * change[i - 1][1];
    }
    const std::array<double, 4> inv = inverse(pivot);
    upper[i] = times(inv, side);
    change[i] = {inv[0] * right[0] + inv[1] * right[1], inv[2] * right[0] + inv[3] * right[1]};
  }
  if (g > 0.0) {
    for (std::size_t i = n - 1; i-- > 0;) {
      const Pair& next = change[i + 1];
      change[i][0] -= upper[i][0] * next[0] + upper[i][1] * next[1];
      change[i][1] -= upper[i][2] * next[0] + upper[i][3] * next[1];
    }
  }
}

bool LoadStack::solve(double dt, const Surroundings& surroundings, double log_age) {
  const std::size_t n = slices_.size();
  const ClosingCompliance& c = setup_.compliance;
  const double g = n > 1 ? setup_.shear_stiffness / (setup_.slice_height * setup_.slice_height) : 0.0;
  std::vector<CreepStep> creep(n);
  for (std::size_t s = 0; s < n; ++s) {
    creep[s] = creep_step(setup_.creep, slices_[s].creep, slices_[s].sum, dt);
    for (std::size_t d = 0; d < 2; ++d) unknown_[s][d] = slices_[s].closing[d] + log_age * slices_[s].drift[d];
  }
  const bool separate = c.length_width == 0.0 && g == 0.0;  // the two closings of a slice do not feel each other
  std::vector<Pair> residual(n), change(n), last_residual(n), last_unknown(n);
  std::vector<std::array<double, 4>> diagonal(n);
  for (int iteration = 0; iteration < 60; ++iteration) {
    ++counters.iterations;
    double worst = 0.0, scale = 1e-300, rounding = 0.0;
    for (std::size_t s = 0; s < n; ++s) {
      Pair& stiffness = stiffness_[s];
      evaluate(s, dt, surroundings, unknown_[s], sum_[s], stiffness);
      const Pair pull = {sum_[s][0] * creep[s].gain + creep[s].memory[0], sum_[s][1] * creep[s].gain + creep[s].memory[1]};
      Pair load = pull;  // minus the shear force passed to the neighbours
      std::size_t neighbours = 0;
      for (std::size_t d = 0; d < 2 && g > 0.0; ++d) {
        if (s > 0) load[d] += g * (unknown_[s - 1][d] - unknown_[s][d]);
        if (s + 1 < n) load[d] += g * (unknown_[s + 1][d] - unknown_[s][d]);
      }
      if (g > 0.0) neighbours = (s > 0 ? 1 : 0) + (s + 1 < n ? 1 : 0);
      residual[s] = {unknown_[s][0] - c.length_length * load[0] - c.length_width * load[1],
                     unknown_[s][1] - c.length_width * load[0] - c.width_width * load[1]};
      const double k0 = creep[s].gain * stiffness[0] + g * static_cast<double>(neighbours);
      const double k1 = creep[s].gain * stiffness[1] + g * static_cast<double>(neighbours);
      diagonal[s] = {1.0 + c.length_length * k0, c.length_width * k1, c.length_width * k0, 1.0 + c.width_width * k1};
      worst = std::max({worst, std::abs(residual[s][0]), std::abs(residual[s][1])});
      // A stretch is known to the rounding of 1, so a film tension to that times its stiffness: no closing can be found more
      // finely than the compliance times this.
      rounding = std::max({rounding, 1e-15 * setup_.length * (diagonal[s][0] - 1.0),
                           1e-15 * setup_.width * (diagonal[s][3] - 1.0)});
      // The greatest of the forces that balance here: film, and shear from the neighbours.
      const double shear = g * static_cast<double>(neighbours);
      scale = std::max({scale, c.length_length * (std::abs(pull[0]) + shear * std::abs(unknown_[s][0])),
                        c.width_width * (std::abs(pull[1]) + shear * std::abs(unknown_[s][1]))});
    }
    if (!std::isfinite(worst)) return false;
    if (worst <= 1e-10 * scale + rounding) {
      greatest_residual_ = std::max(greatest_residual_, worst);
      greatest_closing_ = std::max(greatest_closing_, scale);
      return true;
    }
    if (separate && iteration > 0) {
      // The film's slope leaves out how the flow stress moves within the step; the secant knows it.
      for (std::size_t s = 0; s < n; ++s)
        for (std::size_t d = 0; d < 2; ++d) {
          const double run = unknown_[s][d] - last_unknown[s][d];
          const double slope = (residual[s][d] - last_residual[s][d]) / run;
          if (run != 0.0 && slope > 0.5 * diagonal[s][3 * d] && slope < 2.0 * diagonal[s][3 * d]) diagonal[s][3 * d] = slope;
        }
    }
    last_residual = residual;
    last_unknown = unknown_;
    newton_update(residual, diagonal, change);
    const double damping = iteration < 20 ? 1.0 : 0.5;  // slack film puts kinks in the curve
    for (std::size_t s = 0; s < n; ++s) {
      unknown_[s][0] += damping * std::clamp(change[s][0], -0.05 * setup_.length, 0.05 * setup_.length);
      unknown_[s][1] += damping * std::clamp(change[s][1], -0.05 * setup_.width, 0.05 * setup_.width);
    }
  }
  return false;
}

void LoadStack::accept(std::size_t s, double dt, const Surroundings& surroundings) {
  Slice& slice = slices_[s];
  const std::size_t branches = setup_.law->branch_count();
  slice.tension = {};
  for (std::size_t i = 0; i < slice.film.size; ++i) {
    const double stress = nominal_[s][i];
    if (stress >= 0.0) {
      put_state(slice.film, i, state_of(trial_[s], i, branches), branches);
    } else {
      put_state(slice.film, i,
                recover_freely(*setup_.law, state_of(slice.film, i, branches), dt, setup_.mode,
                               surroundings.temperature_mid, surroundings.temperature_end),
                branches);
    }
    slice.nominal[i] = std::max(0.0, stress);
    slice.tension[slice.face[i]] += slice.weight[i] * slice.nominal[i];
  }
  slice.closing = unknown_[s];
  advance_creep(setup_.creep, slice.creep, slice.sum, sum_[s], dt);
  slice.sum = sum_[s];
}

void LoadStack::settle(double temperature, double path_factor) {
  const Surroundings now = {temperature, temperature, path_factor, path_factor};
  for (auto& held : held_) held = {};
  for (const Pending& p : pending_)
    held_[p.slice][direction_of(p.face)] += p.weight * setup_.law->stress(p.state, setup_.mode, temperature).nominal;
  const bool solved = solve(0.0, now, 0.0);
  for (auto& held : held_) held = {};
  if (!solved) {
    pending_.clear();
    throw SolverError("the load finds no equilibrium with the film laid on it",
                      "a stiffer load (load.stiffness_along_length, load.stiffness_along_width) or less force");
  }
  for (std::size_t s = 0; s < slices_.size(); ++s) accept(s, 0.0, now);
  const Pair plan = {setup_.length, setup_.width};
  const std::size_t branches = setup_.law->branch_count();
  for (const Pending& p : pending_) {
    Slice& slice = slices_[p.slice];
    const std::size_t i = slice.film.size++;
    put_state(slice.film, i, p.state, branches);
    const double nominal = setup_.law->stress(p.state, setup_.mode, temperature).nominal;
    slice.weight.push_back(p.weight);
    slice.reference_stretch.push_back(p.state.stretch);
    const std::size_t d = direction_of(p.face);
    slice.reference_path.push_back((plan[d] - slice.closing[d]) * path_factor);
    slice.face.push_back(static_cast<std::uint8_t>(p.face));
    slice.patch.push_back(static_cast<std::uint32_t>(p.patch));
    slice.nominal.push_back(nominal);
    slice.tension[p.face] += p.weight * nominal;
  }
  pending_.clear();
}

bool LoadStack::step(double dt, const Surroundings& surroundings, double log_age) {
  if (!solve(dt, surroundings, log_age)) return false;
  if (log_age > 0.0)
    for (std::size_t s = 0; s < slices_.size(); ++s)
      for (std::size_t d = 0; d < 2; ++d)
        slices_[s].drift[d] = (unknown_[s][d] - slices_[s].closing[d]) / log_age;
  double taken = 0.0, greatest = 1e-300;
  for (std::size_t s = 0; s < slices_.size(); ++s)
    for (std::size_t d = 0; d < 2; ++d) {
      taken = std::max(taken, stiffness_[s][d] * std::abs(unknown_[s][d] - slices_[s].closing[d]));
      greatest = std::max(greatest, sum_[s][d]);
    }
  path_change_ = taken / greatest;
  for (std::size_t s = 0; s < slices_.size(); ++s) accept(s, dt, surroundings);
  ++counters.steps;
  return true;
}

}  // namespace hoopfield
