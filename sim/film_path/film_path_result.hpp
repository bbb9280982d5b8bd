// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What the film goes through between the roll and the load.
#pragma once

#include <vector>

namespace hoopfield {

/// Roll to load: what the film goes through before it is laid.
struct FilmPathResult {
  double prestretch_force = 0.0;      ///< N, constant along the gap
  double prestretch_power = 0.0;      ///< W, mechanical power put into the film in the gap
  double draw_temperature_rise = 0.0;  ///< K at the end of the gap, adiabatic
  double film_temperature = 0.0;      ///< K at the end of the gap
  double roller_speed_1 = 0.0;        ///< m/s
  double roller_speed_2 = 0.0;        ///< m/s
  double dwell_time = 0.0;            ///< s on roller 2
  double residence_time = 0.0;        ///< s from roller 2 to the load
  double stretch_in_gap = 1.0;        ///< draw ratio
  /// Length on the load over length on the roll, of all film laid in the last whole turn; least and greatest of any
  /// face.
  double stretch_on_load = 1.0, stretch_on_load_min = 1.0, stretch_on_load_max = 1.0;
  /// m, mean over the length on the load of the last whole turn; least and greatest of any face.
  double laid_width = 0.0, laid_width_min = 0.0, laid_width_max = 0.0;
  double laid_thickness = 0.0;        ///< m
  double stiffness_over_force = 0.0;  ///< EA/N = d ln N / d ln l of the laid film, elastic
  double gap_sharpness = 0.0;         ///< least l/|dl/dx| in the gap over the roll thickness
  std::vector<double> gap_position, gap_stretch, gap_temperature;  ///< profile along the gap (m, -, K)
};

}  // namespace hoopfield
