// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a person would measure at top, middle and bottom.
#pragma once

#include "sim/buildup/load_stack.hpp"
#include "sim/buildup/schedule.hpp"
#include "sim/inputs/resolved_scenario.hpp"
#include "sim/stations/containment_result.hpp"

#include <array>
#include <utility>
#include <vector>

namespace hoopfield {

/// Inputs shared by the stations at one moment.
struct StationMoment {
  const StackSetup* setup = nullptr;
  const std::vector<LoadStack::Slice>* slices = nullptr;
  const Field* film_layers = nullptr;  ///< (face, height)
  double path_factor = 1.0;
  double time = 0.0;            ///< s since the end of wrapping
  double temperature = 296.15;  ///< K
  /// Lower and upper edge of the film on each face, m, within the height of the load.
  std::array<std::array<double, 2>, face_count> film_edges{};
  /// As laid; says where within a slice its film lies. Null: film is spread evenly over every slice.
  const std::vector<LaidPatch>* patches = nullptr;
};

/// Hoop tension per face and as mean of faces over the band, band tension, layers and the pull test at each station;
/// least hoop tension over the height of the load. The pull force of a station is the least over its faces.
[[nodiscard]] ContainmentResult containment(const ResolvedScenario& scenario, const StationMoment& moment);

/// The same for one station, 0 = top. Only the slices within station_reach() are read.
[[nodiscard]] StationResult station_at(const ResolvedScenario& scenario, const StationMoment& moment,
                                       std::size_t station);

/// Lowest and highest height, m, whose film a station reads: its band and the plate of the pull test.
[[nodiscard]] std::pair<double, double> station_reach(const ResolvedScenario& scenario, std::size_t station);

/// Mean of `value` per slice over the band [height - band/2, height + band/2] cut to the load.
[[nodiscard]] double band_mean(const std::vector<double>& value, double slice_height, double height, double band);

}  // namespace hoopfield
