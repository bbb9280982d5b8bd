// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/python/src/observer.hpp"

#include <unistd.h>

namespace hoopfield::python {

namespace py = pybind11;

namespace {
constexpr std::chrono::milliseconds interval{50};

/// A process forked in `progress` has the files of the run but none of its threads: it can neither go on nor tidy up.
[[noreturn]] void end_forked() {
  constexpr char words[] =
      "hoopfield: a process forked during a run cannot go on with it and ends; start processes before the run, or with "
      "the start method 'spawn'\n";
  const ssize_t ignored = ::write(STDERR_FILENO, words, sizeof words - 1);
  static_cast<void>(ignored);
  ::_exit(1);
}

}  // namespace

PythonObserver::PythonObserver(py::object function) : function_(std::move(function)) {
  if (!function_.is_none() && PyCallable_Check(function_.ptr()) == 0)
    throw py::type_error("progress must be a function of (fraction, stage) or None");
}

bool PythonObserver::progress(double fraction, const char* stage) {
  {
    const std::lock_guard lock(mutex_);
    if (stopped_) return false;
    const auto now = Clock::now();
    const bool last = fraction >= 1.0 && to_ >= 1.0 && !function_.is_none();
    if (now - asked_ < interval && !last) return true;
    asked_ = now;
  }
  return ask(from_ + (to_ - from_) * fraction, stage);
}

// Not under the mutex: another worker waiting for it must not stop the holder of the interpreter lock.
bool PythonObserver::ask(double fraction, const char* stage) {
  const py::gil_scoped_acquire acquire;
  const pid_t process = ::getpid();
  bool go_on = true;
  try {
    if (PyErr_CheckSignals() != 0) throw py::error_already_set();
    if (!function_.is_none()) go_on = !function_(fraction, stage).is(py::bool_(false));
  } catch (py::error_already_set& error) {
    if (!error_) error_.emplace(error);
    go_on = false;
  }
  if (::getpid() != process) end_forked();
  const std::lock_guard lock(mutex_);
  if (!go_on) stopped_ = true;
  return go_on;
}

void PythonObserver::raise_pending() {
  if (!error_) return;
  py::error_already_set error = *error_;
  error_.reset();
  throw error;
}

void PythonObserver::raise() {
  raise_pending();
  const py::object type = py::module_::import("hoopfield.errors").attr("Interrupted");
  PyErr_SetString(type.ptr(), "stopped on request");
  throw py::error_already_set();
}

}  // namespace hoopfield::python
