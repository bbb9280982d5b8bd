// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What every prediction must keep, whatever the scenario. No test library here: the fuzz targets use it too.
#pragma once

#include "sim/outputs/result.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace test {

/// First promise a result breaks, in words; empty when it keeps all: finite numbers, no negative tension, force balance
/// closed to 1e-9, layers that add up to their face.
inline std::string broken_promise(const hoopfield::Result& r) {
  using namespace hoopfield;
  const auto finite = [](const Field& field) {
    return std::all_of(field.data.begin(), field.data.end(), [](double v) { return std::isfinite(v); });
  };
  const auto not_negative = [](const Field& field) {
    return std::all_of(field.data.begin(), field.data.end(), [](double v) { return !(v < 0.0); });
  };
  if (!finite(r.hoop_tension) || !finite(r.hoop_tension_buildup)) return "hoop tension is not finite";
  if (!not_negative(r.hoop_tension) || !not_negative(r.hoop_tension_buildup)) return "hoop tension is negative";
  if (!not_negative(r.layer_tension)) return "a layer pushes";
  if (!finite(r.closing_along_length) || !finite(r.closing_along_width)) return "closing is not finite";
  if (!finite(r.film_layers)) return "film layers are not finite";
  if (!(r.force_balance_error <= 1e-9)) return "force balance " + std::to_string(r.force_balance_error * 1e9) + "e-9";
  for (const double v :
       {r.film_path.prestretch_force, r.film_path.prestretch_power, r.film_path.film_temperature,
        r.film_path.stretch_on_load, r.film_path.laid_width, r.film_path.laid_thickness,
        r.film_path.stiffness_over_force, r.span.laid_fraction, r.pattern.turns, r.pattern.rotation_time,
        r.load.edge_line_force, r.load.edge_pressure, r.film.length_on_roll, r.film.mass})
    if (!std::isfinite(v)) return "a number of the summary is not finite";
  for (const ContainmentResult* moment : {&r.end, &r.weakest, &r.after_storage})
    for (const StationResult& s : moment->stations) {
      for (const double v : {s.hoop_tension, s.pull_force, s.strand_force, s.tent_factor, s.film_layers,
                             s.pull_force_film_stretch_share})
        if (!std::isfinite(v)) return "a number of a station is not finite";
      if (s.hoop_tension < 0.0 || s.pull_force < 0.0) return "a station pushes";
    }
  for (std::size_t i = 0; i < r.weakest.stations.size(); ++i) {
    const StationResult& s = r.weakest.stations[i];
    if (s.hoop_tension > std::min(r.end.stations[i].hoop_tension, r.after_storage.stations[i].hoop_tension))
      return "a station holds more at its weakest than at an end of storage";
    if (!(s.time >= 0.0 && s.time <= r.time.back())) return "a station is weakest outside storage";
  }
  for (std::size_t f = 0; f < face_count; ++f)
    for (std::size_t h = 0; h < r.height.size(); ++h) {
      double sum = 0.0;
      for (std::size_t layer = 0; layer < r.layer_tension.shape[0]; ++layer) {
        const double t = r.layer_tension.at(layer, f, h);
        if (!std::isnan(t)) sum += t;
      }
      const double total = r.hoop_tension.at(0, f, h);
      if (std::abs(sum - total) > 1e-9 * std::max(1.0, total)) return "layers do not add up";
    }
  return {};
}

}  // namespace test
