// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/report_drawing.hpp"

#include "sim/buildup/build_up.hpp"
#include "sim/inputs/resolved_scenario.hpp"
#include "sim/wrap/plan.hpp"

#include <algorithm>
#include <limits>

namespace hoopfield {

namespace {

/// One time of a field (time, face, height).
Field at_time(const Field& field, std::size_t time) {
  Field row;
  row.resize({face_count, field.shape[2]}, 0.0);
  for (std::size_t f = 0; f < face_count; ++f)
    for (std::size_t h = 0; h < field.shape[2]; ++h) row.at(f, h) = field.at(time, f, h);
  return row;
}

/// Hoop tension as soon as the load has settled and taken the temperature of the store.
Field as_stored(const StackMoment& stored) {
  Field row;
  row.resize({face_count, stored.slices.size()}, 0.0);
  for (std::size_t f = 0; f < face_count; ++f)
    for (std::size_t h = 0; h < stored.slices.size(); ++h) row.at(f, h) = stored.slices[h].tension[f];
  return row;
}

Field tension_at_weakest(const Scenario& scenario, const Result& r, const WrapPlan& plan, const ReportDrawing& out) {
  if (r.hoop_tension.data.empty()) return {};
  const bool is_jump = out.weakest_time == 0.0 && r.weakest.stations[out.weakest_station].hoop_tension <
                                                      r.end.stations[out.weakest_station].hoop_tension;
  const auto known = std::find(r.time.begin(), r.time.end(), out.weakest_time);
  if (known != r.time.end() && !is_jump)
    return at_time(r.hoop_tension, static_cast<std::size_t>(known - r.time.begin()));
  BuildUpInput input = build_up_input(scenario, plan);
  std::vector<double>& times = input.output_times;
  if (is_jump) {
    times.resize(std::min<std::size_t>(2, times.size()));
  } else {
    times.erase(std::lower_bound(times.begin(), times.end(), out.weakest_time), times.end());
    times.push_back(out.weakest_time);
  }
  input.keep_at.clear();
  const BuildUpResult built = build_up(input);
  return is_jump && !built.stored.slices.empty() ? as_stored(built.stored)
                                                 : at_time(built.hoop_tension, built.hoop_tension.shape[0] - 1);
}

}  // namespace

ReportDrawing report_drawing(const Scenario& scenario, const Result& r) {
  const WrapPlan plan = plan_wrap(ResolvedScenario(scenario));
  ReportDrawing out;
  out.film_bottom = std::numeric_limits<double>::infinity();
  out.film_top = -out.film_bottom;
  for (const LaidPatch& p : plan.patches) {
    out.film_bottom = std::min({out.film_bottom, p.patch.edge_begin, p.patch.edge_end});
    out.film_top = std::max(out.film_top, std::max(p.patch.edge_begin, p.patch.edge_end) + p.patch.width);
  }
  std::copy_n(plan.event_faces.begin(), face_count, out.laid_order.begin());
  const auto& stations = r.weakest.stations;
  for (std::size_t i = 1; i < stations.size(); ++i)
    if (stations[i].hoop_tension < stations[out.weakest_station].hoop_tension) out.weakest_station = i;
  out.weakest_time = stations[out.weakest_station].time;
  out.weakest_temperature = stations[out.weakest_station].temperature;
  out.weakest_tension = tension_at_weakest(scenario, r, plan, out);
  return out;
}

}  // namespace hoopfield
