// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The film just laid, still able to slip round the corners.
#pragma once

#include "sim/winding/span.hpp"

#include <cstddef>
#include <vector>

namespace hoopfield {

/// Film on one face, from its event on.
struct LaidFace {
  std::size_t face = 0;          ///< Face (see sim/base/faces.hpp)
  double time = 0.0;             ///< s since the start of rotation
  double angle = 0.0;            ///< rad since the start of rotation
  double length = 0.0;           ///< straight part of the face, m
  double mass = 0.0;             ///< unstretched film on it, m on the roll
  FilmState film;
  double force = 0.0;            ///< N kept after slip
  double force_at_event = 0.0;   ///< N in the span when it was laid
  double limit_behind = 0.0;     ///< mu beta of the corner towards the face laid before; infinite at the clamp
};

/// Lets film slip round corners between laid faces and span until no capstan limit is passed (see
/// models/load/corner_slip.hpp). `faces` in the order laid; those before `first` are held by the film over them.
/// Film crossing a corner brings its own state: the viscous log strains `v_k = ln l - e_k` of a face become the mean of
/// what stayed and what came, weighted by unstretched length (a face is one body of film; v, not e, because film
/// passing to another tension jumps elastically). Composition is taken before the increment on all faces at once, so no
/// order matters.
/// \param limit_to_span  mu beta of the corner in contact, beta the angle wrapped so far
/// \param span_length    internal path + free span, m
/// Returns true when film moved; the span's force must then be refreshed.
bool slip_laid_film(std::vector<LaidFace>& faces, std::size_t first, double limit_to_span, const SpanFilm& film,
                    double span_length, SpanState& span);

}  // namespace hoopfield
