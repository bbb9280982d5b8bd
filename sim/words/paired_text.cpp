// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/paired_text.hpp"

#include "models/units.hpp"
#include "sim/base/number_text.hpp"
#include "sim/words/compare_text_detail.hpp"
#include "sim/words/economics_text.hpp"
#include "sim/words/text_layout.hpp"

#include <cmath>
#include <string_view>

namespace hoopfield::words {
namespace {

/// Two digits or so: the ends of a band are not known better.
std::string rough(double value) { return fixed(value, value < 9.95 && value >= 0.05 ? 1 : 0); }

std::string direction(double change) { return change < 0.0 ? "less" : "more"; }

constexpr double hardly = 5e-4;  // a change that shows as none

/// Three digits: yearly amounts are not known better.
std::string three_digits(double value) {
  if (value == 0.0 || !std::isfinite(value)) return readable(value);
  const double scale = std::pow(10.0, std::floor(std::log10(std::abs(value))) - 2.0);
  return readable(std::round(value / scale) * scale);
}

/// Name, unit and amounts of a saving as a person reads them.
struct SavingWords {
  std::string name, unit, value, low, high;
};

SavingWords saving_words(const Saving& s, const std::string& currency, UnitStyle style) {
  const bool is_money = s.name == "money";
  const DisplayUnit unit = s.name == "rolls" || is_money ? DisplayUnit{1.0, ""} : large_mass(style);
  const auto shown = [&](double value) { return three_digits(value * unit.per_si); };
  SavingWords words{s.name == "co2e" ? "CO2e" : s.name, unit.name, shown(s.value), {}, {}};
  if (is_money) words.unit = currency.empty() ? unnamed_currency : currency;
  if (s.band) words.low = shown(s.band->low), words.high = shown(s.band->high);
  return words;
}

std::string currency_of(const ComparedSide& side) { return side.economics ? side.economics->currency : std::string(); }

}  // namespace

std::string change(double ratio) {
  const double moved = ratio - 1.0;
  return std::abs(moved) < hardly ? "as much" : percent(std::abs(moved)) + " " + direction(moved);
}

std::string change_range(double low_ratio, double high_ratio) {
  const double low = 100.0 * (low_ratio - 1.0), high = 100.0 * (high_ratio - 1.0);
  const double none = 100.0 * hardly;
  if (std::abs(low) < none && std::abs(high) < none) return "as much";
  if (low >= -none && high >= -none) return rough(std::abs(low)) + " to " + rough(high) + " % more";
  if (low <= none && high <= none) return rough(std::abs(high)) + " to " + rough(-low) + " % less";
  return rough(-low) + " % less to " + rough(high) + " % more";
}

std::string loads_text(const PairedBand& paired) {
  if (paired.verdict != Verdict::not_distinguishable || !paired.ratio) return {};
  const std::string apart =
      " would tell them apart if the true difference is the median, " + change(paired.ratio->median);
  if (std::abs(paired.ratio->median - 1.0) < hardly) return {};
  if (!paired.loads_to_tell)
    return "Not even " + short_number(most_loads_to_tell) + " loads of each, read once," + apart + ".";
  const bool one = *paired.loads_to_tell < 1.5;
  return (one ? std::string("One load") : "Some " + short_number(*paired.loads_to_tell) + " loads") +
         " of each, read once," + apart + " (scatter of loads and of readings 5 % each, own assumption).";
}

std::string savings_text(const Comparison& comparison, UnitStyle style) {
  constexpr std::size_t label_width = 30, value_width = 14, band_width = 28;
  std::string text;
  for (std::size_t i = 1; i < comparison.sides.size(); ++i) {
    const ComparedSide& side = comparison.sides[i];
    if (side.savings.empty()) continue;
    if (text.empty())
      text = pad_right("", label_width) + pad_left("predicted", value_width) +
             pad_left("nine times in ten", band_width) + '\n';
    text += wrap(compare_page::tag(comparison, i), "  ", "    ");
    for (const Saving& saving : side.savings) {
      const SavingWords words = saving_words(saving, currency_of(side), style);
      text += pad_right("    " + words.name + (words.unit.empty() ? "" : ", " + words.unit), label_width) +
              pad_left(words.value, value_width);
      if (!words.low.empty()) text += pad_left(words.low + " to " + words.high, band_width);
      text += '\n';
    }
  }
  return text;
}

std::string savings_sentence(const Comparison& comparison, std::size_t candidate, UnitStyle style) {
  const ComparedSide& side = comparison.sides[candidate];
  std::string list;
  for (const Saving& saving : side.savings) {
    const SavingWords words = saving_words(saving, currency_of(side), style);
    const std::string of = words.unit.empty() ? "" : " " + words.unit;
    list += (list.empty() ? "" : ", ") + words.value + of + (saving.name == "film" ? " of film" : "");
    if (saving.name == "rolls" || saving.name == "co2e") list += " " + words.name;
    if (!words.low.empty()) list += " (" + words.low + of + " to " + words.high + of + ")";
  }
  if (list.empty()) return {};
  const bool drawn = side.savings.front().band.has_value();
  return std::string("Saved per year") + (drawn ? " (nine times in ten)" : "") + ": " + list + ".";
}

}  // namespace hoopfield::words
