// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a scenario says of the way to the customer: tiers, the goods' give, and what the load must withstand.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

/// One tier of [[load.tier]], from below.
struct TierInput {
  double height = 0.0;                   ///< m
  double mass = 0.0;                     ///< kg
  std::optional<double> friction_below;  ///< absent: friction.between_tiers, or friction.tier_on_pallet for the first
  bool operator==(const TierInput&) const = default;
};

/// Direction of the load that lies along the vehicle; the order is that of the declaration's choices.
enum class TransitDirection { along_length, along_width, worst };
/// Direction of the vehicle that a requirement's level acts along.
enum class VehicleDirection { forward, rearward, sideways };

/// One level of a requirement.
struct RequirementCase {
  VehicleDirection direction = VehicleDirection::sideways;
  double level = 0.0;     ///< m/s^2
  bool is_pulse = false;  ///< otherwise static: held slowly
  double rise = 0.0;      ///< s; pulses only
  double hold = 0.0;      ///< s
  // As shares of the height of the load; infinity: no limit.
  double lean = std::numeric_limits<double>::infinity();
  double permanent = std::numeric_limits<double>::infinity();
  double shift = std::numeric_limits<double>::infinity();
  std::string status;  ///< "read", "secondary" or "memory"
};

/// Levels a load must withstand, with where they come from.
struct Requirement {
  std::string name, source, status;
  std::vector<RequirementCase> cases;
};

struct TransitInput {
  std::string requirement;  ///< name of a set or a file; empty: static numbers only
  TransitDirection direction = TransitDirection::worst;
  double sway_stiffness = 1.5e6;  ///< N/m, shear of one tier
  double tier_stiffness = 4e6;    ///< N/m, vertical, of one tier
  double damping = 0.1;           ///< of the slowest sway, share of critical
  double bearing_share = 0.92;    ///< of the side that bears
  int columns = 1;                ///< of goods side by side; 1 = interlocked
  double pallet_lock = 0.0;       ///< N
  double top_fold_hold = 0.0;     ///< N
  double slip_allowed = 0.02;     ///< m
  std::optional<double> deck_friction;
  std::optional<Requirement> levels;  ///< no key: what `requirement` names, once read
};

}  // namespace hoopfield
