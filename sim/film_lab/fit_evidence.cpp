// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_evidence.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::detail {

namespace {

using Number = std::optional<double> DerivedNumbers::*;

constexpr double per_decade_of_rate = 0.03;
constexpr double start_of_curve = 0.05;  // modulus and knee
constexpr double start_strain = 0.03;
constexpr double let_back_seen = 0.12, let_back_unseen = 0.35;
constexpr double kept_seen = 0.02, kept_per_decade = 0.07;
constexpr double set_recovered = 0.05, set_per_decade = 0.05, set_unloaded = 0.12, set_unseen = 0.30;
constexpr double recovery_time = 86400.0;  // s, of the number permanent_set

double decades(double from, double to) { return from > 0.0 && to > 0.0 ? std::log10(to / from) : 8.0; }

double rate_error(const Evidence& evidence, double rate) {
  double nearest = 4.0;
  for (const double seen : evidence.rates) nearest = std::min(nearest, std::abs(decades(seen, rate)));
  return per_decade_of_rate * nearest;
}

double kept_error(const Evidence& evidence, double time, double law_error) {
  const double seen = std::max(evidence.longest_hold, evidence.slowest_pull);
  return std::hypot(std::max(kept_seen, law_error), kept_per_decade * std::max(0.0, decades(seen, time)));
}

double set_error(const Evidence& evidence, double strain) {
  if (evidence.longest_free > 0.0)
    return strain *
           std::hypot(set_recovered, set_per_decade * std::max(0.0, decades(evidence.longest_free, recovery_time)));
  return strain * (evidence.unloads ? set_unloaded : set_unseen);
}

double slope_error(const DerivedNumbers& numbers, double stress_error) {
  if (!numbers.stress_at_200 || !numbers.stress_at_300) return 0.0;
  const auto g = [](double l) { return l * l - 1.0 / l; };
  const double high = 4.0 * *numbers.stress_at_300, low = 3.0 * *numbers.stress_at_200;
  // Half of the variance is common to both and falls out of the difference.
  const double apart = std::sqrt(0.5) * std::hypot(high, low), common = std::sqrt(0.5) * (high - low);
  return stress_error * std::hypot(apart, common) / (g(4.0) - g(3.0));
}

double start_misfit(const std::vector<CurveResidual>& curves) {
  double square = 0.0, count = 0.0;
  for (const CurveResidual& curve : curves)
    for (std::size_t i = 0; i < curve.stretch.size() && curve.stretch[i] <= 1.0 + start_strain; ++i) {
      if (!(curve.measured[i] > 0.0)) continue;
      square += std::pow(curve.fitted[i] / curve.measured[i] - 1.0, 2);
      count += 1.0;
    }
  return count > 0.0 ? std::sqrt(square / count) : 0.0;
}

}  // namespace

Evidence evidence_of(const std::vector<FitPath>& paths, const std::vector<CurveResidual>& curves) {
  Evidence evidence;
  evidence.start_misfit = start_misfit(curves);
  for (const FitPath& path : paths) {
    if (path.rate > 0.0) {
      evidence.rates.push_back(path.rate);
      evidence.slowest_pull = std::max(evidence.slowest_pull, (path.greatest_stretch - 1.0) / path.rate);
    }
    evidence.longest_hold = std::max(evidence.longest_hold, path.longest_hold);
    evidence.longest_free = std::max(evidence.longest_free, path.longest_free);
    evidence.unloads = evidence.unloads || path.has(FitLeg::unloading);
  }
  return evidence;
}

bool even_in_logarithm(Number number) {
  for (const Number plain : {&DerivedNumbers::hardening_slope, &DerivedNumbers::kept_1_min, &DerivedNumbers::kept_1_h,
                             &DerivedNumbers::kept_24_h, &DerivedNumbers::kept_30_d, &DerivedNumbers::permanent_set,
                             &DerivedNumbers::break_stretch})
    if (number == plain) return false;
  return true;
}

std::vector<double> reaching_errors(const DerivedNumbers& numbers, const Evidence& evidence,
                                    const DerivedSettings& settings, double law_error) {
  const double rate = rate_error(evidence, settings.rate), stress = std::hypot(law_error, rate);
  const auto error_of = [&](Number number) {
    if (number == &DerivedNumbers::secant_modulus || number == &DerivedNumbers::knee_stress)
      return std::hypot(rate, std::hypot(start_of_curve, evidence.start_misfit));
    if (number == &DerivedNumbers::hardening_slope) return slope_error(numbers, stress);
    if (number == &DerivedNumbers::unloading_stiffness || number == &DerivedNumbers::held_stiffness_over_force)
      return std::hypot(2.0 * law_error, rate, evidence.unloads ? let_back_seen : let_back_unseen);
    if (number == &DerivedNumbers::kept_1_min) return kept_error(evidence, 60.0, law_error);
    if (number == &DerivedNumbers::kept_1_h) return kept_error(evidence, 3600.0, law_error);
    if (number == &DerivedNumbers::kept_24_h) return kept_error(evidence, 86400.0, law_error);
    if (number == &DerivedNumbers::kept_30_d) return kept_error(evidence, 2592000.0, law_error);
    if (number == &DerivedNumbers::permanent_set) return set_error(evidence, settings.stretch);
    if (number == &DerivedNumbers::break_stretch) return 0.0;
    return rate;
  };
  std::vector<double> errors;
  for (const DerivedField& field : derived_fields()) errors.push_back(error_of(field.value));
  return errors;
}

}  // namespace hoopfield::detail
