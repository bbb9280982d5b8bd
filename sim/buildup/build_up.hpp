// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Winds the patches on the slices, then stores the load: build-up and storage are one march in time.
#pragma once

#include "sim/buildup/corner_recheck.hpp"
#include "sim/buildup/load_stack.hpp"
#include "sim/buildup/schedule.hpp"
#include "sim/buildup/solver_counters.hpp"

#include <functional>
#include <limits>
#include <vector>

namespace hoopfield {

/// The slices of a load at one time.
struct StackMoment {
  double time = 0.0;  ///< s
  double path_factor = 1.0;
  std::vector<LoadStack::Slice> slices;
};

struct BuildUpInput {
  StackSetup setup;
  std::size_t slice_count = 1;
  std::vector<LaidPatch> patches;      ///< in the order they are laid
  std::vector<double> turn_end_times;  ///< s, <= 0, one per finished turn
  std::vector<double> output_times;    ///< s, first 0
  TemperatureHistory history{296.15, {}};
  double film_expansion = 0.0;  ///< 1/K
  double load_expansion = 0.0;  ///< 1/K
  CornerFriction corners;       ///< stuck unless given
  double settling = 0.0;        ///< share of the perimeter lost at the start of storage
  double work_before = 0.0;     ///< SolverCounters::work() of the same prediction so far
  /// Work that ends in an error, that before counted.
  double most_work = std::numeric_limits<double>::infinity();
  std::function<bool(double)> keep_going;  ///< called with the share done; false stops
  /// Slices [first, last) alone are marched, unless slices shear: then all are, for each needs its neighbours.
  std::size_t first_slice = 0, last_slice = std::numeric_limits<std::size_t>::max();
  std::vector<double> keep_at;             ///< s, > 0, ascending: output times at which the slices themselves are kept
  const StackMoment* resume_at = nullptr;  ///< storage goes on from here: film is laid, output times are later
};

struct BuildUpResult {
  Field hoop_tension;          ///< (time, face, height) N/m
  Field film_layers;           ///< (face, height)
  Field hoop_tension_buildup;  ///< (turn, face, height) N/m
  Field layer_tension;         ///< (film_layer, face, height) N/m; shares of partly covered slices, so layers add up
  Field closing_along_length, closing_along_width;  ///< (time, height) m
  Field slip_tension;  ///< (face, height) N/m: what slip round the corners after lay-down gave a face, summed
  std::vector<LoadStack::Slice> at_end, after_storage;  ///< per slice, for the stations
  double path_factor_end = 1.0, path_factor_storage = 1.0;
  /// The slices at time 0 once the load has settled and taken the temperature of the store; empty when neither moves
  /// it.
  StackMoment stored;
  std::vector<StackMoment> kept;  ///< one per time of `keep_at`
  double residual = 0.0;
  std::size_t unsettled_slips =
      0;  ///< times that film should have slipped round corners and found no rest; it was held
  std::size_t slack_elements_end = 0, slack_elements_storage = 0, elements = 0;
  SolverCounters counters;
};

/// Mechanical stretch over geometric stretch: `(1 + alpha_load dT)/(1 + alpha_film dT)`, dT from the wrapping
/// temperature, times 1 - settling once the load has settled. Pinned by tests/unit/build_up_test.cpp.
[[nodiscard]] double path_factor(double load_expansion, double film_expansion, double temperature_rise,
                                 double settling);

/// Physics sections 5 and 6. Slices are marched one by one, or together when the load has a shear stiffness; steps are
/// halved until the tensions of one step and of two half steps agree within a tenth of the tolerance.
/// Throws SolverError with time and height, Interrupted through `keep_going`.
[[nodiscard]] BuildUpResult build_up(const BuildUpInput& input);

}  // namespace hoopfield
