// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/lab_rows_detail.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace hoopfield::detail {

namespace {

constexpr std::size_t least_points = 8;
constexpr double least_turned = 0.02;  // of the greatest pull: force of the other sign that is noise

using Rows = std::vector<LabRow>;

void sort_rows(Rows& rows, const RowFacts& facts, LabCurve& curve) {
  const bool timed = facts.timed;
  const auto before = [&](const LabRow& a, const LabRow& b) { return timed ? a.time < b.time : a.stretch < b.stretch; };
  const auto wrong = std::is_sorted_until(rows.begin(), rows.end(), before);
  if (wrong == rows.end()) return;
  curve.warnings.push_back(std::string("rows out of order were sorted by ") + (timed ? "time" : "stretch") +
                           ", the first in " + facts.row_word + " " + std::to_string(wrong->line));
  std::stable_sort(rows.begin(), rows.end(), before);
}

/// Rows of one moment become their mean.
void merge_duplicates(Rows& rows, const RowFacts& facts, LabCurve& curve) {
  std::size_t kept = 0, merged = 0;
  int first = 0;
  for (std::size_t i = 0; i < rows.size();) {
    LabRow mean = rows[i];
    std::size_t j = i + 1;
    for (; j < rows.size() && rows[j].time == rows[i].time; ++j) {
      mean.stretch += rows[j].stretch;
      mean.stress += rows[j].stress;
      if (merged++ == 0) first = rows[j].line;
    }
    const double n = static_cast<double>(j - i);
    mean.stretch /= n;
    mean.stress /= n;
    rows[kept++] = mean;
    i = j;
  }
  rows.resize(kept);
  if (merged > 0)
    curve.warnings.push_back(std::to_string(merged) + " rows with a repeated time were averaged, the first in " +
                             facts.row_word + " " + std::to_string(first));
}

/// Some machines count pull as negative. Noise about zero may have either sign.
void turn_sign(Rows& rows, LabCurve& curve) {
  const auto [low, high] =
      std::minmax_element(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.stress < b.stress; });
  if (!(low->stress < 0.0) || high->stress > least_turned * -low->stress) return;
  for (LabRow& row : rows) row.stress = 0.0 - row.stress;
  curve.warnings.push_back("the force is negative throughout: taken as pull, its sign was turned");
}

void check_force(const InputText& input, const Rows& rows) {
  const auto [low, high] =
      std::minmax_element(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.stress < b.stress; });
  if (!(high->stress > 0.0) || -low->stress > 0.5 * high->stress)
    fail_line(input, low->line, "force", {"is negative where film is pulled", "pull as a positive number", {}});
}

/// Grips that went back leave the film slack: the rows without force say nothing about it.
void drop_slack(Rows& rows, const RowFacts& facts, LabCurve& curve) {
  if (curve.kind == FilmTestKind::recovery || curve.kind == FilmTestKind::creep) return;
  const double greatest = greatest_stress(rows);
  std::size_t dropped = 0;
  int first = 0;
  double top = 0.0;
  Rows kept;
  for (const LabRow& row : rows) {
    top = std::max(top, row.stretch);
    if (row.stretch < top - 0.02 && row.stress < 0.005 * greatest) {
      if (dropped++ == 0) first = row.line;
      continue;
    }
    kept.push_back(row);
  }
  if (dropped == 0) return;
  curve.warnings.push_back(std::to_string(dropped) + " rows of slack film were left out, the first in " +
                           facts.row_word + " " + std::to_string(first));
  rows.swap(kept);
}

}  // namespace

void repair_rows(const InputText& input, std::vector<LabRow>& rows, const RowFacts& facts, LabCurve& curve) {
  if (!rows.empty()) {
    sort_rows(rows, facts, curve);
    merge_duplicates(rows, facts, curve);
    turn_sign(rows, curve);
    check_force(input, rows);
    drop_spikes(rows, facts, curve);
    take_off_give(input, rows, facts, curve);
    cut_at_drop(rows, facts, curve);
    drop_slack(rows, facts, curve);
    shift_toe(rows, facts, curve);
  }
  if (rows.size() < least_points)
    fail_line(
        input, rows.empty() ? 0 : rows.back().line, "rows",
        {std::to_string(rows.size()) + " points are too few for a fit",
         std::to_string(least_points) + " or more; `hoopfield film from-datasheet` makes a film from a few numbers",
         {}});
  const double reach = std::max_element(rows.begin(), rows.end(), [](const auto& a, const auto& b) {
                         return a.stretch < b.stretch;
                       })->stretch;
  if (reach < 1.02)
    fail_line(input, rows.back().line, "stretch",
              {"stays below 2 % strain", "a curve that reaches the stretch of use", {}});
  curve.points.reserve(rows.size());
  const double start = rows.front().time;
  for (const LabRow& row : rows) curve.points.push_back({row.time - start, row.stretch, row.stress});
}

}  // namespace hoopfield::detail
