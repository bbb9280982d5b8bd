// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Decay of the load's creep terms over a step, computed once for all slices that take the same step.
#pragma once

#include "models/load/closing.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <unordered_map>
#include <utility>
#include <vector>

namespace hoopfield {

/// The creep terms a_k of both directions relax towards the sums S: for sums that change evenly over the step,
/// `a_1 = a_0 decay + S_0 (mean - decay) + S_1 (1 - mean)`, `decay = exp(-x)`, `mean = (1 - exp(-x))/x`, x = dt/tau_k.
/// The closing under them is `C (S_1 gain + memory)`, `gain = 1 + sum w_k (1 - mean_k)`,
/// `memory = sum w_k (a_0 decay_k + S_0 (mean_k - decay_k))`. Pinned by tests/unit/load_stack_test.cpp.
class CreepStep {
 public:
  using Pair = std::array<double, 2>;
  double gain = 1.0;

  CreepStep() = default;
  CreepStep(const CreepLadder& ladder, double dt) {
    terms_.reserve(ladder.time.size());
    for (std::size_t k = 0; k < ladder.time.size(); ++k) {
      const double x = dt / ladder.time[k];
      const double lost = -std::expm1(-x);
      const double decay = 1.0 - lost, mean = x > 0.0 ? lost / x : 1.0;
      terms_.push_back({decay, mean - decay, 1.0 - mean, ladder.weight[k] * decay});
      sum_memory_ += ladder.weight[k] * (mean - decay);
      gain += ladder.weight[k] * (1.0 - mean);
    }
  }

  [[nodiscard]] Pair memory(const std::vector<Pair>& creep, Pair start_sum) const {
    Pair memory = {start_sum[0] * sum_memory_, start_sum[1] * sum_memory_};
    for (std::size_t k = 0; k < terms_.size(); ++k)
      for (std::size_t d = 0; d < 2; ++d) memory[d] += terms_[k].memory * creep[k][d];
    return memory;
  }

  void advance(std::vector<Pair>& creep, Pair start_sum, Pair end_sum) const {
    for (std::size_t k = 0; k < terms_.size(); ++k) {
      const Term term = terms_[k];
      for (std::size_t d = 0; d < 2; ++d)
        creep[k][d] = creep[k][d] * term.decay + start_sum[d] * term.from_start + end_sum[d] * term.from_end;
    }
  }

 private:
  struct Term {
    double decay, from_start, from_end, memory;
  };
  std::vector<Term> terms_;
  double sum_memory_ = 0.0;
};

/// Remembers steps by their length. Not thread-safe; references stay good until the memory is full and starts anew.
class CreepSteps {
 public:
  explicit CreepSteps(CreepLadder ladder) : ladder_(std::move(ladder)), no_time_(ladder_, 0.0) {}

  /// \param dt s, >= 0
  [[nodiscard]] const CreepStep& at(double dt) {
    if (dt == 0.0) return no_time_;
    if (steps_.size() >= capacity) steps_.clear();
    const auto [known, is_new] = steps_.try_emplace(dt);
    if (is_new) known->second = CreepStep(ladder_, dt);
    return known->second;
  }

 private:
  static constexpr std::size_t capacity = 4096;
  CreepLadder ladder_;
  CreepStep no_time_;
  std::unordered_map<double, CreepStep> steps_;
};

}  // namespace hoopfield
