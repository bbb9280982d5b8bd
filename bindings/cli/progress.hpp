// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Progress on a terminal, and stopping on Ctrl-C.
#pragma once

#include "sim/base/observer.hpp"

#include <chrono>

namespace hoopfield::cli {

/// From now on Ctrl-C and a termination request raise a flag; a program that has not ended 0.8 s later is ended, its
/// unfinished files removed.
void catch_interrupts();
[[nodiscard]] bool interrupted();
/// Throws Interrupted when the flag is up. Call it before anything that cannot be undone.
void stop_if_interrupted();

/// Draws a bar on stderr when that is a terminal and the work takes over a second; asks to stop once interrupted.
class ProgressBar : public Observer {
 public:
  ProgressBar();
  ~ProgressBar() override;
  ProgressBar(const ProgressBar&) = delete;
  ProgressBar& operator=(const ProgressBar&) = delete;
  /// The work that follows is this part of the whole bar.
  void section(double from, double to) {
    from_ = from;
    to_ = to;
  }
  bool progress(double fraction, const char* stage) override;

 private:
  using Clock = std::chrono::steady_clock;
  Clock::time_point start_ = Clock::now(), drawn_ = start_;
  double from_ = 0.0, to_ = 1.0, shown_ = 0.0;
  bool terminal_ = false;
  bool visible_ = false;
};

}  // namespace hoopfield::cli
