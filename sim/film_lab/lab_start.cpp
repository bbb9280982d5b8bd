// SPDX-License-Identifier: BSD-3-Clause
// The start of a curve: give of the machine, slack and toe.
#include "models/text.hpp"
#include "sim/base/middle.hpp"
#include "sim/film_lab/lab_rows_detail.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace hoopfield::detail {

namespace {

using Rows = std::vector<LabRow>;

constexpr double start_strain = 0.10;    // after the force came up: beyond the knee of polyethylene film
constexpr double up_share = 0.10;        // of the greatest stress: the force came up
constexpr double window_rise = 0.25;     // of the stress at the end of the start
constexpr double highest_mean = 0.70;    // the same, for the middle of a window
constexpr double least_strain = 0.002;   // of a window
constexpr std::size_t least_rows = 4;    // of a window
constexpr double window_growth = 1.25;   // from one number of rows to the next
constexpr double bound_errors = 2.5;     // standard errors below a slope; more for few rows
constexpr double least_shift = 0.0015;   // strain: less is no toe
constexpr double shift_errors = 4.0;     // standard errors that a shift must exceed
constexpr double latest_start = 0.05;    // strain of the first row: a curve that begins later is not searched
constexpr double greatest_fold = 0.005;  // strain that a corrected curve may go back, for the noise of the force

/// Rows of the first loading up to `start_strain` after the force came up for good.
std::size_t end_of_start(const Rows& rows) {
  const double greatest = greatest_stress(rows);
  double reach = 0.0;
  for (const LabRow& row : rows) reach = std::max(reach, row.stretch);
  std::size_t up = 0;
  const auto above = [&](std::size_t i) { return i >= rows.size() || rows[i].stress > up_share * greatest; };
  while (up < rows.size() && !(above(up) && above(up + 1) && above(up + 2))) ++up;
  if (up >= rows.size()) return 0;
  const double last = std::min(rows[up].stretch + start_strain, reach - 1e-6);
  std::size_t end = up;
  while (end < rows.size() && rows[end].stretch < last) ++end;
  return std::min(end + 1, rows.size());
}

/// Sums over the first rows, from which the line through any window follows.
class WindowLines {
 public:
  WindowLines(const Rows& rows, std::size_t count) : sums_(count + 1) {
    centre_ = rows[count / 2].stretch;
    for (std::size_t i = 0; i < count; ++i) {
      const double x = rows[i].stretch - centre_, y = rows[i].stress;
      const std::array<double, 5> add = {x, y, x * x, x * y, y * y};
      for (std::size_t k = 0; k < add.size(); ++k) sums_[i + 1][k] = sums_[i][k] + add[k];
    }
  }
  struct Line {
    double slope = 0.0, slope_error = 0.0, mean_stretch = 0.0, mean_stress = 0.0, scatter = 0.0;
  };
  [[nodiscard]] Line through(std::size_t first, std::size_t beyond) const {
    std::array<double, 5> s{};
    for (std::size_t k = 0; k < s.size(); ++k) s[k] = sums_[beyond][k] - sums_[first][k];
    const double n = static_cast<double>(beyond - first);
    const double xx = s[2] - s[0] * s[0] / n, xy = s[3] - s[0] * s[1] / n, yy = s[4] - s[1] * s[1] / n;
    Line line;
    if (!(xx > 0.0)) return line;
    line.slope = xy / xx;
    line.scatter = std::sqrt(std::max(0.0, yy - line.slope * xy) / (n - 2.0));
    line.slope_error = line.scatter / std::sqrt(xx);
    line.mean_stretch = centre_ + s[0] / n;
    line.mean_stress = s[1] / n;
    return line;
  }

 private:
  double centre_ = 1.0;
  std::vector<std::array<double, 5>> sums_;
};

/// Time at which the loading passes a stretch.
double time_at(const Rows& rows, double stretch) {
  std::size_t i = 1;
  while (i + 1 < rows.size() && rows[i].stretch < stretch) ++i;
  const LabRow &a = rows[i - 1], &b = rows[i];
  const double share =
      b.stretch > a.stretch ? std::clamp((stretch - a.stretch) / (b.stretch - a.stretch), 0.0, 1.0) : 0.0;
  return a.time + share * (b.time - a.time);
}

}  // namespace

std::optional<StartTangent> start_tangent(const Rows& rows) {
  const std::size_t count = rows.empty() ? 0 : end_of_start(rows);
  if (count < least_rows) return std::nullopt;
  std::vector<double> tail;
  for (std::size_t i = count - std::max<std::size_t>(3, count / 4); i < count; ++i) tail.push_back(rows[i].stress);
  const double reached = middle_of(tail);
  const WindowLines lines(rows, count);
  std::optional<StartTangent> best;
  double best_bound = 0.0;
  for (std::size_t n = least_rows; n <= count;
       n = std::max(n + 1, static_cast<std::size_t>(window_growth * static_cast<double>(n)))) {
    const double errors = bound_errors * (1.0 + 4.0 / static_cast<double>(n - 2));
    for (std::size_t first = 0; first + n <= count; ++first) {
      const double width = rows[first + n - 1].stretch - rows[first].stretch;
      if (width < least_strain) continue;
      const auto line = lines.through(first, first + n);
      if (line.slope * width < window_rise * reached || line.mean_stress > highest_mean * reached) continue;
      const double bound = line.slope - errors * line.slope_error;
      if (!(bound > best_bound)) continue;
      best_bound = bound;
      const double back = line.mean_stress / line.slope;
      const double error = std::hypot(line.scatter / std::sqrt(static_cast<double>(n)), line.slope_error * back);
      best = StartTangent{line.mean_stretch - back - 1.0, error / line.slope, line.slope, first, first + n};
    }
  }
  return best;
}

void take_off_give(const InputText& input, Rows& rows, const RowFacts& facts, LabCurve& curve) {
  if (facts.travel && !facts.compliance)
    curve.warnings.push_back(
        "no machine compliance is given: the travel of the grips holds the give of the machine, so the modulus at the "
        "start reads too low by an unknown amount (a line \"# machine compliance: 2 um/N\" takes it off)");
  if (!(facts.give > 0.0)) return;
  double raw_top = 0.0, top = 0.0;
  for (LabRow& row : rows) {
    const double raw = row.stretch;
    const bool onward = raw >= raw_top;
    raw_top = std::max(raw_top, raw);
    row.stretch -= facts.give * row.stress;
    const bool back = row.stretch < std::min(raw, 1.0) - greatest_fold || (onward && row.stretch < top - greatest_fold);
    if (back || !(row.stretch > 0.0) || !std::isfinite(row.stretch))
      fail_line(input, row.line, "machine compliance",
                {"folds the curve back: more than the whole travel of the grips is taken off",
                 "less, as the machine is stiffer than the film",
                 {}});
    top = std::max(top, row.stretch);
  }
}

void shift_toe(Rows& rows, const RowFacts& facts, LabCurve& curve) {
  if (rows.front().stretch - 1.0 > latest_start) return;
  const auto tangent = start_tangent(rows);
  if (!tangent || !(tangent->strain > std::max(least_shift, shift_errors * tangent->error))) return;
  if (!(rows.front().stretch - 1.0 < tangent->strain)) return;
  const auto shorter = [](const LabRow& a, const LabRow& b) { return a.stretch < b.stretch; };
  if (!(std::min_element(rows.begin(), rows.end(), shorter)->stretch > tangent->strain)) return;  // no film left
  std::size_t first = tangent->first;
  while (first < rows.size() && !(rows[first].stretch - 1.0 > tangent->strain && rows[first].stress > 0.0)) ++first;
  if (first == 0 || first + 1 >= rows.size()) return;
  const LabRow start = {time_at(rows, 1.0 + tangent->strain), 1.0 + tangent->strain, 0.0, rows[first - 1].line};
  std::string text = "the curve begins with slack or a toe: its steepest tangent reaches zero force at " +
                     fixed(tangent->strain * 100.0, 2) + " % strain";
  if (facts.grip) text += " (" + fixed(tangent->strain * *facts.grip * 1e3, 3) + " mm of travel)";
  curve.warnings.push_back(text + ", so the strain was shifted by that, and " + std::to_string(first) + " rows up to " +
                           facts.row_word + " " + std::to_string(start.line) + " became one point at zero force");
  rows.erase(rows.begin(), rows.begin() + static_cast<std::ptrdiff_t>(first) - 1);
  rows.front() = start;
  for (LabRow& row : rows) row.stretch -= tangent->strain;
}

}  // namespace hoopfield::detail
