// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The stack in motion: tiers that shift, turn, slip and tip under a course of acceleration.
#pragma once

#include "models/transit/tier_bed.hpp"
#include "sim/transit/blows.hpp"
#include "sim/transit/transit_stack.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace hoopfield {

/// Plane motion of a stack: tier i has a displacement x_i of its centre and a rotation th_i (top toward +x).
///
///     d_i = x_i - x_(i-1) - h_i th_i/2 - h_(i-1) th_(i-1)/2,  phi_i = th_i - th_(i-1)
///     Q_i = T_i + F_i - P_i (th_i + th_(i-1))/2
///     m_i x_i''  = m_i a - Q_i + Q_(i+1)
///     I_i th_i'' = h_i (Q_i + Q_(i+1))/2 - Mr_i + Mr_(i+1) - Mcol_i + th_i h_i g (M_i - m_i/2)
///                  + (P_i d_i + P_(i+1) d_(i+1))/2
///     Mr = n M + sign(phi) V_r b/2 + c_R (c/b_e)^3 phi',  I = m (h^2 + (b/n)^2)/12,  P_i = M_i g_n
///
/// T from ShearSlip, F from SlipPlane, M from bed_reaction with width `eta b/n - |d|` and load P'/n, V_r from EdgeLift
/// at the lift `|phi| (b_e - c)`, P' = P + V_f + V_r, Mcol of columns that slide past each other. Dampers are scaled
/// down where bounded_damping() is less than the stack's. Semi-implicit Euler: forces of the old positions, new speeds,
/// then new positions. Pinned by tests/unit/transit_motion_test.cpp.
class StackMotion {
 public:
  /// \param step s; absent: stable_step()
  explicit StackMotion(const TransitStack& stack, std::optional<double> step = {});
  /// One step under `drive`. False when a tier has left the one below or has fallen: there is no further step.
  bool advance(const Drive& drive);

  struct Tier {
    double shift = 0.0, speed = 0.0;     ///< x, m; m/s
    double turn = 0.0, turn_rate = 0.0;  ///< th, rad; rad/s
  };
  /// State of an interface and its forces in the last step.
  struct Interface {
    ShearSlip::State slip;
    SlipPlane::Memory film{};
    double column_slip = 0.0;  ///< vertical, of columns beyond their elastic part, m
    double offset = 0.0, offset_rate = 0.0, rotation = 0.0, rotation_rate = 0.0;  ///< d, d', phi, phi'
    double film_force = 0.0, lift_force = 0.0, pressed = 0.0;                     ///< F, V_r, P', N
    double shear = 0.0, moment = 0.0;                                             ///< Q, N; Mr, N m
    double column_moment = 0.0;                                                   ///< Mcol, N m
    double damping_moment = 0.0;                                                  ///< share of Mr
    double bed_width = 0.0;                                                       ///< b_e, m
    ShearSlip::Reaction friction;
  };
  [[nodiscard]] const std::vector<Tier>& tiers() const { return tiers_; }
  [[nodiscard]] const std::vector<Interface>& interfaces() const { return interfaces_; }
  [[nodiscard]] const std::vector<InterfaceLaw>& laws() const { return laws_; }
  [[nodiscard]] const TransitStack& stack() const { return stack_; }
  [[nodiscard]] double step() const { return step_; }
  [[nodiscard]] double time() const { return time_; }
  [[nodiscard]] double top_shift() const;  ///< of the top edge of the stack, m

 private:
  bool load_interface(std::size_t i, double gravity);
  void move_tier(std::size_t i, const Drive& drive);

  TransitStack stack_;
  std::vector<InterfaceLaw> laws_;
  std::vector<Tier> tiers_;
  std::vector<Interface> interfaces_;
  double step_ = 0.0, time_ = 0.0;
};

/// Kinetic energy and potentials of a stack in motion, J; gravity as in models/transit/leaned_gravity.hpp.
struct MotionEnergy {
  double kinetic = 0.0, sheared = 0.0, bed = 0.0, gravity = 0.0;
};
[[nodiscard]] MotionEnergy energy_of(const StackMotion& motion);

}  // namespace hoopfield
