// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What the film goes through between the roll and the load.
#pragma once

#include "sim/base/members.hpp"

#include <vector>

namespace hoopfield {

/// Roll to load: what the film goes through before it is laid.
struct FilmPathResult {
  double prestretch_force = 0.0;       ///< N, constant along the gap
  double prestretch_power = 0.0;       ///< W, mechanical power put into the film in the gap
  double draw_temperature_rise = 0.0;  ///< K at the end of the gap, adiabatic
  double film_temperature = 0.0;       ///< K at the end of the gap
  double roller_speed_1 = 0.0;         ///< m/s
  double roller_speed_2 = 0.0;         ///< m/s
  double dwell_time = 0.0;             ///< s on roller 2
  double residence_time = 0.0;         ///< s from roller 2 to the load
  double stretch_in_gap = 1.0;         ///< draw ratio
  /// Length on the load over length on the roll, of all film laid in the last whole turn; least and greatest of any
  /// face.
  double stretch_on_load = 1.0, stretch_on_load_min = 1.0, stretch_on_load_max = 1.0;
  /// m, mean over the length on the load of the last whole turn; least and greatest of any face.
  double laid_width = 0.0, laid_width_min = 0.0, laid_width_max = 0.0;
  double laid_thickness = 0.0;        ///< m
  double stiffness_over_force = 0.0;  ///< EA/N = d ln N / d ln l of the laid film, elastic
  double gap_sharpness = 0.0;         ///< least l/|dl/dx| in the gap over the roll thickness
  std::vector<double> gap_position, gap_stretch, gap_temperature;  ///< profile along the gap (m, -, K)

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("prestretch_force", s.prestretch_force);
    visit("prestretch_power", s.prestretch_power);
    visit("draw_temperature_rise", s.draw_temperature_rise);
    visit("film_temperature", s.film_temperature);
    visit("roller_speed_1", s.roller_speed_1);
    visit("roller_speed_2", s.roller_speed_2);
    visit("dwell_time", s.dwell_time);
    visit("residence_time", s.residence_time);
    visit("stretch_in_gap", Stretch{s.stretch_in_gap});
    visit("stretch_on_load", Stretch{s.stretch_on_load});
    visit("stretch_on_load_min", Stretch{s.stretch_on_load_min});
    visit("stretch_on_load_max", Stretch{s.stretch_on_load_max});
    visit("laid_width", s.laid_width);
    visit("laid_width_min", s.laid_width_min);
    visit("laid_width_max", s.laid_width_max);
    visit("laid_thickness", s.laid_thickness);
    visit("stiffness_over_force", s.stiffness_over_force);
    visit("gap_sharpness", s.gap_sharpness);
    visit("gap_position", s.gap_position);
    visit("gap_stretch", Stretch{s.gap_stretch});
    visit("gap_temperature", s.gap_temperature);
  }
};

}  // namespace hoopfield
