// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What the film does to the load.
#pragma once

namespace hoopfield {

struct LoadResult {
  double closing_along_length = 0.0;  ///< m, greatest over the height at the end of wrapping
  double closing_along_width = 0.0;   ///< m
  double edge_line_force = 0.0;       ///< N/m, greatest line force on an edge at the end of wrapping
  double edge_pressure = 0.0;         ///< Pa, corner force over the arc of the corner radius

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("closing_along_length", s.closing_along_length);
    visit("closing_along_width", s.closing_along_width);
    visit("edge_line_force", s.edge_line_force);
    visit("edge_pressure", s.edge_pressure);
  }
};

}  // namespace hoopfield
