// SPDX-License-Identifier: BSD-3-Clause
// What each assumed input is worth: the scenario predicted again at both ends of its range.
#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/io/inputs.hpp"
#include "sim/predict.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <limits>
#include <mutex>
#include <thread>

namespace hoopfield {

namespace {

double least_station(const ContainmentResult& containment) {
  double least = std::numeric_limits<double>::infinity();
  for (const StationResult& station : containment.stations) least = std::min(least, station.hoop_tension);
  return least;
}

/// One prediction to make: an end of a range.
struct Trial {
  const AssumedRange* range = nullptr;
  double value = 0.0;
  double containment = std::numeric_limits<double>::quiet_NaN();
  std::string message;  ///< why it could not be computed
};

/// Runs trials on all hardware threads. Each result lands in its own place, so the order of finishing changes nothing.
class TrialRunner {
 public:
  TrialRunner(const Scenario& scenario, std::vector<Trial>& trials, Observer* observer)
      : scenario_(scenario), trials_(trials), observer_(observer) {}

  void run() {
    const std::size_t count = std::min<std::size_t>(trials_.size(), std::max(1U, std::thread::hardware_concurrency()));
    std::vector<std::thread> threads;
    for (std::size_t i = 1; i < count; ++i) threads.emplace_back([this] { work(); });
    work();
    for (std::thread& thread : threads) thread.join();
    if (failure_) std::rethrow_exception(failure_);
    if (stop_) throw Interrupted();
  }

 private:
  /// Lets the one observer of the caller watch many predictions at once.
  class Watch : public Observer {
   public:
    explicit Watch(TrialRunner& runner) : runner_(runner) {}
    bool progress(double fraction, const char*) override { return runner_.report(fraction); }

   private:
    TrialRunner& runner_;
  };

  bool report(double fraction) {
    if (observer_ == nullptr) return true;
    const std::lock_guard lock(mutex_);
    const double share = (static_cast<double>(done_) + fraction) / static_cast<double>(trials_.size());
    if (!stop_ && !observer_->progress(std::min(share, 1.0), "ranking the assumed inputs")) stop_ = true;
    return !stop_;
  }

  void work() {
    for (std::size_t i = next_++; i < trials_.size() && !stop_; i = next_++) {
      try {
        run_trial(trials_[i]);
      } catch (const Interrupted&) {
        stop_ = true;
      } catch (...) {
        const std::lock_guard lock(mutex_);
        if (!failure_) failure_ = std::current_exception();
        stop_ = true;
      }
      ++done_;
    }
  }

  void run_trial(Trial& trial) {
    try {
      Scenario moved = scenario_;
      set_number(moved, trial.range->key, trial.value);
      Watch watch(*this);
      trial.containment = least_station(predict(moved, &watch).after_storage);
    } catch (const Error& error) {
      trial.message = error.what();
    }
  }

  const Scenario& scenario_;
  std::vector<Trial>& trials_;
  Observer* observer_;
  std::mutex mutex_;
  std::atomic<std::size_t> next_ = 0, done_ = 0;
  std::atomic<bool> stop_ = false;
  std::exception_ptr failure_;
};

UnknownInput unknown_of(const AssumedRange& range, const Trial& low, const Trial& high, double nominal) {
  UnknownInput unknown;
  unknown.key = range.key;
  const auto text = [&](double value) { return format_quantity(value, range.parameter->metric, 3); };
  unknown.low_text = text(range.low);
  unknown.high_text = text(range.high);
  unknown.value_text = std::isnan(range.value) ? "formula" : text(range.value);
  unknown.containment_low = low.containment;
  unknown.containment_high = high.containment;
  unknown.how_to_measure = range.parameter->measure;
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
  TrialRunner(scenario, trials, observer).run();
  const double nominal = least_station(result.after_storage);
  result.assumed.clear();
  for (std::size_t i = 0; i < ranges.size(); ++i)
    result.assumed.push_back(unknown_of(ranges[i], trials[2 * i], trials[2 * i + 1], nominal));
  std::stable_sort(result.assumed.begin(), result.assumed.end(),
                   [](const UnknownInput& a, const UnknownInput& b) { return a.effect > b.effect; });
}

}  // namespace hoopfield
