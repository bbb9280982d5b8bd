// SPDX-License-Identifier: BSD-3-Clause
#include "sim/bands/indices.hpp"

#include "models/error.hpp"
#include "sim/bands/detail/drawer.hpp"
#include "sim/base/parallel.hpp"
#include "sim/transit/transit_target.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <random>

namespace hoopfield {
namespace {

using bands_detail::Draw;
using bands_detail::Drawer;
using bands_detail::DrawStatus;

constexpr int resamplings = 200;

struct Rows {
  std::vector<double> a, b, ab;
};

/// The estimators over the rows of `pick`.
template <typename Pick>
SobolIndex index_of(const Rows& rows, std::size_t n, Pick&& pick) {
  double pair_sum = 0.0, pair_squares = 0.0, first = 0.0, total = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const double a = rows.a[pick(i)], b = rows.b[pick(i)], ab = rows.ab[pick(i)];
    pair_sum += a + b;
    pair_squares += a * a + b * b;
    first += b * (ab - a);
    total += 0.5 * (a - ab) * (a - ab);
  }
  const auto count = static_cast<double>(n);
  const double pair_mean = pair_sum / (2.0 * count);
  const double variance = pair_squares / (2.0 * count) - pair_mean * pair_mean;
  SobolIndex index;
  if (!(variance > 0.0)) return index;  // the number does not vary
  index.first = first / count / variance;
  index.total = total / count / variance;
  return index;
}

double half_width(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return 0.5 * (quantile_of_sorted(values, 0.95) - quantile_of_sorted(values, 0.05));
}

}  // namespace

SobolIndex sobol_index(const std::vector<double>& a, const std::vector<double>& b, const std::vector<double>& ab) {
  if (a.size() != b.size() || a.size() != ab.size() || a.size() < 2)
    throw InputError("indices need three rows of the same length, two numbers or more");
  const Rows rows{a, b, ab};
  const std::size_t n = a.size();
  SobolIndex index = index_of(rows, n, [](std::size_t i) { return i; });
  std::mt19937_64 random(1);
  std::vector<double> firsts, totals;
  std::vector<std::size_t> picked(n);
  for (int r = 0; r < resamplings; ++r) {
    for (std::size_t& p : picked) p = static_cast<std::size_t>(random() % n);
    const SobolIndex again = index_of(rows, n, [&](std::size_t i) { return picked[i]; });
    firsts.push_back(again.first);
    totals.push_back(again.total);
  }
  index.first_error = half_width(std::move(firsts));
  index.total_error = half_width(std::move(totals));
  return index;
}

std::vector<UnknownIndex> unknown_indices(const Scenario& scenario, const Result& result, const BandOptions& options,
                                          Observer* observer) {
  check_band_samples(static_cast<std::int64_t>(options.samples));
  BandOptions of_wrap = options;
  if (!targets_transit(scenario))
    for (std::string& key : transit_only_keys()) of_wrap.held.push_back(std::move(key));
  const Drawer drawer(scenario, of_wrap, options.samples, 2);
  const RankMeasure measure = rank_measure(result);
  const std::vector<std::string> names = drawer.names();
  const std::size_t groups = drawer.groups(), n = options.samples, sets = groups + 2;
  std::vector<double> values(n * sets, std::numeric_limits<double>::quiet_NaN());
  run_parallel(n * sets, observer, options.from, options.to, "indices of the unknown inputs",
               [&](std::size_t job, Observer* watch) {
                 const std::size_t row = job / sets, set = job % sets;
                 std::vector<double> z = drawer.normals(row, set == 1 ? 1 : 0);
                 if (set >= 2) {
                   const std::vector<double> other = drawer.normals(row, 1);
                   const auto [from, to] = drawer.place(set - 2);
                   for (std::size_t i = from; i < to; ++i) z[i] = other[i];
                 }
                 const Draw d = drawer.draw(z, watch);
                 if (d.status == DrawStatus::done) values[job] = measure.of(names, d.numbers);
               });
  std::vector<std::size_t> whole;
  double sum = 0.0;
  for (std::size_t row = 0; row < n; ++row) {
    const auto begin = values.begin() + static_cast<std::ptrdiff_t>(row * sets);
    if (std::all_of(begin, begin + static_cast<std::ptrdiff_t>(sets), [](double v) { return std::isfinite(v); }))
      whole.push_back(row), sum = std::accumulate(begin, begin + static_cast<std::ptrdiff_t>(sets), sum);
  }
  const double mean = sum / static_cast<double>(std::max<std::size_t>(1, whole.size() * sets));
  if (whole.size() < 2) throw SolverError("indices: fewer than two rows of draws could be computed");
  const auto column = [&](std::size_t set) {
    std::vector<double> list;
    for (const std::size_t row : whole) list.push_back(values[row * sets + set] - mean);
    return list;
  };
  const std::vector<double> a = column(0), b = column(1);
  std::vector<UnknownIndex> indices;
  for (std::size_t g = 0; g < groups; ++g) indices.push_back({drawer.group_key(g), sobol_index(a, b, column(g + 2))});
  std::stable_sort(indices.begin(), indices.end(),
                   [](const UnknownIndex& x, const UnknownIndex& y) { return x.index.total > y.index.total; });
  return indices;
}

}  // namespace hoopfield
