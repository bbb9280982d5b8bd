// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A FilmCurve as a tuple and back, for pickle and copy.
#pragma once

#include "sim/film_lab/film_test.hpp"

#include <pybind11/pybind11.h>

namespace hoopfield::python {

/// (test, numbers, points of shape (points, 5), index of the last point of the first stretching).
[[nodiscard]] pybind11::tuple state_of(const TestedFilm& tested);

/// Throws InputError for a tuple of another shape or with values no curve has.
[[nodiscard]] TestedFilm curve_from(const pybind11::tuple& state);

}  // namespace hoopfield::python
