// SPDX-License-Identifier: BSD-3-Clause
#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/io/inputs.hpp"
#include "sim/predict.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

/// What unknowns are ranked by: the least station after storage, as hoop tension, or as pull force when that is the target.
double containment_figure(const Scenario& s, const Result& r) {
  const bool pull = s.target && s.target->quantity == TargetQuantity::pull_force;
  double least = INFINITY;
  for (const StationResult& station : r.after_storage.stations)
    least = std::min(least, pull ? station.pull_force : station.hoop_tension);
  return least;
}

std::string in_user_units(const Parameter& parameter, double value) {
  return std::isfinite(value) ? format_quantity(value, parameter.metric, 4) : "by formula";
}

UnknownInput examine(const Scenario& scenario, const AssumedRange& range, double nominal) {
  UnknownInput unknown;
  unknown.key = range.key;
  unknown.value_text = in_user_units(*range.parameter, range.value);
  unknown.low_text = in_user_units(*range.parameter, range.low);
  unknown.high_text = in_user_units(*range.parameter, range.high);
  unknown.how_to_measure = range.parameter->measure;
  double least = nominal, most = nominal;
  for (const bool upper : {false, true}) {
    double& figure = upper ? unknown.containment_high : unknown.containment_low;
    figure = NAN;
    try {
      Scenario moved = scenario;
      set_number(moved, range.key, upper ? range.high : range.low);
      figure = containment_figure(moved, predict(moved));
      least = std::min(least, figure);
      most = std::max(most, figure);
    } catch (const Error& error) {
      unknown.failed = true;
      unknown.message = error.what();
    }
  }
  unknown.effect = nominal > 0.0 ? (most - least) / nominal : 0.0;
  return unknown;
}

}  // namespace

void rank_unknowns(const Scenario& scenario, Result& result, Observer* observer) {
  const std::vector<AssumedRange> ranges = assumed_ranges(scenario);
  const double nominal = containment_figure(scenario, result);
  result.assumed.clear();
  for (std::size_t i = 0; i < ranges.size(); ++i) {
    if (observer != nullptr &&
        !observer->progress(static_cast<double>(i) / static_cast<double>(ranges.size()), "ranking unknowns"))
      throw Interrupted();
    result.assumed.push_back(examine(scenario, ranges[i], nominal));
  }
  // An input whose range cannot be computed stands first: nobody knows what it does.
  std::stable_sort(result.assumed.begin(), result.assumed.end(), [](const UnknownInput& a, const UnknownInput& b) {
    return a.failed != b.failed ? a.failed : a.effect > b.effect;
  });
}

}  // namespace hoopfield
