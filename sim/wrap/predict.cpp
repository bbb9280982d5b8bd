// SPDX-License-Identifier: BSD-3-Clause
#include "sim/wrap/predict.hpp"

#include "models/error.hpp"
#include "sim/buildup/build_up.hpp"
#include "sim/inputs/inputs_detail.hpp"
#include "sim/stations/blow_stiffness.hpp"
#include "sim/stations/containment.hpp"
#include "sim/transit/transit_target.hpp"
#include "sim/winding/scenario_winding.hpp"
#include "sim/wrap/plan.hpp"
#include "sim/wrap/plausibility.hpp"
#include "sim/wrap/predict_denser.hpp"
#include "sim/wrap/warnings.hpp"
#include "sim/wrap/weakest.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopfield {
namespace {

/// What the stages find wrong with an input gets the place where it is written.
template <typename Work>
auto placed(const Scenario& s, Work&& work) {
  try {
    return work();
  } catch (const OutOfRange& error) {
    if (error.line > 0 || error.key.empty() || !detail::is_written(s, error.key)) throw;
    const std::string message = error.what(), prefix = error.key + ": ";
    detail::fail_range_at(s, error.key,
                          {message.starts_with(prefix) ? message.substr(prefix.size()) : message, {}, {}});
  }
}

void fill_pattern(const Scenario& s, const WrapPlan& plan, PatternResult& out) {
  const Pattern pattern(plan.pattern);
  out.turns = pattern.turns();
  out.pitch = plan.pattern.pitch_up;
  out.overlap = 1.0 - out.pitch / plan.pattern.laid_width;
  out.gap = bare_gap(plan.pattern);
  const double turns_per_second = s.rotation.speed / (2.0 * std::numbers::pi);
  out.speed_up = plan.pattern.pitch_up * turns_per_second;
  out.speed_down = plan.pattern.pitch_down * turns_per_second;
  out.rotation_time = plan.rotation_time;
  double lowest = s.load.height, highest = 0.0;
  for (const LaidPatch& p : plan.patches) {
    lowest = std::min({lowest, p.patch.edge_begin, p.patch.edge_end});
    highest = std::max({highest, p.patch.edge_begin + p.patch.width, p.patch.edge_end + p.patch.width});
  }
  out.uncovered_bottom = std::max(0.0, lowest);
  out.uncovered_top = std::max(0.0, s.load.height - highest);
}

void fill_span(const WrapPlan& plan, const BuildUpResult& built, double slice_height, SpanResult& out) {
  out = span_result(plan.wound);
  for (std::size_t i = 0; i < plan.wound.faces.size(); ++i) {
    out.face_turn.push_back(plan.patches[i].patch.angle);
    out.face.push_back(plan.patches[i].patch.face);
    out.face_force.push_back(plan.patches[i].force);
  }
  // Force kept by the film on the load over what the set force would put on the same supported strands.
  double kept = 0.0, laid = 0.0;
  for (const LoadStack::Slice& slice : built.at_end)
    for (std::size_t i = 0; i < slice.film.size; ++i) {
      const LaidPatch& p = plan.patches[slice.patch[i]];
      kept += slice.weight[i] * slice.nominal[i] * slice_height;
      laid += slice.weight[i] * slice_height *
              plan.law->stress(p.state, plan.film_path.mode, plan.wrap_temperature).nominal * plan.span_force /
              p.laid_force;
    }
  out.laid_fraction = laid > 0.0 ? kept / laid : 0.0;
}

void fill_load(const Scenario& s, const BuildUpResult& built, LoadResult& out) {
  for (const LoadStack::Slice& slice : built.at_end) {
    out.closing_along_length = std::max(out.closing_along_length, slice.closing[0]);
    out.closing_along_width = std::max(out.closing_along_width, slice.closing[1]);
    for (std::size_t f = 0; f < face_count; ++f)
      out.edge_line_force =
          std::max(out.edge_line_force, std::hypot(slice.tension[f], slice.tension[(f + 1) % face_count]));
  }
  // A quarter turn of tension N on a radius r presses with N/r; the resultant of two equal tensions is sqrt(2) N.
  if (s.load.corner_radius > 0.0) out.edge_pressure = out.edge_line_force / std::numbers::sqrt2 / s.load.corner_radius;
}

void fill_targets(const Scenario& s, Result& r) {
  if (!s.target || s.target->quantity == TargetQuantity::transit) return;
  const bool hoop = s.target->quantity == TargetQuantity::hoop_tension;
  const auto moments =
      choice_list(*find_parameter(ParameterRoom::scenario, "target.at"));  // in the order of TargetTime
  const ContainmentResult* const results[] = {&r.end, &r.after_storage, &r.weakest};
  const auto at = static_cast<std::size_t>(s.target->at);
  const std::array<std::optional<double>, 3> wanted = {s.target->top, s.target->middle, s.target->bottom};
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    if (!wanted[i]) continue;
    const StationResult& station = results[at]->stations[i];
    const double predicted = hoop ? station.hoop_tension : station.pull_force;
    r.targets.push_back({station_names[i],
                         hoop ? "hoop_tension" : "pull_force",
                         std::string(moments[at]),
                         *wanted[i],
                         predicted,
                         predicted >= *wanted[i],
                         {},
                         {}});
  }
}

double mean_hoop_tension(const ContainmentResult& c) {
  double mean = 0.0;
  for (const StationResult& station : c.stations) mean += station.hoop_tension / 3.0;
  return mean;
}

Result predicted(const Scenario& s, Observer* observer, FilmPathCache* cache, const DenserTurns& denser) {
  const auto report = [&](double share, const char* stage) {
    if (observer != nullptr && !observer->progress(share, stage)) throw Interrupted();
  };
  report(0.0, "film path");
  const ResolvedScenario resolved(s);
  const WrapPlan plan = placed(s, [&] { return plan_wrap(resolved, cache, denser); });
  BuildUpInput input = build_up_input(s, plan);
  if (observer != nullptr)
    input.keep_going = [&](double share) { return observer->progress(0.05 + 0.9 * share, "winding and storage"); };
  BuildUpResult built = build_up(input);
  refuse_crushed_load(s, built);
  report(0.95, "stations");

  Result r;
  r.version = HOOPFIELD_VERSION;
  r.time = input.output_times;
  r.height = slice_heights(s);
  for (std::size_t i = 0; i < plan.turn_end_times.size(); ++i) r.turn.push_back(static_cast<double>(i + 1));
  for (const double t : r.time) r.temperature.push_back(input.history.at(t));
  r.film_path = plan.film_path.result;
  fill_pattern(s, plan, r.pattern);
  fill_span(plan, built, input.setup.slice_height, r.span);
  fill_load(s, built, r.load);
  r.film.length_on_roll = plan.film_length_on_roll;
  r.film.mass = plan.film_length_on_roll * s.film.width * s.film.thickness * s.film_description.density;
  const auto edges = film_edges(plan, s.load.height);
  const double duration = s.storage.duration;
  r.end = containment(resolved, {&input.setup, &built.at_end, &built.film_layers, built.path_factor_end, 0.0,
                                 input.history.at(0.0), edges, &plan.patches});
  r.after_storage =
      containment(resolved, {&input.setup, &built.after_storage, &built.film_layers, built.path_factor_storage,
                             duration, input.history.at(duration), edges, &plan.patches});
  r.counters = built.counters;
  r.weakest = weakest_containment(resolved, {&input, &built, &r.end, &r.after_storage, edges, &r.counters});
  r.counters.film_steps = plan.wound.counters.film_steps;
  for (std::size_t i = 0; i < r.end.stations.size(); ++i) {
    const auto [least, most] = layer_range(plan, s.load.height, r.end.stations[i].height, s.stations.band_height);
    for (ContainmentResult* moment : {&r.end, &r.weakest, &r.after_storage}) {
      moment->stations[i].film_layers_min = least;
      moment->stations[i].film_layers_max = most;
    }
  }
  r.force_balance_error = built.residual;
  fill_targets(s, r);
  r.hoop_tension = std::move(built.hoop_tension);
  r.film_layers = std::move(built.film_layers);
  r.film_stiffness = blow_stiffness(input.setup, built.after_storage, input.history.at(duration));
  for (TargetResult& target : transit_targets(s, r)) r.targets.push_back(std::move(target));
  r.hoop_tension_buildup = std::move(built.hoop_tension_buildup);
  r.layer_tension = std::move(built.layer_tension);
  r.closing_along_length = std::move(built.closing_along_length);
  r.closing_along_width = std::move(built.closing_along_width);
  r.warnings = collect_warnings(s, plan, built, r);
  report(1.0, "done");
  return r;
}

}  // namespace

Result predict(const Scenario& s, Observer* observer, FilmPathCache* cache) {
  return predicted(s, observer, cache, {});
}

Result predict_denser(const Scenario& s, const DenserTurns& denser) { return predicted(s, nullptr, nullptr, denser); }

void add_sensitivity(const Scenario& s, Result& result, Observer* observer) {
  constexpr double share = 0.02;
  std::array<double, 2> end{}, stored{};
  for (std::size_t side = 0; side < 2; ++side) {
    Scenario moved = s;
    *moved.delivery.tension.force *= side == 0 ? 1.0 - share : 1.0 + share;
    const Result r = predict(moved, observer);
    end[side] = mean_hoop_tension(r.end);
    stored[side] = mean_hoop_tension(r.after_storage);
  }
  const double step = std::log((1.0 + share) / (1.0 - share));
  result.sensitivity = Sensitivity{std::log(end[1] / end[0]) / step, std::log(stored[1] / stored[0]) / step};
  sensitivity_warning(result);
}

}  // namespace hoopfield
