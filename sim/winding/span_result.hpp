// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Force in the span, and what each face received.
#pragma once

#include <cstddef>
#include <vector>

namespace hoopfield {

/// Force in the span over one settled turn, and what each face received; with control "constant" all equal the set force.
struct SpanResult {
  double force_set = 0.0, force_mean = 0.0, force_min = 0.0, force_max = 0.0;  ///< N
  double laid_fraction = 0.0;  ///< mean force kept by the film at the end of wrapping over the set force
  std::vector<double> angle, force, take_up_speed;  ///< rad, N, m/s over one settled turn
  std::vector<double> face_turn = {};               ///< per face laid: turns since the start
  std::vector<std::size_t> face = {};               ///< per face laid
  std::vector<double> face_force = {};              ///< per face laid: N, in the span at its event or, where
                                         ///< film slipped, just after it last slipped on to or off the face
};

}  // namespace hoopfield
