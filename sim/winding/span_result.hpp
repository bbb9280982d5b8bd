// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Force in the span, and what each face received.
#pragma once

#include "sim/base/members.hpp"

#include <cstddef>
#include <vector>

namespace hoopfield {

/// Force in the span over one settled turn, and what each face received; with control "constant" all equal the set
/// force.
struct SpanResult {
  double force_set = 0.0, force_mean = 0.0, force_min = 0.0, force_max = 0.0;  ///< N
  double laid_fraction = 0.0;  ///< mean force kept by the film at the end of wrapping over the set force
  std::vector<double> angle, force, take_up_speed;  ///< rad, N, m/s over one settled turn
  std::vector<double> face_turn = {};               ///< per face laid: turns since the start
  std::vector<std::size_t> face = {};               ///< per face laid
  std::vector<double> face_force = {};              ///< per face laid: N, in the span at its event or, where
                                                    ///< film slipped, just after it last slipped on to or off the face

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("force_set", s.force_set);
    visit("force_mean", s.force_mean);
    visit("force_min", s.force_min);
    visit("force_max", s.force_max);
    visit("laid_fraction", s.laid_fraction);
    visit("angle", s.angle);
    visit("force", s.force);
    visit("take_up_speed", s.take_up_speed);
    visit("face_turn", s.face_turn);
    visit("face", FaceNames{s.face});
    visit("face_force", s.face_force);
  }
};

}  // namespace hoopfield
