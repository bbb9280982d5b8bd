// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Decay of the load's creep terms over a step, computed once for all slices that take the same step.
#pragma once

#include "models/load/closing.hpp"

#include <cmath>
#include <unordered_map>
#include <utility>
#include <vector>

namespace hoopfield {

/// `decay = exp(-x)` and `mean = (1 - exp(-x))/x`, its mean over the step, x = dt/tau_k; `gain = 1 + sum w_k (1 - mean_k)`.
struct CreepStep {
  double gain = 1.0;
  std::vector<double> decay, mean;
};

/// Remembers steps by their length. Not thread-safe; references stay good until the memory is full and starts anew.
class CreepSteps {
 public:
  explicit CreepSteps(CreepLadder ladder) : ladder_(std::move(ladder)) {}

  [[nodiscard]] const CreepLadder& ladder() const { return ladder_; }

  /// \param dt s, >= 0
  [[nodiscard]] const CreepStep& at(double dt) {
    if (steps_.size() >= capacity) steps_.clear();
    const auto [known, is_new] = steps_.try_emplace(dt);
    if (is_new) known->second = compute(dt);
    return known->second;
  }

 private:
  static constexpr std::size_t capacity = 4096;

  [[nodiscard]] CreepStep compute(double dt) const {
    CreepStep step;
    for (std::size_t k = 0; k < ladder_.time.size(); ++k) {
      const double x = dt / ladder_.time[k];
      const double lost = -std::expm1(-x);
      step.decay.push_back(1.0 - lost);
      step.mean.push_back(x > 0.0 ? lost / x : 1.0);
      step.gain += ladder_.weight[k] * (1.0 - step.mean.back());
    }
    return step;
  }

  CreepLadder ladder_;
  std::unordered_map<double, CreepStep> steps_;
};

}  // namespace hoopfield
