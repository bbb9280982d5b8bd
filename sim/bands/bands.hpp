// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Bands: the prediction repeated over everything that is uncertain in its inputs.
#pragma once

#include "sim/base/observer.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace hoopfield {

/// Draws of a report, of --require and of everything that is said in words about probability.
inline constexpr std::size_t proof_samples = 1024;
/// Share of draws that may fail before there is no band.
inline constexpr double most_failed = 0.05;

struct BandOptions {
  std::size_t samples = 128;      ///< 0 or a power of two, 16 to 65536
  std::uint64_t seed = 1;         ///< of the scrambling
  std::vector<std::string> held;  ///< keys kept at their value in use; "film.file" holds the film's numbers
  double from = 0.0, to = 1.0;    ///< course of progress the observer sees
  bool pulses = false;            ///< also what pulses do to the load in transit: ten times the work
};

/// Options of a scenario: numerics.band_samples and numerics.seed.
[[nodiscard]] BandOptions band_options(const Scenario& scenario);

/// Throws OutOfRange for a number of draws that is neither 0 nor a power of two from 16 to 65536.
void check_band_samples(std::int64_t samples);

/// Draws every unknown (sim/inputs/unknowns.hpp) and predicts each draw with its own film path, on all threads; the
/// result is the same bytes for any number of them. A point that leaves a bound is replaced by a later point of the
/// sequence and counted; a draw whose film breaks or runs away, or that has no solution, is counted by reason.
/// More than 5 % failed: `message` says so and there is no band.
[[nodiscard]] BandResult draw_bands(const Scenario& scenario, const BandOptions& options, Observer* observer = nullptr);

/// One of several scenarios that are drawn from the same points.
struct SharedSide {
  const Scenario* scenario = nullptr;  ///< never null; kept by the caller
  std::size_t film_block = 0;          ///< sides with the same film have the same (sim/bands/draw_points.hpp)
};

/// The same for several scenarios: draw i of each stands at the same point, so that what they share (load, machine,
/// places, and the film where it is the same) is drawn alike and drops out of a difference. A point at which one of
/// them leaves a bound is replaced in all. One side alone gives what draw_bands() gives.
[[nodiscard]] std::vector<BandResult> draw_bands_together(const std::vector<SharedSide>& sides,
                                                          const BandOptions& options, Observer* observer = nullptr);

/// Fills `result.band` and the probabilities of `result.targets`; adds the warnings "band-draws-failed" and
/// "value-outside-band". Nothing for 0 draws.
void add_bands(const Scenario& scenario, Result& result, const BandOptions& options, Observer* observer = nullptr);

/// The same with draws that were made before.
void take_bands(const Scenario& scenario, Result& result, BandResult band);

}  // namespace hoopfield
