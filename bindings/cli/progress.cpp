// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/progress.hpp"

#include "bindings/cli/program.hpp"
#include "sim/base/new_file.hpp"

#include <algorithm>
#include <csignal>
#include <ctime>
#include <iostream>
#include <string>

#include <unistd.h>

namespace hoopfield::cli {

namespace {

volatile std::sig_atomic_t interrupt_flag = 0;

timer_t patience;  // runs out when the program has not ended soon after it was asked to
bool has_patience = false;

void raise_flag(int) {
  interrupt_flag = 1;
  constexpr itimerspec most{{0, 0}, {0, 800'000'000}};
  if (has_patience) ::timer_settime(patience, 0, &most, nullptr);
}

/// Work that cannot be stopped where it is - a system that does not answer, a pipe nobody reads - ends here. Files
/// under their names are whole; those on their way go, and a sweep can be resumed as after a kill.
void end_now(int) {
  remove_new_files();
  constexpr char words[] = "hoopfield: stopped on request in the middle of its work; no output is half-written\n";
  const ssize_t ignored = ::write(STDERR_FILENO, words, sizeof words - 1);
  static_cast<void>(ignored);
  ::_exit(exit_interrupted);
}

}  // namespace

void catch_interrupts() {
  sigevent event{};
  event.sigev_notify = SIGEV_SIGNAL;
  event.sigev_signo = SIGALRM;
  std::signal(SIGALRM, end_now);
  has_patience = ::timer_create(CLOCK_MONOTONIC, &event, &patience) == 0;
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
