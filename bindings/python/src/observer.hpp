// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Progress to a Python function, and Ctrl-C, while the computation runs without the interpreter lock.
#pragma once

#include "sim/base/observer.hpp"

#include <pybind11/pybind11.h>

#include <chrono>
#include <mutex>
#include <optional>

namespace hoopfield::python {

/// Calls `progress(fraction, stage)` at most twenty times a second and once at the end; a function that returns False
/// stops the computation. What the function raises, or KeyboardInterrupt, comes out of `run`.
class PythonObserver : public Observer {
 public:
  explicit PythonObserver(pybind11::object function);
  bool progress(double fraction, const char* stage) override;

  /// The part of the whole that the progress of the work to come is.
  void section(double from, double to) { from_ = from, to_ = to; }

  /// Throws what the function raised, or KeyboardInterrupt, if work came to an end without passing the stop on.
  void raise_pending();

  /// Runs `work()` without the interpreter lock; turns a stop into the Python error that asked for it.
  template <typename Work>
  auto run(Work&& work) {
    try {
      const pybind11::gil_scoped_release release;
      return work();
    } catch (const Interrupted&) {
      raise();
    }
  }

 private:
  using Clock = std::chrono::steady_clock;
  [[noreturn]] void raise();
  bool ask(double fraction, const char* stage);

  pybind11::object function_;
  std::optional<pybind11::error_already_set> error_;
  std::mutex mutex_;  // workers of rank_unknowns take turns anyway; others need not know
  Clock::time_point asked_ = Clock::now();
  double from_ = 0.0, to_ = 1.0;
  bool stopped_ = false;
};

}  // namespace hoopfield::python
