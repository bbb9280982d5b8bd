// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The façade: one scenario in, one result out.
#pragma once

#include "sim/base/observer.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

namespace hoopfield {

class FilmPathCache;

/// Predicts one wrap. Thread-safe: no state outside the arguments.
/// \param cache film paths shared between predictions (film_path/film_path_cache.hpp); the result is the same without
/// Throws InputError for a scenario that is not complete, SolverError where the physics has no solution.
[[nodiscard]] Result predict(const Scenario& scenario, Observer* observer = nullptr, FilmPathCache* cache = nullptr);

/// Fills `result.sensitivity`: d ln(mean hoop tension of the stations) / d ln(span force), by central differences of
/// +-2 %.
void add_sensitivity(const Scenario& scenario, Result& result, Observer* observer = nullptr);

}  // namespace hoopfield
