// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/sweep.hpp"

#include "models/error.hpp"
#include "models/film/simd_path.hpp"
#include "sim/base/parallel.hpp"
#include "sim/film_path/film_path_cache.hpp"
#include "sim/sweep/memory.hpp"
#include "sim/wrap/predict.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <new>
#include <span>
#include <thread>

namespace hoopfield {
namespace {

using Clock = std::chrono::steady_clock;

constexpr std::size_t queue_limit = 4 * cases_per_save;      // finished and not yet taken: threads wait beyond it
constexpr std::size_t values_per_save = 1U << 19U;           // 4 MB: a fraction of a second even on a slow disk
constexpr auto last_saves = std::chrono::milliseconds(300);  // of a sweep that is to stop
constexpr auto report_interval = std::chrono::milliseconds(20);

class StopWatcher : public Observer {
 public:
  explicit StopWatcher(const std::atomic<bool>& stop) : stop_(stop) {}
  bool progress(double, const char*) override { return !stop_; }

 private:
  const std::atomic<bool>& stop_;
};

/// Threads that predict. Records come out in the order they finish; who takes them puts them in order.
class Workers {
 public:
  Workers(const SweepPlan& plan, const SweepLayout& layout, std::vector<bool> finished, unsigned jobs)
      : plan_(plan), layout_(layout), finished_(std::move(finished)), running_(jobs), crew_(jobs, [this] { work(); }) {
    if (crew_.size() == 0)
      throw SolverError("sweep: the system starts no thread",
                        "memory or the number of threads is limited (ulimit -v, ulimit -u)");
    const std::lock_guard lock(mutex_);
    running_ -= jobs - crew_.size();
  }
  ~Workers() { stop(); }
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;

  void stop() {
    const std::lock_guard lock(mutex_);
    stop_ = true;
    room_.notify_all();
  }

  /// Waits a moment for records and takes all there are. False once every thread has ended and nothing is left.
  bool take(std::vector<CaseRecord>& records) {
    std::unique_lock lock(mutex_);
    ready_.wait_for(lock, report_interval, [this] { return queue_.size() >= cases_per_save || running_ == 0; });
    const bool more = running_ > 0 || !queue_.empty();
    for (CaseRecord& record : queue_) records.push_back(std::move(record));
    queue_.clear();
    room_.notify_all();
    return more;
  }

 private:
  void work() {
    StopWatcher watcher(stop_);
    const std::size_t count = plan_.case_count();
    for (std::size_t i = next_++; i < count && !stop_; i = next_++) {
      if (finished_[i]) continue;
      try {
        deliver(compute(i, watcher));
      } catch (const Interrupted&) {
        break;
      }
    }
    const std::lock_guard lock(mutex_);
    if (--running_ == 0) ready_.notify_all();
  }

  CaseRecord compute(std::size_t index, Observer& watcher) {
    try {
      const Scenario scenario = sweep_scenario(plan_, index);
      return take_outputs(layout_.selected, layout_.fields, index, scenario, predict(scenario, &watcher, &cache_));
    } catch (const Interrupted&) {
      throw;
    } catch (const std::bad_alloc&) {
      return failed(index, "not enough memory");
    } catch (const std::exception& error) {
      return failed(index, error.what());
    }
  }

  static CaseRecord failed(std::size_t index, const std::string& message) {
    return {index, CaseStatus::failed, message.empty() ? "failed" : message, {}, {}};
  }

  void deliver(CaseRecord record) {
    std::unique_lock lock(mutex_);
    room_.wait(lock, [this] { return queue_.size() < queue_limit || stop_; });
    queue_.push_back(std::move(record));
    if (queue_.size() >= cases_per_save) ready_.notify_all();
  }

  const SweepPlan& plan_;
  const SweepLayout& layout_;
  const std::vector<bool> finished_;
  FilmPathCache cache_;
  std::atomic<std::size_t> next_{0};
  std::atomic<bool> stop_{false};
  std::mutex mutex_;
  std::condition_variable ready_, room_;
  std::vector<CaseRecord> queue_;
  std::size_t running_;
  ThreadCrew crew_;  // last: its threads use the rest, and end before it goes
};

class Run {
 public:
  Run(const SweepPlan& plan, const SweepOptions& options, SweepObserver* observer, const OpenSweepSink& open_sink)
      : plan_(plan),
        options_(options),
        observer_(observer),
        layout_(sweep_layout(plan)),
        memory_(plan, layout_, options.keep),
        sink_(open_sink ? open_sink(layout_, memory_, [this] { pulse(); }) : nullptr) {}

  SweepResult run() {
    if (!sink_ || !sink_->complete()) compute();
    return memory_.finish();
  }

 private:
  void compute() {
    const std::size_t count = plan_.case_count();
    std::vector<bool> finished(count);
    for (std::size_t i = 0; i < count; ++i) finished[i] = memory_.finished(i);
    {
      Workers workers(plan_, layout_, std::move(finished), jobs(count));
      collect(workers);
    }
    memory_.result().stopped = memory_.result().finished < count;
    if (!sink_) return;
    if (memory_.result().stopped)
      sink_->close();
    else
      sink_->commit();
  }

  unsigned jobs(std::size_t count) const {
    const unsigned wanted = options_.jobs > 0 ? options_.jobs : std::max(1U, std::thread::hardware_concurrency());
    return static_cast<unsigned>(std::min<std::size_t>(wanted, count));
  }

  // Writing and reporting stay on the calling thread: one writer, and observers may belong to an interpreter.
  void collect(Workers& workers) {
    std::vector<CaseRecord> unsaved;
    Clock::time_point saved = Clock::now();
    for (bool more = true; more;) {
      const std::size_t known = unsaved.size();
      more = workers.take(unsaved);
      for (std::size_t i = known; i < unsaved.size(); ++i) memory_.take(unsaved[i]);
      if (!sink_ || !more || unsaved.size() >= cases_per_save || Clock::now() - saved > save_interval) {
        save(unsaved);
        saved = Clock::now();
      }
      try {
        if (!report() || stopping_) workers.stop();
      } catch (...) {
        save(unsaved);
        throw;
      }
    }
  }

  void save(std::vector<CaseRecord>& records) {
    if (sink_) {
      std::sort(records.begin(), records.end(),
                [](const CaseRecord& a, const CaseRecord& b) { return a.index < b.index; });
      for (std::size_t first = 0; first < records.size();) first = save_some(records, first);
    }
    records.clear();
  }

  /// Saves as many records as take no long moment and returns where the next begin. Once the sweep is to stop, what is
  /// not saved soon is given up: it is computed again when the sweep goes on.
  std::size_t save_some(std::vector<CaseRecord>& records, std::size_t first) {
    std::size_t last = first, values = 0;
    while (last < records.size() && (last == first || values < values_per_save)) {
      for (const Field& field : records[last].arrays) values += field.data.size();
      values += records[last].scalars.size();
      ++last;
    }
    if (stopping_ && Clock::now() - stopped_ > last_saves) {
      for (std::size_t i = first; i < records.size(); ++i) memory_.drop(records[i]);
      return records.size();
    }
    sink_->save(std::span(records).subspan(first, last - first));
    if (last < records.size()) static_cast<void>(report());
    return last;
  }

  void pulse() {
    if (!report()) throw Interrupted();
  }

  bool report() {
    if (observer_ == nullptr) return true;
    const double seconds = std::chrono::duration<double>(Clock::now() - start_).count();
    if (!observer_->progress(sweep_progress(plan_, memory_, seconds)) && !stopping_) {
      stopping_ = true;
      stopped_ = Clock::now();
    }
    return !stopping_;
  }

  const SweepPlan& plan_;
  const SweepOptions& options_;
  SweepObserver* observer_;
  Clock::time_point start_ = Clock::now(), stopped_;
  bool stopping_ = false;
  SweepLayout layout_;
  SweepMemory memory_;
  std::unique_ptr<SweepSink> sink_;
};

/// Lengths that only a prediction tells: turns and film layers. A generous guess where the plain scenario fails.
double array_values(const SweepPlan& plan, const SweepLayout& layout) {
  CaseRecord record;
  bool known = true;
  try {
    record = take_outputs(layout.selected, layout.fields, 0, plan.scenario, predict(plan.scenario));
  } catch (const Error&) {
    known = false;
  }
  double values = 0.0;
  for (std::size_t a = 0; a < layout.fields.arrays.size(); ++a) {
    double size = 1.0;
    for (std::size_t d = 0; d < layout.fields.arrays[a].dims.size(); ++d) {
      const FieldAxis& axis = layout.fields.axis(layout.fields.arrays[a].dims[d]);
      if (!axis.growing)
        size *= static_cast<double>(axis.values.size());
      else
        size *= known ? 1.3 * static_cast<double>(record.arrays[a].shape[d]) : 60.0;
    }
    values += size;
  }
  return values;
}

}  // namespace

SweepProgress sweep_progress(const SweepPlan& plan, const SweepMemory& memory, double seconds) {
  const SweepResult& result = memory.result();
  SweepProgress progress{plan.case_count(), result.finished, result.failed, result.resumed, 0.0, 0.0};
  if (result.finished > result.resumed && seconds > 0.0) {
    progress.rate = static_cast<double>(result.finished - result.resumed) / seconds;
    progress.remaining = static_cast<double>(progress.total - progress.finished) / progress.rate;
  }
  return progress;
}

SweepResult compute_sweep(const SweepPlan& plan, const SweepOptions& options, SweepObserver* observer,
                          const OpenSweepSink& open_sink) {
  static_cast<void>(simd_path());  // a wrong wish for it is one mistake, not one of every case
  return Run(plan, options, observer, open_sink).run();
}

double sweep_file_size(const SweepPlan& plan) {
  const SweepLayout layout = sweep_layout(plan);
  const auto cases = static_cast<double>(plan.case_count());
  const auto scalars = static_cast<double>(layout.selected.scalars.size());
  const double arrays = layout.fields.arrays.empty() ? 0.0 : array_values(plan, layout);
  constexpr double number = sizeof(double), journal_number = 20.0, head_per_variable = 4096.0;
  const double per_case =
      number * (scalars + arrays + static_cast<double>(plan.axes.size()) + 3.0) + journal_number * (scalars + 2.0);
  return cases * per_case + head_per_variable * (scalars + 40.0) + 1e5;
}

}  // namespace hoopfield
