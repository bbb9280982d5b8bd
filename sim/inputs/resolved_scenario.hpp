// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A scenario as the solvers read it: what a file may leave to other inputs is a plain number here.
#pragma once

#include "sim/base/faces.hpp"
#include "sim/inputs/scenario.hpp"

#include <array>

namespace hoopfield {

/// Stages take this instead of Scenario wherever they need a number that a file may leave out and resolve_scenario() or
/// another input supplies. Made from a scenario on the spot; refers to it and must not outlive it.
struct ResolvedScenario {
  /// Throws InputError when a scenario made in memory was never resolved and lacks the span force, or the length that
  /// control "fixed_length" feeds.
  ResolvedScenario(const Scenario& scenario);  // NOLINT(google-explicit-constructor): a view of its argument

  const Scenario& inputs;        ///< all that has a value of its own
  double span_force = 0.0;       ///< N, true: delivery.tension.force, from the dial table if need be, times force_scale
  double length_per_turn = 0.0;  ///< film per turn over the perimeter; control "fixed_length" only, else 0
  double width_exponent = 0.0;   ///< of the gap: delivery.neck_in, else the film file's

  /// m above the deck, top first. Throws InputError when one is missing.
  [[nodiscard]] std::array<double, station_names.size()> station_heights() const;
};

}  // namespace hoopfield
