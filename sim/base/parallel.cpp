// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/parallel.hpp"

#include <algorithm>
#include <exception>
#include <mutex>
#include <new>
#include <system_error>
#include <utility>

#include <sys/mman.h>

namespace hoopfield {

namespace {

/// Room in the address space that is held while threads are started and free once the work begins: the stacks of many
/// threads must not take the last of what the work needs.
class KeptBack {
 public:
  ~KeptBack() {
    for (void* block : blocks_) ::munmap(block, size);
  }
  [[nodiscard]] bool one_more() {
    void* block = ::mmap(nullptr, size, PROT_NONE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);
    if (block == MAP_FAILED) return false;
    blocks_.push_back(block);
    return true;
  }

 private:
  static constexpr std::size_t size = std::size_t{8} << 20U;  // of one prediction, with much to spare
  std::vector<void*> blocks_;
};

class Crew : public Observer {
 public:
  using Work = std::function<void(std::size_t, Observer*)>;
  Crew(std::size_t count, Observer* observer, double from, double to, const char* stage, const Work& work)
      : count_(count), observer_(observer), from_(from), to_(to), stage_(stage), work_(work) {}

  void run() {
    const std::size_t hands = std::min<std::size_t>(count_, std::max(1U, std::thread::hardware_concurrency()));
    ThreadCrew crew(hands - 1, [this] { take_jobs(); });
    take_jobs();  // this thread is one of the crew, be it the only one
    crew.join();
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
        ++done_;
        (void)progress(0.0, stage_);  // work that tells nothing of itself counts when it is done
      } catch (const Interrupted&) {
        stop_ = true;
      } catch (...) {
        const std::lock_guard lock(mutex_);
        if (!failure_) failure_ = std::current_exception();
        stop_ = true;
      }
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

ThreadCrew::ThreadCrew(std::size_t wanted, std::function<void()> work) : work_(std::move(work)) {
  try {
    KeptBack room;
    threads_.reserve(wanted);
    while (threads_.size() < wanted && room.one_more()) {
      threads_.emplace_back([this] {
        begun_.wait(false);
        work_();
      });
    }
  } catch (const std::system_error&) {
    // The system grants no more threads: those there are do all the work.
  } catch (const std::bad_alloc&) {
    // As above.
  }
  begun_ = true;
  begun_.notify_all();
}

void run_parallel(std::size_t count, Observer* observer, double from, double to, const char* stage,
                  const std::function<void(std::size_t, Observer*)>& work) {
  if (count > 0) Crew(count, observer, from, to, stage, work).run();
}

}  // namespace hoopfield
