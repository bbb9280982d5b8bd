// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Steps of compare(); private to sim/compare.
#pragma once

#include "sim/compare/compare.hpp"
#include "sim/film_path/film_path_cache.hpp"

namespace hoopfield::compare_detail {

/// Makes a candidate equal to the present wrap in what the options say and writes down what changed.
void make_same(const Scenario& present, Scenario& candidate, SameWhat same, std::vector<Adjustment>& adjustments,
               FilmPathCache& cache);

/// Containments that differ by less than this share of the best count as equal; own assumption.
inline constexpr double equal_containment = 0.01;
/// So do those that the draws cannot tell from the best, as long as they are predicted within this share of it; own
/// assumption.
inline constexpr double equal_over_draws = 0.05;

/// Moves the pre-stretch to where the least station holds most after storage, within the break share of the film's
/// break stretch; among those that hold as much (`equal_containment`, and with draws `equal_over_draws`), to the one
/// that takes the least film. Throws InputError for a film without one, SolverError when no pre-stretch can be
/// computed.
void find_best_prestretch(Scenario& scenario, const CompareOptions& options, std::vector<Adjustment>& adjustments,
                          Observer* observer, FilmPathCache& cache);

/// compare_draws() of a band.
[[nodiscard]] std::vector<double> draws_of(const BandResult& band, const std::string& name);

/// Changes the pitch (or, with all turns at one height, the turns) to the whole turns whose film mass is nearest to
/// `wanted`, kg. Throws SolverError when none is near.
void match_film_mass(Scenario& scenario, double wanted, std::vector<Adjustment>& adjustments, FilmPathCache& cache);

/// Film mass of one wrap without winding it, kg.
[[nodiscard]] double planned_film_mass(const Scenario& scenario, FilmPathCache& cache);

/// Fills `differences`.
void explain_differences(Comparison& comparison, Observer* observer, double from, double to, FilmPathCache& cache);

/// Draws all sides at the same points, and fills what the draws say of each against the present one.
void draw_sides(Comparison& comparison, const std::vector<CompareSide>& given, Observer* observer, double from,
                double to);

/// Chooses the measures and fills who dominates whom.
void judge_dominance(Comparison& comparison);

/// What a reader must know before comparing: other loads, other currencies.
void collect_compare_warnings(Comparison& comparison);

}  // namespace hoopfield::compare_detail
