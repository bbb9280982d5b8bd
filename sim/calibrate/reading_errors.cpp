// SPDX-License-Identifier: BSD-3-Clause
#include "sim/calibrate/reading_errors.hpp"

#include "sim/inputs/unknowns.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield {
namespace {

constexpr double least_positive = std::numeric_limits<double>::min();

class Gatherer {
 public:
  explicit Gatherer(const Scenario& scenario) : scenario_(scenario) {}

  ReadingErrors run(const std::vector<Reading>& readings) {
    for (const Reading& reading : readings)
      if (reading.quantity != "turns") add(reading);
    return std::move(out_);
  }

 private:
  std::size_t shared(const std::string& name, double half_width, bool is_load) {
    const auto known = std::find_if(out_.shared.begin(), out_.shared.end(),
                                    [&](const SharedError& error) { return error.name == name; });
    if (known != out_.shared.end()) return static_cast<std::size_t>(known - out_.shared.begin());
    out_.shared.push_back({name, half_width / normal_95, is_load});
    out_.loads += is_load ? 1 : 0;
    return out_.shared.size() - 1;
  }

  void add(const Reading& reading) {
    ObservedReading seen;
    seen.place = place_of(scenario_, reading);
    const ReadingQuantity& quantity = *seen.place.quantity;
    seen.is_log = quantity.error_is_share;
    double error = quantity.error;
    if (reading.error) error = seen.is_log ? *reading.error / std::max(reading.value, least_positive) : *reading.error;
    seen.deviation = error / normal_95;
    // A force of next to nothing is as far off as a reading can be; its logarithm ends at a thousandth of a unit.
    seen.observed = seen.is_log ? std::log(std::max(reading.value, 1e-3)) : reading.value;
    if (seen.is_log && reading.value < 1e-3) seen.deviation = quantity.error / normal_95;
    const std::string of = std::string(quantity.name);
    seen.shared.push_back(shared("instrument " + reading.instrument + ", " + of, quantity.common_error, false));
    if (quantity.is_of_wrap) {
      seen.shared.push_back(shared("model, " + of, model_error, false));
      seen.shared.push_back(shared("load " + reading.load_id, 0.0, true));
    }
    out_.readings.push_back(std::move(seen));
  }

  const Scenario& scenario_;
  ReadingErrors out_;
};

}  // namespace

double ObservedReading::scaled(double predicted) const {
  return is_log ? std::log(std::max(predicted, 1e-3)) : predicted;
}

double ObservedReading::unscaled(double value) const { return is_log ? std::exp(value) : value; }

ReadingErrors reading_errors(const Scenario& scenario, const std::vector<Reading>& readings) {
  return Gatherer(scenario).run(readings);
}

}  // namespace hoopfield
