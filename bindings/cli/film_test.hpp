// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How virtual tests of a film are shown.
#pragma once

#include "bindings/cli/words.hpp"
#include "sim/film_lab/derived_numbers.hpp"
#include "sim/film_lab/film_test.hpp"

#include <string>
#include <vector>

namespace hoopfield::cli {

/// A single test as a page, a series (rates, temperatures) as one table with a row per test.
[[nodiscard]] std::string film_curve_text(const FilmDescription& film, const TestedFilm& tested, UnitStyle units);
[[nodiscard]] std::string film_series_text(const FilmDescription& film, const std::vector<TestedFilm>& series,
                                           UnitStyle units);
/// `{..., "curve": {...}}` for one test, `{"tests": [...]}` for a series. `derived`: empty, or the numbers films are
/// compared by for every test, under "film_numbers" with names and units as `compare --json` has them.
[[nodiscard]] std::string film_curves_json(const FilmDescription& film, const std::vector<TestedFilm>& series,
                                           const std::vector<DerivedNumbers>& derived = {});
/// One test: columns stretch_percent, stress_MPa, time_s, as `film fit` reads them; `# key: value` lines above say how
/// the test was made. A series: the same columns after rate_per_s and temperature_C.
[[nodiscard]] std::string film_curves_csv(const FilmDescription& film, const std::vector<TestedFilm>& series);

/// The line above comparison numbers: at which stretch, rate and temperature (K) they were read.
[[nodiscard]] std::string derived_title(const DerivedSettings& settings, double temperature, UnitStyle units);

/// The numbers films are compared by, with their glossary names.
[[nodiscard]] std::string derived_text(const DerivedNumbers& numbers, UnitStyle units);

}  // namespace hoopfield::cli
