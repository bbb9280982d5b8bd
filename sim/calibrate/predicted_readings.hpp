// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a reading would show on the load of a scenario.
#pragma once

#include "models/reading_quantity.hpp"
#include "sim/base/reading.hpp"
#include "sim/film_path/film_path_cache.hpp"
#include "sim/inputs/scenario.hpp"

#include <optional>
#include <vector>

namespace hoopfield {

/// A reading without its value.
struct ReadingPlace {
  const ReadingQuantity* quantity = nullptr;  ///< never null; static
  double height = 0.0;                        ///< m above the deck; half of the load's where none is written
  std::optional<std::size_t> face;            ///< absent: least over the faces (pull force) or their mean (slit band)
  double time = 300.0;                        ///< s after the end of wrapping
  bool operator==(const ReadingPlace&) const = default;
};

/// Time of a reading that does not say when it was taken, s.
inline constexpr double usual_reading_time = 300.0;

/// Where a reading was taken. Throws InputError, with the line of the reading, for a height that is not on the load.
[[nodiscard]] ReadingPlace place_of(const Scenario& scenario, const Reading& reading);

/// Predicted values, SI, one per place. Only slices that a place needs are marched, and only until the last of the
/// times. Throws what predict() throws. \param cache may be null
[[nodiscard]] std::vector<double> predicted_readings(const Scenario& scenario, const std::vector<ReadingPlace>& places,
                                                     FilmPathCache* cache = nullptr);

}  // namespace hoopfield
