// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/progress.hpp"

#include <algorithm>
#include <csignal>
#include <iostream>
#include <string>

#include <unistd.h>

namespace hoopfield::cli {

namespace {

volatile std::sig_atomic_t interrupt_flag = 0;

void raise_flag(int) { interrupt_flag = 1; }

}  // namespace

void catch_interrupts() {
  std::signal(SIGINT, raise_flag);
  std::signal(SIGTERM, raise_flag);
}

bool interrupted() { return interrupt_flag != 0; }

void stop_if_interrupted() {
  if (interrupted()) throw Interrupted();
}

ProgressBar::ProgressBar() : terminal_(::isatty(STDERR_FILENO) == 1) {}

ProgressBar::~ProgressBar() {
  if (visible_) std::cerr << "\r\x1b[K" << std::flush;
}

bool ProgressBar::progress(double fraction, const char* stage) {
  const auto now = Clock::now();
  // Never backwards, though many predictions at once report through one bar.
  shown_ = std::max(shown_, from_ + (to_ - from_) * std::clamp(fraction, 0.0, 1.0));
  if (terminal_ && now - start_ > std::chrono::seconds(1) && now - drawn_ > std::chrono::milliseconds(100)) {
    constexpr int width = 30;
    const auto filled = static_cast<std::size_t>(shown_ * width);
    const std::string percent = std::to_string(static_cast<int>(shown_ * 100.0));
    std::cerr << "\r\x1b[K[" << std::string(filled, '#') << std::string(width - filled, '.') << "] " << percent
              << " %  " << stage << std::flush;
    drawn_ = now;
    visible_ = true;
  }
  return !interrupted();
}

}  // namespace hoopfield::cli
