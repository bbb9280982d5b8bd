// SPDX-License-Identifier: BSD-3-Clause
#include "sim/outputs/band_result.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

constexpr std::size_t least_draws = 16;

std::vector<double> finite_sorted(std::vector<double> values) {
  std::erase_if(values, [](double v) { return !std::isfinite(v); });
  std::sort(values.begin(), values.end());
  return values;
}

}  // namespace

double quantile_of_sorted(const std::vector<double>& sorted, double p) {
  const auto n = static_cast<double>(sorted.size());
  const double rank = std::clamp(p * (n + 1.0), 1.0, n) - 1.0;
  const auto below = static_cast<std::size_t>(rank);
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  const double share = rank - static_cast<double>(below);
  return sorted[below] + share * (sorted[above] - sorted[below]);
}

std::optional<Band> band_of_draws(std::vector<double> values) {
  const std::vector<double> sorted = finite_sorted(std::move(values));
  if (sorted.size() < least_draws) return std::nullopt;
  return Band{quantile_of_sorted(sorted, 0.05), quantile_of_sorted(sorted, 0.5), quantile_of_sorted(sorted, 0.95)};
}

double BandResult::failed_draws() const {
  double count = 0.0;
  for (const FailedDraws& reason : failed) count += reason.count;
  return count;
}

std::vector<double> BandResult::values(std::string_view name) const {
  const auto found = std::find(names.begin(), names.end(), name);
  if (found == names.end()) return {};
  const auto column = static_cast<std::size_t>(found - names.begin());
  std::vector<double> list(draws());
  for (std::size_t i = 0; i < list.size(); ++i) list[i] = numbers[i * names.size() + column];
  return list;
}

std::optional<Band> BandResult::band(std::string_view name) const {
  if (!message.empty()) return std::nullopt;
  return band_of_draws(values(name));
}

std::optional<double> BandResult::largest_sampling_error() const {
  std::optional<double> largest;
  if (!message.empty()) return largest;
  for (const std::string& name : names) {
    if (!name.ends_with(".hoop_tension") || name.find(".faces.") != std::string::npos) continue;
    if (const auto error = sampling_error(values(name))) largest = std::max(largest.value_or(0.0), *error);
  }
  return largest;
}

std::optional<double> sampling_error(std::vector<double> values) {
  const std::vector<double> sorted = finite_sorted(std::move(values));
  if (sorted.size() < least_draws) return std::nullopt;
  const auto n = static_cast<double>(sorted.size());
  constexpr double p = 0.05;
  const double shift = std::sqrt(p * (1.0 - p) / n);
  const double width = quantile_of_sorted(sorted, 1.0 - p) - quantile_of_sorted(sorted, p);
  if (!(width > 0.0)) return std::nullopt;
  const double low = quantile_of_sorted(sorted, p + shift) - quantile_of_sorted(sorted, p - shift);
  const double high = quantile_of_sorted(sorted, 1.0 - p + shift) - quantile_of_sorted(sorted, 1.0 - p - shift);
  return 0.25 * (low + high) / width;
}

}  // namespace hoopfield
