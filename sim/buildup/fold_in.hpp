// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film that stands above the top edge of the load and folds in over it.
#pragma once

#include "models/film/film_law.hpp"

namespace hoopfield {

/// State of the supported strands of a patch that overhangs the top edge by `overhang` (m, mean over the face).
///
/// A strand at height u above the edge closes over the top, its path is shorter by 8u, so it runs at `l (1 -
/// 8u/perimeter)` and is slack when that stress is negative. The patch still carries the span force:
/// `(w - o) P(l_s) + int_0^o max(P(l_s (1 - 8u/perimeter)), 0) du = w P(l)`, elastic jumps from the laid state.
/// Special case: o = 0 returns the laid state. Throws SolverError when the supported strands cannot carry the force.
/// Pinned by tests/unit/fold_in_test.cpp.
[[nodiscard]] FilmState fold_in(const FilmLaw& law, const FilmState& laid, const WidthMode& mode, double temperature,
                                double laid_width, double overhang, double perimeter);

}  // namespace hoopfield
