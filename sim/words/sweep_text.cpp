// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/sweep_text.hpp"

#include "models/units.hpp"
#include "sim/base/faces.hpp"
#include "sim/words/display_units.hpp"
#include "sim/words/moments.hpp"
#include "sim/words/text_layout.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

namespace hoopfield::words {
namespace {

constexpr double missing = std::numeric_limits<double>::quiet_NaN();
constexpr std::size_t label_width = 35, column_width = 15;

std::optional<std::size_t> place_of(const std::vector<const SummaryOutput*>& outputs, const std::string& name) {
  const auto found = std::find_if(outputs.begin(), outputs.end(), [&](const auto* o) { return o->name == name; });
  if (found == outputs.end()) return {};
  return static_cast<std::size_t>(found - outputs.begin());
}

std::string unit_of(const SummaryOutput& output) {
  return std::string(output.declaration->metric.empty() ? output.declaration->unit : output.declaration->metric);
}

struct Column {
  std::string head;
  std::size_t place;
};

std::string line(const std::string& label, const std::vector<Column>& columns,
                 const std::function<std::string(std::size_t)>& cell) {
  std::string out = pad_right("  " + label, label_width);
  for (const Column& column : columns) out += pad_left(clipped(cell(column.place), column_width - 1), column_width);
  return out + '\n';
}

/// The case that `better(a, b)` puts before all others; a value must be there.
template <typename Better>
std::optional<std::size_t> first_by(const SweepNumbers& sweep, Better&& better) {
  std::optional<std::size_t> first;
  for (std::size_t i = 0; i < sweep.values().size(); ++i)
    if (std::isfinite(sweep.values()[i]) && (!first || better(i, *first))) first = i;
  return first;
}

std::vector<Column> columns_of(const SweepNumbers& sweep) {
  const std::vector<double>& values = sweep.values();
  const auto most = first_by(sweep, [&](std::size_t a, std::size_t b) { return values[a] > values[b]; });
  const auto least = first_by(sweep, [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<Column> columns = {{sweep.is_containment() ? "best" : "most", *most},
                                 {sweep.is_containment() ? "worst" : "least", *least}};
  if (!sweep.target().is_set() || !sweep.film(*most)) return columns;
  std::optional<std::size_t> saving;
  for (std::size_t i = 0; i < values.size(); ++i)
    if (sweep.meets(i) && (!saving || sweep.film(i) < sweep.film(*saving))) saving = i;
  if (saving) columns.push_back({"least film *", *saving});
  return columns;
}

std::string target_line(const SweepNumbers& sweep) {
  if (!sweep.target().is_set()) return {};
  std::size_t met = 0, done = 0;
  for (std::size_t i = 0; i < sweep.values().size(); ++i) {
    if (!std::isfinite(sweep.values()[i])) continue;
    ++done;
    if (sweep.meets(i)) ++met;
  }
  return wrap("targets met, by the nominal value: " + std::to_string(met) + " of " + std::to_string(done) + " cases" +
                  (met > 0 ? "; * of those the one with the least film" : ""),
              "  ", "  ");
}

}  // namespace

std::string input_unit(const SweepAxis& axis) {
  const Parameter* declared = find_parameter(ParameterRoom::scenario, axis.key);
  if (!axis.texts.empty()) return {};
  return std::string(declared != nullptr && !declared->metric.empty() ? declared->metric : std::string_view(axis.unit));
}

std::string input_text(const SweepAxis& axis, std::size_t index) {
  if (!axis.texts.empty()) return axis.texts[index];
  return format_quantity(axis.numbers[index], input_unit(axis), 4);
}

SweepNumbers::SweepNumbers(std::vector<SweepAxis> axes, std::size_t first_case,
                           const std::vector<const SummaryOutput*>& outputs, SweepTarget target)
    : axes_(std::move(axes)), first_case_(first_case), target_(std::move(target)) {
  const std::string moment = "containment." + target_.at + ".";
  for (std::size_t s = 0; s < station_names.size(); ++s) {
    stations_[s] = place_of(outputs, moment + station_names[s] + "." + target_.quantity);
    if (stations_[s]) judged_.push_back(*stations_[s]);
  }
  is_containment_ = !judged_.empty();
  if (judged_.size() < station_names.size()) judged_.resize(std::min<std::size_t>(judged_.size(), 1));
  if (judged_.empty() && !outputs.empty()) judged_ = {0};
  film_place_ = place_of(outputs, "film.mass");
  if (judged_.empty()) return;
  const SummaryOutput& output = *outputs[judged_.front()];
  unit_ = unit_of(output);
  quantity_ = output.long_name;
  if (judged_.size() == station_names.size())
    quantity_ = (target_.quantity == "pull_force" ? "pull force " : "hoop tension ") + moment_words(target_.at) +
                ", least of top, middle and bottom";
  const std::size_t cases = axes_.empty() ? 1 : axes_.front().numbers.size() + axes_.front().texts.size();
  values_.assign(cases, missing);
  if (film_place_) film_.assign(cases, missing);
  meets_.assign(cases, false);
}

void SweepNumbers::take(std::size_t index, const std::vector<double>& outputs) {
  if (judged_.empty()) return;
  double least = std::numeric_limits<double>::infinity();
  for (const std::size_t place : judged_) least = std::min(least, outputs[place]);
  values_[index] = std::isfinite(least) ? least : missing;
  if (film_place_) film_[index] = outputs[*film_place_];
  meets_[index] = meets_targets(outputs);
}

bool SweepNumbers::meets_targets(const std::vector<double>& outputs) const {
  if (!target_.is_set()) return false;
  for (std::size_t s = 0; s < station_names.size(); ++s)
    if (target_.least[s] && (!stations_[s] || !(outputs[*stations_[s]] >= *target_.least[s]))) return false;
  return true;
}

std::vector<const SummaryOutput*> table_outputs(const std::vector<const SummaryOutput*>& outputs,
                                                const SweepTarget& target) {
  std::vector<const SummaryOutput*> wanted;
  for (const char* station : station_names)
    if (const auto place = place_of(outputs, "containment." + target.at + "." + station + "." + target.quantity))
      wanted.push_back(outputs[*place]);
  if (wanted.empty() && !outputs.empty()) wanted.push_back(outputs.front());
  if (const auto film = place_of(outputs, "film.mass"); film && outputs[*film] != wanted.front())
    wanted.push_back(outputs[*film]);
  return wanted;
}

bool SweepNumbers::any() const {
  return std::any_of(values_.begin(), values_.end(), [](double value) { return std::isfinite(value); });
}

std::optional<double> SweepNumbers::film(std::size_t index) const {
  if (film_.empty()) return {};
  return film_[index];
}

std::string sweep_text(const SweepNumbers& sweep) {
  if (!sweep.any()) return {};
  const std::vector<Column> columns = columns_of(sweep);
  std::string head = pad_right("", label_width);
  for (const Column& column : columns) head += pad_left(column.head, column_width);
  std::string text = wrap("Cases by " + sweep.quantity(), "", "  ") + head + '\n';
  text += line("value", columns, [&](std::size_t i) {
    return readable(to_unit(sweep.values()[i], sweep.unit())) + (sweep.unit().empty() ? "" : " " + sweep.unit());
  });
  text += line("case", columns, [&](std::size_t i) { return std::to_string(sweep.first_case() + i); });
  for (const SweepAxis& axis : sweep.axes())
    text += line(axis.key, columns, [&](std::size_t i) { return input_text(axis, i); });
  if (sweep.film(0))
    text += line("film per load", columns, [&](std::size_t i) { return format_quantity(*sweep.film(i), "kg", 3); });
  text += target_line(sweep);
  const std::string map = sweep_map(sweep);
  return map.empty() ? text : text + '\n' + map;
}

}  // namespace hoopfield::words
