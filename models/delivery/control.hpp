// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How the delivery decides how much film to let go. A control law of one's own is one class derived from
/// DeliveryControl.
#pragma once

#include <limits>
#include <memory>

namespace hoopfield {

/// What the delivery sees at one instant.
struct ControlSignal {
  double demand = 0.0;         ///< speed at which the load takes film up, m/s of film as it is laid
  double force = 0.0;          ///< force in the span, N
  double angular_speed = 0.0;  ///< of the load, rad/s
  double mean_demand = 0.0;    ///< demand averaged over a turn at this angular speed, m/s: omega perimeter/(2 pi)
};

/// What a control law remembers: a small value, copied freely.
struct ControlState {
  double lagged_demand = 0.0;  ///< v_m + y, m/s
  double feed = 0.0;           ///< film let go now, m/s measured as length on the roll
};

/// A control law: constant object, state outside.
class DeliveryControl {
 public:
  virtual ~DeliveryControl() = default;
  /// True when the law holds the set force exactly whatever the take-up does; the span is then not integrated.
  [[nodiscard]] virtual bool holds_force() const { return false; }
  /// State of a law that has seen the same signal for ever.
  [[nodiscard]] virtual ControlState settled(const ControlSignal& signal) const = 0;
  /// State after dt seconds in which the signal went from `begin` to `end` in a straight line. dt = 0: only the force
  /// has jumped, to `end.force`.
  [[nodiscard]] virtual ControlState advance(const ControlState& state, const ControlSignal& begin,
                                             const ControlSignal& end, double dt) const = 0;
};

/// `constant`: the span force is the set force at every instant.
class ConstantForce final : public DeliveryControl {
 public:
  [[nodiscard]] bool holds_force() const override { return true; }
  [[nodiscard]] ControlState settled(const ControlSignal&) const override { return {}; }
  [[nodiscard]] ControlState advance(const ControlState&, const ControlSignal&, const ControlSignal&,
                                     double) const override {
    return {};
  }
};

/// `fixed_length`: a fixed length of film (measured on the roll) per turn, in proportion to the rotation, `feed = omega
/// q`, in ramps too. The span starts at the force under which the fed length is laid.
class FixedLength final : public DeliveryControl {
 public:
  /// \param length_per_radian q, m of film on the roll per radian of rotation, > 0 (OutOfRange)
  explicit FixedLength(double length_per_radian);
  [[nodiscard]] ControlState settled(const ControlSignal& signal) const override;
  [[nodiscard]] ControlState advance(const ControlState& state, const ControlSignal& begin, const ControlSignal& end,
                                     double dt) const override;

 private:
  double length_per_radian_;
};

/// Parameters of FollowDemand.
struct FollowParameters {
  double force = 0.0;                                            ///< set force F0, N, > 0
  double stretch = 1.0;                                          ///< stretch l0 of the film at the set force, > 0
  double lag = 0.15;                                             ///< tau, s, >= 0; may be infinite
  double gain = 1.0;                                             ///< g, relative feed per relative force error, >= 0
  double speed_limit = std::numeric_limits<double>::infinity();  ///< greatest feed, m/s on the roll; the least is 0
  double acceleration_limit = std::numeric_limits<double>::infinity();  ///< greatest |d feed/dt|, m/s^2 on the roll
};

/// `follow`: feed-forward of the take-up speed through a first-order lag, corrected in proportion to the force error.
/// With v the take-up speed and v_m its mean over a turn at the present speed of rotation, `tau dy/dt = v - v_m - y`,
/// `feed = ((v_m + y)/l0) (1 + g (F/F0 - 1))`, not below 0 (rollers do not run backwards). The delivery is geared to
/// the rotation, so the lag acts on the ripple alone; at constant speed that is a lag of v that starts from the mean.
/// Limits of speed and acceleration are parameters, infinite unless given; a scenario gives none. The lag is integrated
/// exactly for a signal that moves in a straight line within a step.
/// Special cases: tau = 0 follows at once; tau infinite feeds the mean take-up; g = 0 is feed-forward alone (nothing
/// then pulls the mean force to F0 but the film fed in). With tau infinite and g = 0 it is `fixed_length` with the
/// length per turn of l0, ramps included. Pinned by tests/unit/control_test.cpp and tests/unit/film_state_test.cpp.
class FollowDemand final : public DeliveryControl {
 public:
  /// Throws OutOfRange for values outside the bounds.
  explicit FollowDemand(const FollowParameters& parameters);
  [[nodiscard]] ControlState settled(const ControlSignal& signal) const override;
  [[nodiscard]] ControlState advance(const ControlState& state, const ControlSignal& begin, const ControlSignal& end,
                                     double dt) const override;

 private:
  [[nodiscard]] double command(double lagged_demand, double force) const;
  FollowParameters parameters_;
};

}  // namespace hoopfield
