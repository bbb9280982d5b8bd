// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How much a prediction computed.
#pragma once

#include <cstddef>

namespace hoopfield {

/// Counts of work, not of time.
struct SolverCounters {
  std::size_t steps = 0, rejected = 0, branch_updates = 0;
  std::size_t iterations = 0;    ///< looks for the equilibrium of one slice
  std::size_t corner_slips = 0;  ///< times that film slipped round corners after lay-down
  std::size_t slip_updates = 0;  ///< work on those slips, in branch updates that take as long
  std::size_t film_steps = 0;    ///< steps of the film law while winding

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("steps", s.steps);
    visit("rejected", s.rejected);
    visit("iterations", s.iterations);
    visit("branch_updates", s.branch_updates);
    visit("corner_slips", s.corner_slips);
    visit("slip_updates", s.slip_updates);
    visit("film_steps", s.film_steps);
  }

  /// All of it in branch updates that take as long: an iteration costs eighty of them beside its own, a step of winding
  /// as many.
  [[nodiscard]] double work() const {
    return static_cast<double>(branch_updates + slip_updates) + 80.0 * static_cast<double>(iterations + film_steps);
  }

  SolverCounters& operator+=(const SolverCounters& other) {
    steps += other.steps;
    rejected += other.rejected;
    iterations += other.iterations;
    branch_updates += other.branch_updates;
    corner_slips += other.corner_slips;
    slip_updates += other.slip_updates;
    film_steps += other.film_steps;
    return *this;
  }
};

}  // namespace hoopfield
