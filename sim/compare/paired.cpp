// SPDX-License-Identifier: BSD-3-Clause
#include "sim/compare/paired.hpp"

#include <boost/math/special_functions/erf.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopfield {

const char* verdict_word(Verdict verdict) {
  constexpr const char* words[] = {"more", "less", "not_distinguishable"};
  return words[static_cast<std::size_t>(verdict)];
}

std::optional<PairedBand> paired_band(const std::vector<double>& present, const std::vector<double>& candidate,
                                      double words_at) {
  std::vector<double> differences, ratios;
  double more = 0.0, less = 0.0;
  bool has_ratio = true;
  for (std::size_t i = 0; i < std::min(present.size(), candidate.size()); ++i) {
    const double then = present[i], now = candidate[i];
    if (!std::isfinite(then) || !std::isfinite(now)) continue;
    differences.push_back(now - then);
    has_ratio = has_ratio && then > 0.0;
    if (has_ratio) ratios.push_back(now / then);
    more += now > then ? 1.0 : 0.0;
    less += now < then ? 1.0 : 0.0;
  }
  const auto pairs = static_cast<double>(differences.size());
  const auto difference = band_of_draws(std::move(differences));
  if (!difference) return std::nullopt;
  PairedBand paired;
  paired.difference = *difference;
  if (has_ratio) paired.ratio = band_of_draws(std::move(ratios));
  paired.probability_more = more / pairs;
  paired.probability_less = less / pairs;
  if (paired.probability_more >= words_at) paired.verdict = Verdict::more;
  if (paired.probability_less >= words_at) paired.verdict = Verdict::less;
  return paired;
}

std::optional<double> loads_to_tell(double ratio, double words_at) {
  const double z = -std::numbers::sqrt2 * boost::math::erfc_inv(2.0 * words_at);
  const double distance = std::log(ratio) / (2.0 * z);
  const double variance = 2.0 * (load_scatter * load_scatter + reading_scatter * reading_scatter);
  if (!(variance < most_loads_to_tell * distance * distance)) return std::nullopt;
  return std::max(1.0, std::ceil(variance / (distance * distance)));
}

}  // namespace hoopfield
