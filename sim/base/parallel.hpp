// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A crew of threads, and many predictions on all hardware threads under one observer.
#pragma once

#include "sim/base/observer.hpp"

#include <atomic>
#include <cstddef>
#include <functional>
#include <thread>
#include <vector>

namespace hoopfield {

/// Threads that do one piece of work together.
class ThreadCrew {
 public:
  /// Starts threads that call `work` once each. The system may grant fewer than wanted, for want of memory or by a
  /// limit on threads; some memory for the work itself is kept back meanwhile. Throws nothing of its own: `size` tells
  /// what came of it.
  ThreadCrew(std::size_t wanted, std::function<void()> work);
  ThreadCrew(const ThreadCrew&) = delete;
  ThreadCrew& operator=(const ThreadCrew&) = delete;
  [[nodiscard]] std::size_t size() const { return threads_.size(); }
  /// Waits until each has returned from `work`; so does the destructor.
  void join() { threads_.clear(); }

 private:
  const std::function<void()> work_;
  std::atomic<bool> begun_ = false;  ///< nobody works before all are there
  std::vector<std::jthread> threads_;
};

/// Calls `work(i, observer)` for i = 0 .. count-1, in any order and at the same time; each call must write only its own
/// place. What a call throws ends the run and comes out. \param observer sees one course of progress from `from` to
/// `to` and may stop it (Interrupted).
void run_parallel(std::size_t count, Observer* observer, double from, double to, const char* stage,
                  const std::function<void(std::size_t, Observer*)>& work);

}  // namespace hoopfield
