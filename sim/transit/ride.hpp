// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A whole blow: how far the load slips, leans and stays displaced, and the greatest blow within limits.
#pragma once

#include "sim/transit/motion.hpp"

#include <cstddef>
#include <functional>
#include <limits>
#include <optional>
#include <vector>

namespace hoopfield {

/// What a load may do and still count as held, as shares of its height. Infinity: no limit.
struct RideLimits {
  double lean = std::numeric_limits<double>::infinity();       ///< greatest displacement of the top
  double permanent = std::numeric_limits<double>::infinity();  ///< displacement of any tier that stays
  double shift = std::numeric_limits<double>::infinity();      ///< greatest slip of any interface
};

/// What ends it first.
enum class RideFailure { none, slip, lean, tip, shift, permanent };

struct RideOptions {
  double duration = 0.0;         ///< s; 0: until well after the blow
  std::optional<double> step;    ///< s
  double record_interval = 0.0;  ///< s between moments kept, the start the first, linear between steps; 0: none
  RideLimits limits;
  bool stop_at_failure = false;
};

/// What one tier or the interface under it did.
struct RideTier {
  double peak = 0.0, permanent = 0.0;  ///< displacement of its centre, m; greatest in size, and at rest after the blow
  double slip = 0.0, slip_peak = 0.0;  ///< of the interface under it at the end and greatest in size, m
  double slip_time = -1.0;             ///< s at which that first slips; negative: never
  double film_force = 0.0;             ///< greatest, N
  double film_share = 0.0;  ///< of what the inertia above asks beyond sliding friction, at the greatest film force
};

struct Ride {
  std::vector<RideTier> tiers;
  double lean = 0.0;       ///< greatest displacement of the top edge, m
  double lean_time = 0.0;  ///< s
  bool fallen = false;     ///< a tier left the one below or turned over
  bool tipped = false;     ///< it turned over rather than slid off
  double end = 0.0;        ///< s
  RideFailure failure = RideFailure::none;
  std::optional<std::size_t> first_slip;              ///< interface
  std::vector<double> time, along;                    ///< moments kept, s; acceleration of the blow then, m/s^2
  std::vector<double> shift, turn, slip, film_force;  ///< at those moments, tiers fastest
  [[nodiscard]] double greatest_slip() const;         ///< of all interfaces, m
};

/// Throws SolverError for goods so stiff that more than two million steps would be taken.
[[nodiscard]] Ride ride(const TransitStack& stack, const Blow& blow, const RideOptions& options);

/// Time that a ride takes when `duration` is left open: the blow and as long as sways need to die out.
[[nodiscard]] double ride_duration(const TransitStack& stack, const Blow& blow);

/// Greatest level, m/s^2, of `blow_of(level)` that keeps the limits, by bisection to 0.002 gn below 4 gn. Results of
/// blows are not strictly monotone: a pallet interface that slips spares the stack above it.
[[nodiscard]] double largest_blow(const TransitStack& stack, const std::function<Blow(double)>& blow_of,
                                  const RideLimits& limits);

}  // namespace hoopfield
