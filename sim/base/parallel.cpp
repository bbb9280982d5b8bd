// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <vector>

namespace hoopfield {

namespace {

class Crew : public Observer {
 public:
  using Work = std::function<void(std::size_t, Observer*)>;
  Crew(std::size_t count, Observer* observer, double from, double to, const char* stage, const Work& work)
      : count_(count), observer_(observer), from_(from), to_(to), stage_(stage), work_(work) {}

  void run() {
    const std::size_t hands = std::min<std::size_t>(count_, std::max(1U, std::thread::hardware_concurrency()));
    std::vector<std::thread> threads;
    threads.reserve(hands);
    try {
      for (std::size_t i = 1; i < hands; ++i) threads.emplace_back([this] { take_jobs(); });
    } catch (const std::system_error&) {
      // The system grants no more threads: those there are, this one included, do all the work.
    }
    take_jobs();
    for (std::thread& thread : threads) thread.join();
    if (failure_) std::rethrow_exception(failure_);
    if (stop_) throw Interrupted();
  }

  bool progress(double fraction, const char*) override {
    if (observer_ == nullptr) return !stop_;
    const std::lock_guard lock(mutex_);
    const double share = std::min(1.0, (static_cast<double>(done_) + fraction) / static_cast<double>(count_));
    highest_ = std::max(highest_, from_ + share * (to_ - from_));
    if (!stop_ && !observer_->progress(highest_, stage_)) stop_ = true;
    return !stop_;
  }

 private:
  void take_jobs() {
    for (std::size_t i = next_++; i < count_ && !stop_; i = next_++) {
      try {
        work_(i, this);
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

  const std::size_t count_;
  Observer* const observer_;
  const double from_, to_;
  const char* const stage_;
  const Work& work_;
  std::mutex mutex_;
  std::atomic<std::size_t> next_ = 0, done_ = 0;
  std::atomic<bool> stop_ = false;
  double highest_ = 0.0;
  std::exception_ptr failure_;
};

}  // namespace

void run_parallel(std::size_t count, Observer* observer, double from, double to, const char* stage,
                  const std::function<void(std::size_t, Observer*)>& work) {
  if (count > 0) Crew(count, observer, from, to, stage, work).run();
}

}  // namespace hoopfield
