// SPDX-License-Identifier: BSD-3-Clause
#include "sim/calibrate/trial.hpp"

#include "models/error.hpp"
#include "sim/calibrate/next_reading.hpp"
#include "sim/inputs/unknowns.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

constexpr double normal_90 = 1.2815515655446004;  // 90 % quantile of the standard normal distribution

double work(const TrialReading& reading) { return std::ceil(reading.loads_needed) * reading.place.quantity->minutes; }

void choose(Trial& trial) {
  double minutes = 0.0;
  for (TrialReading& reading : trial.readings) {
    const double more = reading.place.quantity->minutes;
    if (reading.loads_needed > static_cast<double>(trial.options.loads)) continue;
    if (trial.options.minutes > 0.0 && minutes + more > trial.options.minutes) continue;
    reading.is_chosen = true;
    minutes += more;
  }
  if (minutes == 0.0 && !trial.readings.empty()) {
    const auto nearest = std::min_element(trial.readings.begin(), trial.readings.end(),
                                          [](const auto& a, const auto& b) { return a.loads_needed < b.loads_needed; });
    nearest->is_chosen = true;
    minutes = nearest->place.quantity->minutes;
  }
  trial.minutes_per_load = minutes;
}

}  // namespace

double loads_to_tell(double difference) { return 2.0 * std::pow((normal_95 + normal_90) / difference, 2); }

double power_to_tell(double difference, double loads) {
  const double z = std::abs(difference) / std::sqrt(2.0 / loads) - normal_95;
  return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

Trial plan_trial(const Scenario& present, const Scenario& candidate, const TrialOptions& options) {
  if (options.loads < 1 || options.loads > 1000)
    throw OutOfRange("loads: " + std::to_string(options.loads) + " is no number of loads; expected 1 to 1000", {}, 0, 0,
                     "loads");
  const std::vector<Reading> readable = calibrate_detail::readable_on(present);
  std::vector<ReadingPlace> places, others;
  for (const Reading& reading : readable) {
    places.push_back(place_of(present, reading));
    others.push_back(places.back());
    others.back().height = std::min(places.back().height, candidate.load.height);
  }
  const std::vector<ObservedReading> scales = reading_errors(present, readable).readings;
  const std::vector<double> of_present = predicted_readings(present, places);
  const std::vector<double> of_candidate = predicted_readings(candidate, others);
  Trial trial;
  trial.options = options;
  for (std::size_t j = 0; j < places.size(); ++j) {
    TrialReading reading;
    reading.place = places[j];
    reading.present = of_present[j];
    reading.candidate = of_candidate[j];
    const double scatter = places[j].quantity->is_of_wrap ? options.load_scatter : 0.0;
    reading.difference = (scales[j].scaled(of_candidate[j]) - scales[j].scaled(of_present[j])) /
                         std::hypot(scales[j].deviation, scatter);
    reading.loads_needed = loads_to_tell(reading.difference);
    reading.power = power_to_tell(reading.difference, static_cast<double>(options.loads));
    trial.readings.push_back(reading);
  }
  std::stable_sort(trial.readings.begin(), trial.readings.end(),
                   [](const TrialReading& a, const TrialReading& b) { return work(a) < work(b); });
  choose(trial);
  return trial;
}

}  // namespace hoopfield
