// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How an identified film is shown.
#pragma once

#include "bindings/cli/words.hpp"
#include "sim/film_lab/datasheet.hpp"
#include "sim/film_lab/film_fit.hpp"

#include <string>

namespace hoopfield::cli {

[[nodiscard]] std::string film_fit_text(const FilmFit& fit, UnitStyle units);
/// The same for a film from a data sheet: first what it is good for.
[[nodiscard]] std::string film_sheet_text(const FilmSheet& sheet, const FilmFit& fit, UnitStyle units);
[[nodiscard]] std::string film_fit_json(const FilmFit& fit);
/// Columns curve, time_s, stretch_percent, stress_MPa, fitted_MPa, residual_MPa.
[[nodiscard]] std::string film_fit_residuals_csv(const FilmFit& fit);
/// Parameters with intervals, also for a film from a data sheet.
[[nodiscard]] std::string fitted_parameters_text(const FilmFit& fit, UnitStyle style);
[[nodiscard]] std::string fitted_numbers_text(const FilmFit& fit, const DisplayUnits& units);

}  // namespace hoopfield::cli
