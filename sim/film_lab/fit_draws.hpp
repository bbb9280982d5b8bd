// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Laws that meet the curves as well as the fitted one, spread over what the curves leave open.
///
/// Randomised maximum likelihood: readings are moved by their error, the centres of the prior by the error of the
/// prior, and the sum of squares is minimised again, from the fit and from the other minima that meet the curves in
/// turn. A draw follows the curved valleys that data leave open, where a covariance at the minimum goes straight on and
/// leaves them. For a law linear in its parameters the draws are exactly those of the posterior; else nearly so.
/// (Oliver, He & Reynolds 1996; from memory.) Draws have three branches or more, however few the information criterion
/// chose: what a curve does not need it does not exclude. Pinned by tests/consistency/film_fit_draws_test.cpp.
#pragma once

#include "sim/film_lab/fit_result.hpp"

namespace hoopfield::detail {

/// Of 59 equal draws the least and the greatest hold the next one 58 times out of 60: a little more than 95 %, since
/// draws of a curved law lie somewhat close.
inline constexpr std::size_t draw_count = 59;

/// Up to `draw_count` films; fewer where minimising fails. `base` gives what no curve tells. \param seed of the draws.
[[nodiscard]] std::vector<FilmDescription> draw_films(const FitOutcome& outcome, const FilmDescription& base,
                                                      unsigned seed, Observer* observer);

}  // namespace hoopfield::detail
