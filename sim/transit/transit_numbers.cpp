// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/transit_numbers.hpp"

#include "models/error.hpp"
#include "models/output_names.hpp"
#include "sim/transit/levels.hpp"

#include <array>
#include <cmath>
#include <limits>

namespace hoopfield {
namespace {

using Value = double (*)(const StackStatics&);
struct Leaf {
  const char* name;
  Value value;  ///< null: the margin, which also hangs on the requirement
};
constexpr std::array leaves = {Leaf{"first_slip", [](const StackStatics& s) { return s.first_slip; }},
                               Leaf{"held", [](const StackStatics& s) { return s.held; }},
                               Leaf{"tipping", [](const StackStatics& s) { return s.tipping; }},
                               Leaf{"withstood", [](const StackStatics& s) { return s.withstood(); }},
                               Leaf{"film_share", [](const StackStatics& s) { return s.film_share; }},
                               Leaf{"margin", nullptr}};
constexpr auto leaf_names = [] {
  std::array<const char*, leaves.size()> names{};
  for (std::size_t i = 0; i < names.size(); ++i) names[i] = leaves[i].name;
  return names;
}();

double static_margin(const TransitInput& input, const StackStatics& statics, std::size_t direction) {
  double least = std::numeric_limits<double>::quiet_NaN();
  if (!input.levels) return least;
  for (const RequirementCase& level : input.levels->cases)
    if (!level.is_pulse && acts_along(input, level, direction))
      least = std::fmin(least, statics.withstood() / level.level);
  return least;
}

}  // namespace

std::span<const char* const> transit_leaves() { return leaf_names; }

double transit_number(const TransitInput& input, const TransitSide& side, std::size_t direction, std::size_t leaf) {
  const Value value = leaves.at(leaf).value;
  return value != nullptr ? value(side.statics) : static_margin(input, side.statics, direction);
}

std::string transit_name(std::size_t moment, std::size_t direction, std::size_t leaf) {
  return "transit." + axis_names("moment").at(moment) + "." + load_direction_names.at(direction) + "." +
         leaf_names.at(leaf);
}

const std::vector<SummaryOutput>& transit_outputs() {
  static const std::vector<SummaryOutput> outputs = [] {
    std::vector<SummaryOutput> list;
    for (std::size_t m = 0; m < transit_moments; ++m)
      for (std::size_t d = 0; d < load_direction_names.size(); ++d)
        for (std::size_t leaf = 0; leaf < leaf_names.size(); ++leaf) {
          list.push_back(drawn_output(transit_name(m, d, leaf)));
          list.back().place = list.size() - 1;
        }
    return list;
  }();
  return outputs;
}

std::vector<double> transit_numbers(const Scenario& scenario, const Result& result) {
  require_transit_inputs(scenario);
  const TransitStatics statics = transit_statics(scenario, result);
  std::vector<double> numbers;
  for (std::size_t m = 0; m < transit_moments; ++m)
    for (std::size_t d = 0; d < load_direction_names.size(); ++d)
      for (std::size_t leaf = 0; leaf < leaf_names.size(); ++leaf)
        numbers.push_back(transit_number(scenario.transit, statics.at[m][d], d, leaf));
  return numbers;
}

std::vector<double> weakest_transit_numbers(const Scenario& scenario, const Result& result) {
  std::vector<double> numbers;
  if (!missing_for_transit(scenario).empty()) return numbers;
  for (std::size_t d = 0; d < load_direction_names.size(); ++d) {
    const TransitSide side = transit_side(scenario, result, weakest_moment, d);
    for (std::size_t leaf = 0; leaf < leaf_names.size(); ++leaf)
      numbers.push_back(transit_number(scenario.transit, side, d, leaf));
  }
  return numbers;
}

void require_transit_inputs(const Scenario& scenario) {
  const std::vector<std::string> missing = missing_for_transit(scenario);
  if (missing.empty()) return;
  throw InputError(
      scenario.path + ": " + missing.front() +
          ": is missing: without a mass nothing can be said of the load in transit; expected a mass (kg or "
          "lb) in [load], or tables [[load.tier]]",
      scenario.path, 0, 0, missing.front());
}

}  // namespace hoopfield
