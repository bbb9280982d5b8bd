// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Numbers read off one curve of a virtual test.
#pragma once

#include "sim/film_lab/film_test.hpp"

namespace hoopfield {

/// Fills `curve.numbers`.
void read_film_numbers(const FilmTest& test, FilmCurve& curve);

}  // namespace hoopfield
