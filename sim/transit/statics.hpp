// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What an interface withstands when the acceleration rises slowly.
#pragma once

#include "sim/transit/transit_stack.hpp"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace hoopfield {

/// Accelerations in m/s^2, level deck. Each of them grows with hoop tension and friction and falls with mass.
struct InterfaceStatics {
  double height = 0.0;      ///< of the interface above the deck, m
  double first_slip = 0.0;  ///< at which it starts to slip
  double held = 0.0;        ///< at which it slides by no more than the allowed slip
  double tipping = 0.0;     ///< at which what stands on it tips
  double film_force = 0.0;  ///< F at the allowed slip, N
};

struct StackStatics {
  std::vector<InterfaceStatics> interfaces;            ///< from below
  double first_slip = 0.0, held = 0.0, tipping = 0.0;  ///< least of all interfaces
  double sliding =
      0.0;  ///< at which an interface moves on, past friction at rest and past friction and film in sliding
  std::size_t weakest = 0;  ///< interface that holds least
  double film_share = 0.0;  ///< of what holds the weakest interface at the allowed slip
  /// What a slow push may reach: least of sliding and tipping, m/s^2.
  [[nodiscard]] double withstood() const { return std::min(sliding, tipping); }
};

/// First slip: `mu_s (P + V_f) + F(d)` over M_i, d the shear of the goods then. Held with slip s: `mu_k (P + V_f) +
/// F(s)` over M_i. Tipping: `(P eta b/2 + V_r eta b)/(M_i z)`, z the height of the mass, with 10 mm of lift at the rear
/// edge; n columns that slide past each other: at most `P eta b/(2n) + (n - 1)(b/n) mu_case 2 sum N_j h_j` over `M_i
/// z`. Pinned by tests/unit/transit_statics_test.cpp.
[[nodiscard]] StackStatics stack_statics(const TransitStack& stack, double slip_allowed);
[[nodiscard]] StackStatics stack_statics(const TransitStack& stack, const std::vector<InterfaceLaw>& laws,
                                         double slip_allowed);

}  // namespace hoopfield
