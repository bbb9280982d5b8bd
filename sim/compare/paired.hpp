// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Two sides of a comparison draw by draw: how far apart they are, how surely, and what would tell them apart.
#pragma once

#include "sim/outputs/band_result.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

/// What the draws say of a candidate against the present wrap.
enum class Verdict { more, less, not_distinguishable };
[[nodiscard]] const char* verdict_word(Verdict verdict);  ///< "more", "less", "not_distinguishable"

/// One number of a candidate against the same number of the present wrap, over draws at the same points.
struct PairedBand {
  std::string name;                                ///< of CompareQuantity
  Band difference;                                 ///< candidate less present, SI
  std::optional<Band> ratio;                       ///< candidate over present; only where the present is positive
  double probability_more = 0.0;                   ///< share of draws in which the candidate has more
  double probability_less = 0.0;                   ///< and less; draws that are equal count for neither
  Verdict verdict = Verdict::not_distinguishable;  ///< by CompareOptions::words_at
  std::optional<double> loads_to_tell;             ///< of each side (loads_to_tell()); only for containment
};

/// A yearly amount that the candidate needs less of than the present wrap; negative where it needs more.
struct Saving {
  std::string name;    ///< "rolls", "film", "money", "co2e"
  double value = 0.0;  ///< SI; money in the currency
  std::optional<Band> band;
};

/// Scatter of a wrap from load to load, and of a reading on it, each as the standard deviation of its logarithm; own
/// assumptions, no source.
inline constexpr double load_scatter = 0.05, reading_scatter = 0.05;
/// More loads than this tell that two sides are equal for every practical purpose; own choice.
inline constexpr double most_loads_to_tell = 1000.0;

/// \param present, candidate values of the same draws; pairs of which one is not finite are left out
/// \param words_at  share of draws, more than 0.5 and below 1, from which on the verdict is "more" or "less"
/// Nothing for fewer than 16 pairs. `name` and `loads_to_tell` are left to the caller.
[[nodiscard]] std::optional<PairedBand> paired_band(const std::vector<double>& present,
                                                    const std::vector<double>& candidate, double words_at);

/// Loads to be wrapped and read once each, of either side, for the mean of their logarithms to show a difference of
/// `ln ratio` with the same certainty both ways: `n = 2 (2 z)^2 (s_l^2 + s_r^2)/(ln ratio)^2`, rounded up, z the normal
/// quantile at `words_at`, s_l and s_r the scatters above. Both sides are read with one instrument, whose common error
/// drops out. Nothing beyond most_loads_to_tell. Pinned by tests/unit/paired_test.cpp.
[[nodiscard]] std::optional<double> loads_to_tell(double ratio, double words_at);

}  // namespace hoopfield
