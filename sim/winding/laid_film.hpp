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
  std::size_t face = 0;         ///< Face (see sim/base/faces.hpp)
  double time = 0.0;            ///< s since the start of rotation
  double angle = 0.0;           ///< rad since the start of rotation
  double length = 0.0;          ///< straight part of the face, m
  double mass = 0.0;            ///< unstretched film on it, m on the roll
  double round = 0.0;           ///< unstretched film on the corner round laid just before it, m on the roll
  FilmState film;               ///< as laid, with all that slipped later taken to have slipped at its event
  FilmState rested;             ///< the same film at `rested_at`, having relaxed since its event
  double rested_at = 0.0;       ///< s since the start of rotation
  double force = 0.0;           ///< N kept after slip: when film last slipped on to or off it, else at its event
  double force_at_event = 0.0;  ///< N in the span when it was laid
  double limit_behind = 0.0;    ///< mu beta of the corner towards the face laid before; infinite at the clamp
};

/// Lets laid faces relax at held length up to a time, by the film law.
void rest_faces(std::vector<LaidFace>& faces, const SpanFilm& film, double time);

/// What a step round the corners came to.
struct SlipWork {
  bool slipped = false;
  std::size_t film_steps = 0;  ///< steps of the film law it took
};

/// One step in which film relaxes on the faces, flows in the span, and slips round corners so far that no capstan limit
/// is passed at its end (see models/load/corner_slip.hpp): T_f(m) is the tension of face or span when its film has
/// moved over the step to the stretch that m leaves it, dashpots following. `faces` are those that can still slip, in
/// the order laid; older ones are held by the film over them. Film crossing a corner brings its own state: the viscous
/// log strains `v_k = ln l - e_k` of a face become the mean of what stayed and what came, weighted by unstretched
/// length (a face is one body of film; v, not e, because film passing to another tension jumps elastically); half of it
/// at the start of the step, half at its end. Composition is taken on all faces at once, so no order matters. A control
/// that holds the force holds the span's tension whatever slips, and its film keeps its state.
/// \param limit_to_span  mu beta of the corner in contact at the end of the step, beta the angle wrapped so far
/// \param end  the span at the end of the step when nothing slips; corrected when film does
/// Pinned by tests/unit/winding_test.cpp and tests/unit/film_state_test.cpp.
SlipWork slip_laid_film(std::vector<LaidFace>& faces, double limit_to_span, const Span& span, const Span::Move& move,
                        SpanState& end);

}  // namespace hoopfield
