// SPDX-License-Identifier: BSD-3-Clause
// Spikes, slips and breaks of a curve.
#include "sim/base/middle.hpp"
#include "sim/film_lab/lab_rows_detail.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <utility>

namespace hoopfield::detail {

namespace {

using Rows = std::vector<LabRow>;

constexpr double slip_share = 0.25;    // of the greatest force so far, lost at once
constexpr double whole_share = 0.10;   // of the greatest force of the curve: a smaller fall is noise
constexpr double slip_strain = 0.05;   // over less stretching than this share of the stretch: a knee falls more slowly
constexpr double quick_strain = 0.01;  // a fall over several rows: within this strain
constexpr std::size_t down_rows = 5;   // the force must stay down over these
constexpr std::size_t longest_spike = 2;
constexpr double calm = 0.25;  // of a spike: what its neighbours may differ by

double middle_stress(const Rows& rows, std::size_t first, std::size_t beyond) {
  std::vector<double> values;
  for (std::size_t i = first; i < std::min(beyond, rows.size()); ++i) values.push_back(rows[i].stress);
  return middle_of(std::move(values));
}

/// Whether rows first..first+length-1 stand apart from the two on either side, which agree with one another.
bool is_spike(const Rows& rows, std::size_t first, std::size_t length, double greatest) {
  if (first < 2 || first + length + 2 > rows.size()) return false;
  double low = rows[first - 1].stress, high = low;
  for (const std::size_t i : {first - 2, first + length, first + length + 1}) {
    low = std::min(low, rows[i].stress);
    high = std::max(high, rows[i].stress);
  }
  double apart = greatest;
  int side = 0;
  for (std::size_t i = first; i < first + length; ++i) {
    const double above = rows[i].stress - high, below = low - rows[i].stress;
    const int now = above > 0.0 ? 1 : below > 0.0 ? -1 : 0;
    if (now == 0 || (side != 0 && now != side)) return false;
    side = now;
    apart = std::min(apart, std::max(above, below));
  }
  return apart > slip_share * std::max(std::abs(high), 2.0 * whole_share * greatest) && high - low < calm * apart;
}

/// The highest of the rows before row i that a quick record may have written since the force began to fall.
class RecentTop {
 public:
  /// Rows are asked for in order, i = 1, 2, ...
  std::size_t before(const Rows& rows, std::size_t i) {
    while (!falling_.empty() && rows[falling_.back()].stress <= rows[i - 1].stress) falling_.pop_back();
    falling_.push_back(i - 1);
    while (falling_.size() > 1 && rows[i].stretch - rows[falling_.front()].stretch >= quick_strain)
      falling_.pop_front();
    return falling_.front();
  }

 private:
  std::deque<std::size_t> falling_;  // stresses fall from front to back
};

/// Whether the force falls from row `top` to row i and stays down.
bool falls(const Rows& rows, std::size_t top, std::size_t i, double so_far, double whole) {
  const double fall = rows[top].stress - rows[i].stress;
  if (!(fall > slip_share * so_far && fall > whole_share * whole)) return false;
  const double before = middle_stress(rows, top < 2 ? 0 : top - 2, top + 1);
  return middle_stress(rows, i, i + down_rows) <= std::min(before, rows[top].stress) - 0.5 * fall;
}

}  // namespace

double greatest_stress(const Rows& rows) {
  double greatest = 0.0;
  for (const LabRow& row : rows) greatest = std::max(greatest, row.stress);
  return greatest;
}

void drop_spikes(Rows& rows, const RowFacts& facts, LabCurve& curve) {
  const double greatest = greatest_stress(rows);
  Rows kept;
  kept.reserve(rows.size());
  std::size_t dropped = 0;
  int line = 0;
  for (std::size_t i = 0; i < rows.size();) {
    std::size_t length = 1;
    while (length <= longest_spike && !is_spike(rows, i, length, greatest)) ++length;
    if (length > longest_spike) {
      kept.push_back(rows[i++]);
      continue;
    }
    if (dropped == 0) line = rows[i].line;
    dropped += length;
    i += length;
  }
  if (dropped == 0) return;
  const bool one = dropped == 1;
  curve.warnings.push_back(
      std::to_string(dropped) + (one ? " row" : " rows") + " with a spike of the force, which came back at once, " +
      (one ? "was left out, in " : "were left out, the first in ") + facts.row_word + " " + std::to_string(line));
  rows.swap(kept);
}

void cut_at_drop(Rows& rows, const RowFacts& facts, LabCurve& curve) {
  const double whole = greatest_stress(rows);
  double so_far = 0.0;
  RecentTop recent_top;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    so_far = std::max(so_far, rows[i - 1].stress);
    const std::size_t recent = recent_top.before(rows, i);
    const std::size_t top = curve.kind == FilmTestKind::tensile ? recent : i - 1;
    const bool forward = rows[i].stretch >= rows[i - 1].stretch - 1e-3;
    const bool close = rows[i].stretch > rows[0].stretch &&
                       rows[i].stretch - rows[i - 1].stretch < slip_strain * rows[i].stretch + 1e-9;
    // In a hold the force may fall, but not by a quarter between two rows of a moment.
    const bool moving = rows[i].stretch > rows[i - 1].stretch + 1e-9 || curve.kind == FilmTestKind::tensile;
    if (!forward || !close || !moving) continue;
    if (!falls(rows, top, i, so_far, whole)) continue;
    double after = 0.0;
    for (std::size_t j = std::min(i + down_rows, rows.size()) - 1; j < rows.size(); ++j)
      after = std::max(after, rows[j].stress);
    const bool broke = after < 0.5 * so_far;
    const double strain = rows[top].stretch - 1.0;
    curve.warnings.push_back(std::string("force drops in ") + facts.row_word + " " +
                             std::to_string(rows[top + 1].line) + ", at " +
                             std::to_string(std::lround(strain * 100.0)) + " % strain: taken as a " +
                             (broke ? "break" : "slip in the grips") + "; " + std::to_string(rows.size() - top - 1) +
                             " rows from there on were left out");
    if (broke) curve.break_stretch = strain;
    rows.resize(top + 1);
    return;
  }
}

}  // namespace hoopfield::detail
