// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What is uncertain in a scenario: every input with its distribution.
#pragma once

#include "sim/inputs/inputs.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace hoopfield {

/// On which scale one half of a distribution is normal.
enum class SpreadScale { linear, logarithm, logit };

/// An uncertain input. Its distribution has two halves: the median is the value in use, the 5 % and 95 % quantiles are
/// `low` and `high`. With the standard normal z and z95 its 95 % quantile (1.6449), the value is
/// `g^-1(g(value) + z/z95 (g(high) - g(value)))` for z >= 0, and the same with `g(value) - g(low)` below. g is the
/// logarithm where the key has a lower bound of 0 or more and no upper one, `ln((x - a)/(b - x))` where it lies between
/// bounds a and b, and x itself where it has no such bounds, or where the end or the value stands on a bound: that half
/// is cut off at the bound. Pinned by tests/unit/unknowns_test.cpp.
struct Unknown {
  std::string key;
  Origin origin = Origin::assumed;
  double value = 0.0, low = 0.0, high = 0.0;  ///< SI
  double least = 0.0, most = 0.0;             ///< bounds of the key; infinite without
  SpreadScale below = SpreadScale::linear, above = SpreadScale::linear;
  const Parameter* parameter = nullptr;  ///< never null; static
  /// The numbers are shares of what the formula of the tent factor adds to 1 (stations.tent_factor left to it).
  bool formula_share = false;
};

/// 95 % quantile of the standard normal distribution.
inline constexpr double normal_95 = 1.6448536269514722;

/// All uncertain inputs but the numbers of the film file, in the order of the reference: assumed ones with a declared
/// range that act in this scenario, given ones with a declared error, and what [uncertainty] says otherwise.
[[nodiscard]] std::vector<Unknown> unknown_inputs(const Scenario& scenario);

/// True for an input that acts on the load in transit and on nothing else.
[[nodiscard]] bool acts_in_transit_only(std::string_view key);
/// Those inputs.
[[nodiscard]] std::vector<std::string> transit_only_keys();

/// Value of an unknown at a standard normal z.
[[nodiscard]] double value_at(const Unknown& unknown, double z);

/// Puts values of unknowns into a scenario, all at once, validated. Throws InputError or OutOfRange.
void set_unknowns(Scenario& scenario, const std::vector<Unknown>& unknowns, const std::vector<double>& values);

/// True for a number of draws: 0 (no bands) or a power of two from 16 to 65536, which `draw_counts` says in words.
[[nodiscard]] bool is_draw_count(std::int64_t samples);
inline constexpr const char* draw_counts = "0 (no bands) or a power of two from 16 to 65536";

/// True when the numbers of the film file are drawn: it has a covariance or an assumed density, and the scenario does
/// not say "exact".
[[nodiscard]] bool film_is_unknown(const Scenario& scenario);

/// The numbers of a film file that are uncertain: those its covariance speaks of, and an assumed density. Its neck-in
/// is an input of the scenario (delivery.neck_in).
class FilmSpread {
 public:
  /// Throws InputError for a covariance that names numbers the film does not have.
  explicit FilmSpread(const FilmDescription& film);
  [[nodiscard]] std::size_t size() const { return keys_.size() + (density_ ? 1 : 0); }
  /// The film at standard normal numbers z, one for each: `ln p = ln p0 + e (A z)` or, for activation energies and
  /// [thermal], `p = p0 + e (A z)`, A A^T the correlation. Pinned by tests/unit/unknowns_test.cpp.
  [[nodiscard]] FilmDescription at(const std::vector<double>& z) const;

 private:
  FilmDescription film_;
  std::vector<std::string> keys_;
  std::optional<Unknown> density_;
  std::vector<double> root_;  ///< e A, row by row
};

/// "log", "logit", "linear"
[[nodiscard]] const char* scale_word(SpreadScale scale);

}  // namespace hoopfield
