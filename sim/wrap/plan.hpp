// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// From a scenario to what the solvers need: film path, take-up, pattern, patches.
#pragma once

#include "models/pattern/pattern.hpp"
#include "sim/buildup/build_up.hpp"
#include "sim/film_path/film_path.hpp"
#include "sim/film_path/film_path_cache.hpp"
#include "sim/inputs/resolved_scenario.hpp"
#include "sim/winding/take_up.hpp"
#include "sim/winding/winding.hpp"

#include <array>
#include <memory>
#include <vector>

namespace hoopfield {

/// Everything known before film touches the load.
struct WrapPlan {
  std::shared_ptr<const FilmLaw> law;
  double perimeter = 0.0;         ///< of the plan, m
  double span_force = 0.0;        ///< N, set
  double wrap_temperature = 0.0;  ///< K
  FilmPath film_path;
  PatternPlan pattern;
  double rotation_time = 0.0;       ///< s
  std::vector<double> event_turns;  ///< fractions of a turn at which faces are laid
  std::vector<std::size_t> event_faces;
  WindingResult wound;  ///< force and film each face received
  std::vector<LaidPatch> patches;
  std::vector<double> turn_end_times;  ///< s, <= 0
  double film_length_on_roll = 0.0;    ///< m
};

/// Throws InputError and SolverError, see predict(). \param cache film paths known already, may be null
[[nodiscard]] WrapPlan plan_wrap(const ResolvedScenario& scenario, FilmPathCache* cache = nullptr,
                                 const DenserTurns& denser = {});

/// Times a result keeps (s, first 0 = end of wrapping) and centres of its slices (m), known before anything is solved.
[[nodiscard]] std::vector<double> result_times(const Scenario& scenario);
[[nodiscard]] std::vector<double> slice_heights(const Scenario& scenario);

/// Input of the build-up for a plan.
[[nodiscard]] BuildUpInput build_up_input(const Scenario& scenario, const WrapPlan& plan);

/// Lower and upper edge of the film on each face, m, mean along the face, within the height of the load.
[[nodiscard]] std::array<std::array<double, 2>, face_count> film_edges(const WrapPlan& plan, double load_height);

/// Least and greatest number of film layers in a band over the start phase of the carriage (8 phases), by geometry
/// alone.
[[nodiscard]] std::pair<double, double> layer_range(const WrapPlan& plan, double load_height, double height,
                                                    double band);

}  // namespace hoopfield
