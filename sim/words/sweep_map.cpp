// SPDX-License-Identifier: BSD-3-Clause
// The map of a sweep as text.
#include "models/units.hpp"
#include "sim/words/display_units.hpp"
#include "sim/words/sweep_text.hpp"
#include "sim/words/text_layout.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace hoopfield::words {
namespace {

constexpr std::size_t label_width = 14, column_width = 9;
constexpr std::size_t most_rows = 12, most_columns = (terminal_width - label_width) / column_width;

/// The values of an input in the steps of a map, and the step of every case.
struct Levels {
  std::string key, unit;
  std::vector<std::string> labels;
  std::vector<std::size_t> of_case;
  bool is_binned = false;  ///< a step is a part of the range; its label is the middle
};

Levels levels_of_texts(const SweepAxis& axis, std::size_t most) {
  Levels levels{axis.key, {}, {}, {}};
  std::map<std::string, std::size_t> known;
  for (const std::string& text : axis.texts) {
    const auto [found, is_new] = known.try_emplace(text, std::min(known.size(), most - 1));
    if (is_new && levels.labels.size() < most) levels.labels.push_back(text);
    if (is_new && known.size() > most) levels.labels.back() = "others";
    levels.of_case.push_back(found->second);
  }
  return levels;
}

Levels levels_of_numbers(const SweepAxis& axis, std::size_t most) {
  Levels levels{axis.key, input_unit(axis), {}, {}};
  const auto label = [&](double si) { return trimmed(to_unit(si, levels.unit)); };
  const std::set<double> distinct(axis.numbers.begin(), axis.numbers.end());
  if (distinct.size() <= most) {
    for (const double value : distinct) levels.labels.push_back(label(value));
    for (const double value : axis.numbers)
      levels.of_case.push_back(static_cast<std::size_t>(std::distance(distinct.begin(), distinct.find(value))));
    return levels;
  }
  levels.is_binned = true;
  const double low = *distinct.begin(), width = (*distinct.rbegin() - low) / static_cast<double>(most);
  for (std::size_t i = 0; i < most; ++i) levels.labels.push_back(label(low + (static_cast<double>(i) + 0.5) * width));
  for (const double value : axis.numbers)
    levels.of_case.push_back(std::min(static_cast<std::size_t>((value - low) / width), most - 1));
  return levels;
}

Levels levels_of(const SweepAxis& axis, std::size_t most) {
  return axis.texts.empty() ? levels_of_numbers(axis, most) : levels_of_texts(axis, most);
}

/// Mean and number of the cases of one cell.
struct Cell {
  double sum = 0.0;
  std::size_t done = 0, all = 0;
  void add(double value) {
    ++all;
    if (!std::isfinite(value)) return;
    sum += value;
    ++done;
  }
  [[nodiscard]] double mean() const { return sum / static_cast<double>(done); }
};

/// How far the mean over all other inputs moves with one.
double effect(const SweepNumbers& sweep, const SweepAxis& axis) {
  constexpr std::size_t steps = 6;
  const Levels levels = levels_of(axis, steps);
  std::vector<Cell> cells(levels.labels.size());
  for (std::size_t i = 0; i < levels.of_case.size(); ++i) cells[levels.of_case[i]].add(sweep.values()[i]);
  double low = INFINITY, high = -INFINITY;
  for (const Cell& cell : cells) {
    if (cell.done == 0) continue;
    low = std::min(low, cell.mean());
    high = std::max(high, cell.mean());
  }
  return levels.labels.size() < 2 ? -1.0 : high - low;
}

/// Inputs that take more than one value, that which moves the quantity most first.
std::vector<const SweepAxis*> by_effect(const SweepNumbers& sweep) {
  std::vector<std::pair<double, const SweepAxis*>> ranked;
  for (const SweepAxis& axis : sweep.axes())
    if (const double moved = effect(sweep, axis); moved >= 0.0) ranked.emplace_back(moved, &axis);
  std::stable_sort(ranked.begin(), ranked.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<const SweepAxis*> axes;
  for (const auto& [moved, axis] : ranked) axes.push_back(axis);
  return axes;
}

std::string named(const Levels& levels) {
  std::string text = levels.key + (levels.unit.empty() ? "" : ", " + levels.unit);
  return levels.is_binned ? text + ", in equal parts" : text;
}

std::string heading_of(const SweepNumbers& sweep, const Levels& rows, const Levels* columns, bool means) {
  std::string text =
      "Map of the same" + (sweep.unit().empty() ? std::string() : ", " + sweep.unit()) + ": " + named(rows) + " down";
  if (columns != nullptr) text += "; " + named(*columns) + " across";
  return text + (means ? "; means of the cases in a cell" : "");
}

}  // namespace

std::string sweep_map(const SweepNumbers& sweep) {
  const std::vector<const SweepAxis*> axes = by_effect(sweep);
  if (axes.empty()) return {};
  const Levels rows = levels_of(*axes[0], most_rows);
  const Levels columns = axes.size() > 1 ? levels_of(*axes[1], most_columns) : Levels{{}, {}, {""}, {}};
  std::vector<std::vector<Cell>> cells(rows.labels.size(), std::vector<Cell>(columns.labels.size()));
  for (std::size_t i = 0; i < sweep.values().size(); ++i)
    cells[rows.of_case[i]][axes.size() > 1 ? columns.of_case[i] : 0].add(sweep.values()[i]);
  const bool means = axes.size() > 2 || rows.is_binned || columns.is_binned;
  std::string text = wrap(heading_of(sweep, rows, axes.size() > 1 ? &columns : nullptr, means), "", "  ");
  if (axes.size() > 1) {
    text += std::string(label_width, ' ');
    for (const std::string& label : columns.labels) text += pad_left(clipped(label, column_width - 1), column_width);
    text += '\n';
  }
  bool is_marked = false;
  for (std::size_t r = 0; r < rows.labels.size(); ++r) {
    text += pad_right("  " + clipped(rows.labels[r], label_width - 3), label_width);
    for (const Cell& cell : cells[r]) {
      const bool some_failed = cell.done > 0 && cell.done < cell.all;
      is_marked = is_marked || some_failed;
      const std::string value = cell.done > 0 ? readable(to_unit(cell.mean(), sweep.unit())) : "-";
      text += pad_left(value + (some_failed ? "*" : ""), column_width);
    }
    text += '\n';
  }
  return is_marked ? text + "  * some cases of the cell failed; - none has a value\n" : text;
}

}  // namespace hoopfield::words
