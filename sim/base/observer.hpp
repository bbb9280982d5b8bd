// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Progress of a long computation, and stopping it.
#pragma once

#include <exception>

namespace hoopfield {

/// Receives progress; return false from `progress` to stop the computation (throws Interrupted).
class Observer {
 public:
  virtual ~Observer() = default;
  /// \param fraction done so far, 0..1; \param stage a few words for a person
  virtual bool progress(double fraction, const char* stage) = 0;
};

/// Thrown when an observer asked to stop.
class Interrupted : public std::exception {
 public:
  [[nodiscard]] const char* what() const noexcept override { return "stopped on request"; }
};

}  // namespace hoopfield
