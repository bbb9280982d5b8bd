// SPDX-License-Identifier: BSD-3-Clause
// What each assumed input is worth: the scenario predicted again at both ends of its range.
#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/base/parallel.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/wrap/predict.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield {

namespace {

/// One prediction to make: an end of a range.
struct Trial {
  const AssumedRange* range = nullptr;
  double value = 0.0;
  double containment = std::numeric_limits<double>::quiet_NaN();
  std::string message;  ///< why it could not be computed
};

void run_trial(const Scenario& scenario, Trial& trial, Observer* observer) {
  try {
    Scenario moved = scenario;
    set_number(moved, trial.range->key, trial.value);
    trial.containment = least_of_stations(predict(moved, observer).after_storage);
  } catch (const Error& error) {
    trial.message = error.what();
  }
}

UnknownInput unknown_of(const AssumedRange& range, const Trial& low, const Trial& high, double nominal) {
  UnknownInput unknown;
  unknown.key = range.key;
  const auto text = [&](double value) { return format_quantity(value, range.parameter->metric, 3); };
  unknown.low_text = text(range.low);
  unknown.high_text = text(range.high);
  unknown.value_text = std::isnan(range.value) ? "formula" : text(range.value);
  unknown.containment_low = low.containment;
  unknown.containment_high = high.containment;
  unknown.how_to_measure = how_to_measure(*range.parameter);
  unknown.caution = caution_text(*range.parameter);
  unknown.failed = !low.message.empty() || !high.message.empty();
  unknown.message = low.message.empty() ? high.message : low.message;
  double least = nominal, greatest = nominal;
  for (const double value : {low.containment, high.containment}) {
    if (!std::isfinite(value)) continue;
    least = std::min(least, value);
    greatest = std::max(greatest, value);
  }
  unknown.effect = nominal > 0.0 ? (greatest - least) / nominal : 0.0;
  return unknown;
}

}  // namespace

void rank_unknowns(const Scenario& scenario, Result& result, Observer* observer) {
  const std::vector<AssumedRange> ranges = assumed_ranges(scenario);
  std::vector<Trial> trials;
  for (const AssumedRange& range : ranges)
    for (const double value : {range.low, range.high}) trials.push_back({&range, value, NAN, {}});
  run_parallel(trials.size(), observer, 0.0, 1.0, "ranking the assumed inputs",
               [&](std::size_t i, Observer* watch) { run_trial(scenario, trials[i], watch); });
  const double nominal = least_of_stations(result.after_storage);
  result.assumed.clear();
  for (std::size_t i = 0; i < ranges.size(); ++i)
    result.assumed.push_back(unknown_of(ranges[i], trials[2 * i], trials[2 * i + 1], nominal));
  std::stable_sort(result.assumed.begin(), result.assumed.end(),
                   [](const UnknownInput& a, const UnknownInput& b) { return a.effect > b.effect; });
}

}  // namespace hoopfield
