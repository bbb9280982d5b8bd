// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What the drawing of a wrapped load needs beyond the fields of a result.
#pragma once

#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <array>
#include <cstddef>

namespace hoopfield {

struct ReportDrawing {
  double film_bottom = 0.0;                          ///< m above the deck, lowest edge of the film; negative = below it
  double film_top = 0.0;                             ///< m above the deck, highest edge before film folds over the top
  std::array<std::size_t, face_count> laid_order{};  ///< faces in the order the film meets them, see Face
  std::size_t weakest_station = 0;                   ///< the one that holds least at its weakest in storage
  double weakest_time = 0.0;                         ///< s since the end of wrapping, when it holds least
  double weakest_temperature = 0.0;                  ///< K, of the film then
  Field weakest_tension;                             ///< (face, height) N/m of the whole load at that time
};

/// Numbers of the drawing for one prediction. Plans the wrap again (milliseconds); winds and stores it again up to the
/// weakest time when that is none of the result's times. `weakest_tension` stays empty when the result holds no
/// `hoop_tension`. Throws what predict() throws.
[[nodiscard]] ReportDrawing report_drawing(const Scenario& scenario, const Result& result);

}  // namespace hoopfield
