// SPDX-License-Identifier: BSD-3-Clause
#include "sim/wrap/plan.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/buildup/fold_in.hpp"
#include "sim/inputs/work_limit.hpp"
#include "sim/winding/scenario_winding.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

namespace hoopfield {
namespace {

constexpr double turn_angle = 2.0 * std::numbers::pi;
constexpr double speed_matters = 1e-5;  // relative change of the rollers' speed that is followed up

/// Width of film that has a stretch on the load, m.
double laid_width(double roll_width, const FilmPath& path, double stretch) {
  return roll_width * path.width_factor / std::sqrt(stretch);
}

FilmPathInput film_path_input(const ResolvedScenario& resolved, const WrapPlan& plan, double mean_span) {
  const Scenario& s = resolved.inputs;
  FilmPathInput in;
  in.law = plan.law.get();
  in.roll_width = s.film.width;
  in.roll_thickness = s.film.thickness;
  in.density = s.film_description.density;
  in.heat_capacity = s.film_description.thermal.heat_capacity;
  in.entropic_share = s.film_description.thermal.entropic_share;
  in.draw_ratio = 1.0 + s.delivery.prestretch - s.delivery.prestretch_slip;
  in.roller_gap = s.delivery.roller_gap;
  in.roller_arc = s.delivery.roller_arc;
  in.internal_path = s.delivery.internal_path;
  in.mean_span = mean_span;
  in.span_force = plan.span_force;
  in.take_up_speed = s.rotation.speed * plan.perimeter / turn_angle;
  if (resolved.length_per_turn > 0.0) in.stretch_on_load = 1.0 / resolved.length_per_turn;
  in.width_exponent = resolved.width_exponent;
  in.width_on_load = s.delivery.width_on_load;
  in.temperature = plan.wrap_temperature;
  return in;
}

/// Exactly one of carriage speeds, pitch and overlap is given; the pitch follows.
void set_pitches(const Scenario& s, PatternPlan& plan) {
  const PatternInput& p = s.pattern;
  const double turns_per_second = s.rotation.speed / turn_angle;
  if (p.speed_up || p.speed_down) {
    plan.pitch_up = p.speed_up.value_or(p.speed_down.value_or(0.0)) / turns_per_second;
    plan.pitch_down = p.speed_down.value_or(p.speed_up.value_or(0.0)) / turns_per_second;
  } else if (p.pitch) {
    plan.pitch_up = plan.pitch_down = *p.pitch;
  } else {
    plan.pitch_up = plan.pitch_down = (1.0 - p.overlap.value_or(0.4)) * plan.laid_width;
  }
}

PatternPlan pattern_plan(const Scenario& s, double laid_width, const DenserTurns& denser) {
  PatternPlan plan;
  plan.denser = denser;
  plan.load_height = s.load.height;
  plan.laid_width = laid_width;
  plan.roping_width = s.pattern.roping_width.value_or(0.0);
  plan.bottom_turns = s.pattern.bottom_turns;
  plan.top_turns = s.pattern.top_turns;
  plan.top_overhang = s.pattern.top_overhang;
  plan.start_height = s.pattern.start_height;
  plan.descent = s.pattern.descent;
  plan.turns = s.pattern.turns.value_or(0);
  set_pitches(s, plan);
  if (plan.top_overhang >= laid_width)
    throw InputError("pattern.top_overhang: as wide as the film on the load (" + short_number(laid_width * 1e3) +
                         " mm); expected less, so that some film holds the load",
                     s.path, 0, 0, "pattern.top_overhang");
  return plan;
}

/// Winds the pattern of the film path known so far.
void wind_pattern(const Scenario& s, const DenserTurns& denser, WrapPlan& plan) {
  plan.pattern = pattern_plan(s, plan.film_path.result.laid_width, denser);
  const double turns = Pattern(plan.pattern).turns();
  require_workable(s, turns, plan.pattern.laid_width);
  WindingInput input = winding_input(s, plan.law, plan.film_path, turns, plan.wrap_temperature);
  input.film_steps_before = plan.wound.counters.film_steps;
  plan.wound = wind(input);
}

/// What the film on the load tells of its path: stretch and width of all of it, hence the speed of the rollers.
void report_laid_film(const Scenario& s, WrapPlan& plan) {
  FilmPathResult& r = plan.film_path.result;
  const WindingResult& wound = plan.wound;
  r.stretch_on_load = wound.stretch_mean;
  r.stretch_on_load_min = wound.stretch_min;
  r.stretch_on_load_max = wound.stretch_max;
  r.laid_width_min = laid_width(s.film.width, plan.film_path, wound.stretch_max);
  r.laid_width_max = laid_width(s.film.width, plan.film_path, wound.stretch_min);
  double length = 0.0, area = 0.0;
  for (std::size_t i = wound.turn_begin; i < wound.turn_end; ++i) {
    length += wound.faces[i].length;
    area += wound.faces[i].length * laid_width(s.film.width, plan.film_path, wound.faces[i].film.stretch);
  }
  if (length > 0.0) r.laid_width = area / length;
  r.laid_thickness = s.film.width * s.film.thickness / (r.laid_width * r.stretch_on_load);
  const double speed = s.rotation.speed * plan.perimeter / (turn_angle * r.stretch_on_load);
  const double slower = r.roller_speed_1 / speed;
  r.roller_speed_1 /= slower;
  r.roller_speed_2 /= slower;
  r.prestretch_power /= slower;
  r.dwell_time *= slower;
}

/// One patch of the wrap: the film laid there, in its own width about the middle of the carriage's film.
LaidPatch laid_patch(const Scenario& s, const WrapPlan& plan, const Patch& patch, const LaidFace& face) {
  LaidPatch laid;
  laid.patch = patch;
  if (patch.width == plan.pattern.laid_width) {  // a rope is as wide as it is gathered
    laid.patch.width = laid_width(s.film.width, plan.film_path, face.film.stretch);
    const double margin = 0.5 * (patch.width - laid.patch.width);
    laid.patch.edge_begin += margin;
    laid.patch.edge_end += margin;
  }
  const double section = s.film.width * s.film.thickness;
  laid.time = face.time - plan.rotation_time;
  laid.state = face.film;
  laid.force = laid.laid_force = face.force;
  if (face.force != face.force_at_event)
    laid.laid_force = section * plan.law->stress(face.film, plan.film_path.mode, plan.wrap_temperature).nominal;
  laid.section_per_width = section / laid.patch.width;
  return laid;
}

/// Patches with times, and film folded in over the top edge.
void lay_out(const Scenario& s, WrapPlan& plan) {
  const Pattern pattern(plan.pattern);
  plan.rotation_time = rotation_time(pattern.turns(), s.rotation.speed, s.rotation.ramp_turns);
  plan.film_length_on_roll = plan.wound.film_used;
  std::map<std::pair<double, double>, FilmState> folded;  // by overhang and stretch: top turns and settled turns share
  const std::vector<Patch> patches = lay_patches(pattern, plan.event_turns, plan.event_faces);
  assert(patches.size() == plan.wound.faces.size());
  for (std::size_t i = 0; i < patches.size(); ++i) {
    LaidPatch laid = laid_patch(s, plan, patches[i], plan.wound.faces[i]);
    const double overhang = mean_width_above(laid.patch, s.load.height);
    if (overhang > 0.0 && overhang < laid.patch.width) {
      const auto [known, is_new] = folded.try_emplace({overhang, laid.state.stretch});
      if (is_new)
        known->second = fold_in(*plan.law, laid.state, plan.film_path.mode, plan.wrap_temperature, laid.patch.width,
                                overhang, plan.perimeter);
      laid.state = known->second;
    }
    plan.patches.push_back(laid);
  }
  for (int turn = 1; turn <= static_cast<int>(pattern.turns()); ++turn)
    plan.turn_end_times.push_back(rotation_time(turn, s.rotation.speed, s.rotation.ramp_turns) - plan.rotation_time);
}

/// The break stretch is that of half the specimens or so; beyond it there is no wrap to predict.
void require_unbroken(const Scenario& s, const FilmPathResult& path) {
  const auto& breaking = s.film_description.breaking;
  if (!breaking || path.stretch_on_load_max - 1.0 < breaking->stretch) return;
  throw FilmLimitError("the film breaks in the span: the force stretches it to " +
                           short_number(100.0 * (path.stretch_on_load_max - 1.0)) + " %, its break stretch is " +
                           short_number(100.0 * breaking->stretch) + " %",
                       "less force, or a thicker or stiffer film");
}

}  // namespace

WrapPlan plan_wrap(const ResolvedScenario& resolved, FilmPathCache* cache, const DenserTurns& denser) {
  const Scenario& s = resolved.inputs;
  WrapPlan plan;
  const bool scaled = s.film.stiffness_scale != 1.0;
  const FilmDescription stiffened =
      scaled ? scaled_film(s.film_description, s.film.stiffness_scale) : FilmDescription{};
  const FilmDescription& film = scaled ? stiffened : s.film_description;
  plan.law = make_film_law(film);
  plan.span_force = resolved.span_force;
  plan.wrap_temperature = s.wrapping.temperature;
  const TakeUp take_up(take_up_plan(s));
  plan.perimeter = take_up.perimeter();
  for (const FaceEvent& event : take_up.events()) {
    plan.event_turns.push_back(event.angle / turn_angle);
    plan.event_faces.push_back(event.face);
  }
  FilmPathInput path_input = film_path_input(resolved, plan, take_up.mean_span());
  const auto solve_path = [&] {
    plan.film_path = cache != nullptr ? cache->solve(path_input, film) : solve_film_path(path_input);
    require_unbroken(s, plan.film_path.result);
  };
  solve_path();
  wind_pattern(s, denser, plan);
  // Where the mean force is not the set one, or film slipped, the rollers run at another speed than was thought: once
  // more at the stretch found, after which some hundredths of that change are left.
  const double off = plan.wound.stretch_mean / plan.film_path.result.stretch_on_load - 1.0;
  if (!path_input.stretch_on_load && std::abs(off) > speed_matters) {
    path_input.stretch_on_load = plan.wound.stretch_mean;
    solve_path();
    wind_pattern(s, denser, plan);
  }
  report_laid_film(s, plan);
  require_unbroken(s, plan.film_path.result);
  lay_out(s, plan);
  return plan;
}

std::vector<double> result_times(const Scenario& s) {
  return output_times(s.storage.duration, TemperatureHistory(s.wrapping.temperature, s.storage.temperature), 3);
}

std::vector<double> slice_heights(const Scenario& s) {
  const double slice_height = s.load.height / static_cast<double>(s.numerics.slices);
  std::vector<double> heights;
  for (int i = 0; i < s.numerics.slices; ++i) heights.push_back((static_cast<double>(i) + 0.5) * slice_height);
  return heights;
}

namespace {

/// Temperature knots within storage, some of them where there are many: from there the weakest moments are looked for.
std::vector<double> kept_times(const std::vector<double>& outputs, const TemperatureHistory& history) {
  constexpr std::size_t most = 8;
  std::vector<double> knots;
  for (const double time : outputs)
    for (const auto& [at, value] : history.knots())
      if (at == time && time > 0.0 && time < outputs.back()) knots.push_back(time);
  std::vector<double> kept;
  const std::size_t stride = 1 + knots.size() / most;
  for (std::size_t i = 0; i < knots.size(); i += stride) kept.push_back(knots[i]);
  return kept;
}

}  // namespace

BuildUpInput build_up_input(const Scenario& s, const WrapPlan& plan) {
  BuildUpInput in;
  in.setup.law = plan.law.get();
  in.setup.mode = plan.film_path.mode;
  in.setup.length = s.load.length;
  in.setup.width = s.load.width;
  in.setup.compliance = ClosingCompliance::from_stiffness(s.load.stiffness_along_length, s.load.stiffness_along_width,
                                                          s.load.stiffness_coupling);
  in.setup.creep = CreepLadder(s.load.creep_per_decade, s.load.creep_start, s.storage.duration + plan.rotation_time);
  in.setup.shear_stiffness = s.load.shear_stiffness;
  in.setup.tolerance = s.numerics.tolerance;
  in.slice_count = static_cast<std::size_t>(s.numerics.slices);
  in.setup.slice_height = s.load.height / static_cast<double>(in.slice_count);
  in.patches = plan.patches;
  in.turn_end_times = plan.turn_end_times;
  in.history = TemperatureHistory(s.wrapping.temperature, s.storage.temperature);
  in.output_times = result_times(s);
  in.keep_at = kept_times(in.output_times, in.history);
  in.film_expansion = s.film_description.thermal.expansion;
  in.load_expansion = s.load.expansion;
  in.settling = s.load.settling;
  SolverCounters wound;
  wound.film_steps = plan.wound.counters.film_steps;
  in.work_before = wound.work();
  in.most_work = most_work(s.numerics.slices, static_cast<double>(in.turn_end_times.size()),
                           static_cast<double>(in.output_times.size()), s.numerics.tolerance);
  constexpr double stuck = std::numeric_limits<double>::infinity();
  in.corners = {s.friction.film_on_load.value_or(stuck), s.friction.film_on_film.value_or(stuck)};
  return in;
}

std::array<std::array<double, 2>, face_count> film_edges(const WrapPlan& plan, double load_height) {
  std::array<std::array<double, 2>, face_count> edges;
  edges.fill({load_height, 0.0});
  for (const LaidPatch& p : plan.patches) {
    auto& [low, high] = edges[p.patch.face];
    const double lower = 0.5 * (p.patch.edge_begin + p.patch.edge_end);
    low = std::min(low, std::max(lower, 0.0));
    high = std::max(high, std::min(lower + p.patch.width, load_height));
  }
  return edges;
}

std::pair<double, double> layer_range(const WrapPlan& plan, double load_height, double height, double band) {
  const double low = std::max(0.0, height - 0.5 * band);
  const double high = std::min(load_height, std::max(height + 0.5 * band, low + 1e-3));
  double least = 1e300, most = 0.0;
  for (int phase = 0; phase < 8; ++phase) {
    PatternPlan shifted = plan.pattern;
    shifted.start_phase = phase / 8.0;
    std::vector<double> layers(face_count, 0.0);
    for (const Patch& patch : lay_patches(Pattern(shifted), plan.event_turns, plan.event_faces))
      layers[patch.face] += covered_fraction(patch, low, high);
    double mean = 0.0;
    for (const double l : layers) mean += l / static_cast<double>(face_count);
    least = std::min(least, mean);
    most = std::max(most, mean);
  }
  return {least, most};
}

}  // namespace hoopfield
