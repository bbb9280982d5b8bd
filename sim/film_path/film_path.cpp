// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_path/film_path.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/film_path/draw.hpp"
#include "sim/film_path/monotone_root.hpp"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <string>

namespace hoopfield {
namespace {

// Of ln(stretch) in a step; over the whole residence time the stretch then errs by less than a millionth
// (tests/unit/draw_test.cpp).
constexpr double creep_tolerance = 1e-5;
// Of roller speed times stretch on the load against the speed of take-up.
constexpr double speed_tolerance = 1e-9;

double mean_branch_strain(const FilmLaw& law, const FilmState& state, const WidthMode& mode, double temperature) {
  const FilmRates rates = law.rates(state, mode, temperature);
  double weighted = 0.0, sum = 0.0;
  for (std::size_t k = 0; k < law.branch_count(); ++k) {
    weighted += rates.modulus[k] * state.strain[k];
    sum += rates.modulus[k];
  }
  return sum > 0.0 ? weighted / sum : 0.0;
}

void set_speed(const FilmPathInput& input, double roller_speed_1, FilmPathResult& r) {
  r.roller_speed_1 = roller_speed_1;
  r.roller_speed_2 = roller_speed_1 * input.draw_ratio;
  r.dwell_time = input.roller_arc / r.roller_speed_2;
}

/// Everything after the gap, for a draw that runs at roller speed v1. The time to the load is that at the speed of
/// take-up, which v1 times the stretch on the load is in the end.
FilmPath after_gap(const FilmPathInput& input, const DrawResult& drawn, double width_exponent) {
  const FilmLaw& law = *input.law;
  FilmPath path;
  path.width_exponent = width_exponent;
  FilmPathResult& r = path.result;
  set_speed(input, drawn.roller_speed_1, r);

  const WidthMode gap_mode = WidthMode::power(width_exponent);
  FilmState state = drawn.exit;
  law.step(state, state.stretch, r.dwell_time, gap_mode, input.temperature, input.temperature);
  path.width_factor = released_width_factor(input.draw_ratio, width_exponent,
                                            mean_branch_strain(law, state, gap_mode, input.temperature));
  path.mode = WidthMode::free(shape_from_width_factor(path.width_factor));
  path.entry = state;

  const double section = input.roll_width * input.roll_thickness;
  const double time_as_laid = (input.internal_path + input.mean_span) / input.take_up_speed;
  if (input.stretch_on_load) {
    const CreptFilm crept = creep_to_stretch(law, state, *input.stretch_on_load, input.span_force / section,
                                             time_as_laid, path.mode, input.temperature, creep_tolerance);
    path.laid = crept.film;
    r.residence_time = crept.time;
    path.span_force = law.stress(path.laid, path.mode, input.temperature).nominal * section;
  } else {
    path.laid = state;
    r.residence_time = creep_along(law, path.laid, input.span_force / section, time_as_laid, path.mode,
                                   input.temperature, creep_tolerance);
    path.span_force = input.span_force;
  }
  const double stretch = path.laid.stretch;
  r.stretch_on_load = r.stretch_on_load_min = r.stretch_on_load_max = stretch;
  r.laid_width = r.laid_width_min = r.laid_width_max = input.roll_width * path.width_factor / std::sqrt(stretch);
  r.laid_thickness = section / (r.laid_width * stretch);
  const FilmStress elastic = law.stress(path.laid, path.mode, input.temperature);
  r.stiffness_over_force = elastic.slope / elastic.nominal;
  return path;
}

void report_draw(const FilmPathInput& input, const DrawResult& drawn, FilmPathResult& r) {
  const double section = input.roll_width * input.roll_thickness;
  r.stretch_in_gap = input.draw_ratio;
  r.prestretch_force = drawn.nominal_stress * section;
  r.prestretch_power = r.prestretch_force * (r.roller_speed_2 - r.roller_speed_1);
  r.film_temperature = drawn.exit_temperature;
  r.draw_temperature_rise = drawn.exit_temperature - input.temperature;
  r.gap_sharpness = drawn.sharpness / input.roll_thickness;
  for (const DrawPoint& point : drawn.profile) {
    r.gap_position.push_back(point.position);
    r.gap_stretch.push_back(point.stretch);
    r.gap_temperature.push_back(point.temperature);
  }
}

DrawInput draw_input(const FilmPathInput& input, double width_exponent) {
  DrawInput d;
  d.tolerance = 1e-6;
  d.law = input.law;
  d.ratio = input.draw_ratio;
  d.gap = input.roller_gap;
  d.width_exponent = width_exponent;
  d.temperature = input.temperature;
  d.volumetric_heat = input.density * input.heat_capacity;
  d.entropic_share = input.entropic_share;
  d.roller_speed_1 = input.take_up_speed / input.draw_ratio;
  d.slowest = 0.01 * d.roller_speed_1;  // stretch on the load is never a hundred times the draw ratio
  return d;
}

/// Film whose state at the exit of the gap does not depend on the roller speed: the speed follows from the laid
/// stretch, which depends on it through the dwell alone.
FilmPath path_at_any_speed(const FilmPathInput& input, DrawResult drawn, double width_exponent) {
  FilmPath path;
  const auto at_speed = [&](double speed) {
    drawn.roller_speed_1 = speed;
    path = after_gap(input, drawn, width_exponent);
    return std::log(speed * path.result.stretch_on_load / input.take_up_speed);
  };
  if (input.stretch_on_load) {
    (void)at_speed(input.take_up_speed / *input.stretch_on_load);
  } else {
    const double speed = increasing_root(at_speed, input.take_up_speed / input.draw_ratio, 0.1 * speed_tolerance,
                                         "the speed of the rollers", 1.0);
    (void)at_speed(speed);
  }
  set_speed(input, input.take_up_speed / path.result.stretch_on_load, path.result);
  report_draw(input, drawn, path.result);
  return path;
}

/// Without a draw the film reaches the span as it left the roll.
FilmPath undrawn_path(const FilmPathInput& input) {
  DrawResult none;
  none.exit_temperature = input.temperature;
  return path_at_any_speed(input, none, 0.5);
}

/// Next to its stretch limit the network carries any force on paper; no film does.
void require_carried(const FilmPathInput& input, const FilmPath& path) {
  constexpr double most = 0.96;
  const double limit = input.law->stretch_limit(path.mode);
  if (path.laid.stretch <= most * limit) return;
  throw FilmLimitError(
      "the film cannot carry the span force: it runs to " + short_number(100.0 * (path.laid.stretch - 1.0)) +
          " %, next to the stretch limit of its network (" + short_number(100.0 * (limit - 1.0)) + " %)",
      "less force, a thicker or stiffer film, or a higher pre-stretch");
}

FilmPath path_for_exponent(const FilmPathInput& input, double width_exponent) {
  const DrawInput d = draw_input(input, width_exponent);
  require_reachable(d);
  if (input.law->branch_count() == 0) return path_at_any_speed(input, elastic_draw(d), width_exponent);
  if (input.stretch_on_load) {
    DrawInput fed = d;
    fed.roller_speed_1 = input.take_up_speed / *input.stretch_on_load;
    fed.slowest = 0.01 * fed.roller_speed_1;
    DrawResult drawn = draw(fed);
    if (drawn.is_jump) return path_at_any_speed(input, drawn, width_exponent);
    drawn.roller_speed_1 = fed.roller_speed_1;  // what the search leaves in the force is not left in the film's length
    FilmPath path = after_gap(input, drawn, width_exponent);
    report_draw(input, drawn, path.result);
    return path;
  }
  // One search for the force at which the roller speed of the draw is the one that take-up asks for.
  RoughFirst draw_in(d);
  const auto miss = [&](double stress) {
    const DrawResult trial = draw_in(stress);
    if (!(trial.roller_speed_1 > 0.0) || !std::isfinite(trial.roller_speed_1)) return std::log(trial.roller_speed_1);
    const double stretch = after_gap(input, trial, width_exponent).result.stretch_on_load;
    return std::log(trial.roller_speed_1 * stretch / input.take_up_speed);
  };
  const double stress = increasing_root(miss, draw_stress_guess(d), speed_tolerance / speed_over_force,
                                        "the draw between the rollers", speed_over_force);
  const DrawResult drawn = settled_draw(d, stress);
  if (drawn.is_jump) return path_at_any_speed(input, drawn, width_exponent);
  FilmPath path = after_gap(input, drawn, width_exponent);
  set_speed(input, input.take_up_speed / path.result.stretch_on_load, path.result);
  report_draw(input, drawn, path.result);
  return path;
}

/// The path whose film is `wanted` wide on the load. The width falls as the exponent grows, its logarithm nearly
/// evenly, so a few paths find it. `close` is the relative error of the width at which the search ends.
FilmPath path_for_width(const FilmPathInput& input, double wanted) {
  constexpr double close = 5e-8;
  FilmPath path;
  const auto miss = [&](double exponent) {
    path = path_for_exponent(input, exponent);
    const double error = std::log(path.result.laid_width / wanted);
    return std::abs(error) < close ? 0.0 : error;
  };
  const double at_widest = miss(0.0);
  if (at_widest == 0.0) return path;
  const double widest = path.result.laid_width;
  const double at_narrowest = miss(0.5);
  if (at_narrowest == 0.0) return path;
  if (at_widest < 0.0 || at_narrowest > 0.0)
    throw OutOfRange("delivery.width_on_load: " + short_number(wanted * 1e3) +
                         " mm fits no width exponent between 0 and 0.5; expected " +
                         short_number(path.result.laid_width * 1e3) + " to " + short_number(widest * 1e3) +
                         " mm at this stretch",
                     {}, 0, 0, "delivery.width_on_load");
  const auto narrow = [](double low, double high) { return high - low < 1e-7; };
  std::uintmax_t most = 50;
  const auto [low, high] = boost::math::tools::toms748_solve(miss, 0.0, 0.5, at_widest, at_narrowest, narrow, most);
  if (path.width_exponent != low && path.width_exponent != high) path = path_for_exponent(input, 0.5 * (low + high));
  return path;
}

FilmPath path_of_any_force(const FilmPathInput& input) {
  if (input.draw_ratio <= 1.0 + 1e-9) return undrawn_path(input);
  if (!(input.roller_gap > 0.0))
    throw OutOfRange(
        "delivery.roller_gap: 0 mm leaves no length to draw film in; expected more than 0 mm with pre-stretch", {}, 0,
        0, "delivery.roller_gap");
  if (!input.width_on_load) return path_for_exponent(input, input.width_exponent);

  return path_for_width(input, *input.width_on_load);
}

}  // namespace

CreptFilm creep_to_stretch(const FilmLaw& law, const FilmState& drawn, double stretch, double nominal_guess,
                           double time_as_laid, const WidthMode& mode, double temperature, double tolerance) {
  // A stress that the film cannot carry or runs away under is too much.
  const auto miss = [&](double nominal, CreptFilm& crept) {
    try {
      crept.film = drawn;
      crept.time = creep_along(law, crept.film, nominal, time_as_laid, mode, temperature, tolerance);
    } catch (const SolverError&) {
      return std::numeric_limits<double>::infinity();
    }
    return std::log(crept.film.stretch / stretch);
  };
  CreptFilm film;
  double low = 0.0, high = std::numeric_limits<double>::infinity();
  double x0 = 0.0, f0 = std::numeric_limits<double>::quiet_NaN(), x1 = nominal_guess;
  for (int i = 0; i < 100; ++i) {
    const double f1 = miss(x1, film);
    if (std::abs(f1) < 1e-13) return film;
    (f1 < 0.0 ? low : high) = x1;
    double next = x1 - f1 * (x1 - x0) / (f1 - f0);
    if (i == 0) next = f1 < 0.0 ? 1.05 * x1 : 0.95 * x1;
    if (!std::isfinite(next)) next = std::isfinite(high) ? 0.5 * (low + high) : 1.5 * x1;
    next = std::clamp(next, 0.1 * x1, 3.0 * x1);
    if (!(next > low && next < high)) next = std::isfinite(high) ? 0.5 * (low + high) : 1.5 * x1;
    if (next <= 1e-9 * nominal_guess)
      throw SolverError("delivery.tension.length_per_turn: the film would lie slack on the load",
                        "feed less film per turn than its stress-free stretch requires");
    if (std::abs(next - x1) <= 1e-15 * x1) {
      if (std::abs(f1) < 1e-9) return film;
      break;
    }
    if (std::isfinite(f1)) {
      x0 = x1;
      f0 = f1;
    }
    x1 = next;
  }
  throw SolverError("delivery.tension.length_per_turn: the film cannot be stretched to " +
                        short_number(100.0 * (stretch - 1.0)) + " % in the span",
                    "let out more film per turn");
}

FilmPath solve_film_path(const FilmPathInput& input) {
  FilmPath path = path_of_any_force(input);
  require_carried(input, path);
  return path;
}

}  // namespace hoopfield
