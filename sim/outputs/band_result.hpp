// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The draws behind the bands of a prediction.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hoopfield {

/// 5 %, 50 % and 95 % quantile of a number over the draws.
struct Band {
  double low = 0.0, median = 0.0, high = 0.0;
};

/// The band of numbers drawn n times: the value of rank p (n + 1), linear between neighbours (of n equally likely
/// draws this holds the next one in 90 % of cases, whatever the distribution). Numbers that are not finite are left
/// out. Nothing for fewer than 16. Pinned by tests/unit/bands_test.cpp.
[[nodiscard]] std::optional<Band> band_of_draws(std::vector<double> values);

/// The value of rank p (n + 1) of sorted numbers.
[[nodiscard]] double quantile_of_sorted(const std::vector<double>& sorted, double p);

/// One input that was drawn.
struct DrawnInput {
  std::string key;                            ///< of the scenario, or "film.file" for the numbers of the film
  std::string origin;                         ///< "assumed", "given", "measured", "fitted"
  std::string unit;                           ///< SI
  std::string below, above;                   ///< scales of the two halves: "log", "logit", "linear"
  double low = 0.0, value = 0.0, high = 0.0;  ///< 5 %, 50 % and 95 %, SI
  bool formula_share = false;                 ///< share of what the formula of the tent factor adds to 1

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("key", s.key);
    visit("origin", s.origin);
    visit("unit", s.unit);
    visit("below", s.below);
    visit("above", s.above);
    visit("low", s.low);
    visit("value", s.value);
    visit("high", s.high);
    visit("formula_share", s.formula_share);
  }
};

/// A reason for draws without a result, and how many.
struct FailedDraws {
  std::string code;  ///< "film-breaks", "film-runs-away", "no-solution"
  double count = 0.0;
  std::string message;  ///< of the first
  [[nodiscard]] std::string first_line() const { return message.substr(0, message.find('\n')); }

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("code", s.code);
    visit("count", s.count);
    visit("message", s.message);
  }
};

/// All draws of one prediction. Draw i of input k stands in `inputs[i * keys + k]`.
struct BandResult {
  double samples = 0.0;              ///< draws
  double redrawn = 0.0;              ///< points that left a bound and were replaced by later points of the sequence
  std::string message;               ///< why there is no band; empty when there is one
  std::vector<DrawnInput> unknowns;  ///< what was drawn; the film's numbers are one entry
  std::vector<FailedDraws> failed;   ///< by reason
  std::vector<std::string> names;    ///< of the numbers: those of summary_outputs(), then "cost."
  std::vector<double> inputs;        ///< (draw, unknown) SI; NaN for the entry of the film
  std::vector<double> numbers;       ///< (draw, name) SI; NaN where the draw failed
  std::vector<double> status;        ///< (draw): 0 = done, 1 = film broke or ran away, 2 = no solution
  std::vector<double> point;         ///< (draw): its place in the sequence of points

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("samples", s.samples);
    visit("redrawn", s.redrawn);
    visit("message", s.message);
    visit("unknowns", s.unknowns);
    visit("failed", s.failed);
    visit("names", s.names);
    visit("inputs", s.inputs);
    visit("numbers", s.numbers);
    visit("status", s.status);
    visit("point", s.point);
  }

  [[nodiscard]] std::size_t draws() const { return static_cast<std::size_t>(samples); }
  [[nodiscard]] double failed_draws() const;
  /// Values of one number, draw by draw; empty for a name that is not there.
  [[nodiscard]] std::vector<double> values(std::string_view name) const;
  /// Its band; nothing where `message` says why.
  [[nodiscard]] std::optional<Band> band(std::string_view name) const;
  /// sampling_error() of the hoop tension at the stations, the largest there is; nothing without a band.
  [[nodiscard]] std::optional<double> largest_sampling_error() const;
};

/// First-order and total Sobol' index of one input (sim/bands/indices.hpp).
struct SobolIndex {
  double first = 0.0, total = 0.0;
  double first_error = 0.0, total_error = 0.0;  ///< half of the central 90 %, from 200 resamplings of the rows

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("first", s.first);
    visit("total", s.total);
    visit("first_error", s.first_error);
    visit("total_error", s.total_error);
  }
};

/// The indices of one unknown.
struct UnknownIndex {
  std::string key;  ///< "film.file" for the numbers of the film together
  SobolIndex index;

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("key", s.key);
    visit("index", s.index);
  }
};

/// Standard deviation of the ends of a band, as a share of its width: of random draws at the ranks n p +- sqrt(n p q).
/// Scrambled points do better. Nothing for a band without width.
[[nodiscard]] std::optional<double> sampling_error(std::vector<double> values);

}  // namespace hoopfield
