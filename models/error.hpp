// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What can go wrong, by who can mend it. Throw at the edge of the API, assert inside.
#pragma once

#include <stdexcept>
#include <string>
#include <utility>

namespace hoopfield {

/// Base of every error hoopfield throws on purpose. `what()` is complete: it needs no other member to be understood.
class Error : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Something the user wrote cannot be used as it stands. The message reads `file:line:column: key: what, expected,
/// hint`.
class InputError : public Error {
 public:
  explicit InputError(const std::string& message, std::string file_name = {}, int line_number = 0,
                      int column_number = 0, std::string key_name = {})
      : Error(message),
        file(std::move(file_name)),
        line(line_number),
        column(column_number),
        key(std::move(key_name)) {}
  std::string file;
  int line = 0;    ///< 1-based; 0 when the value does not come from a file
  int column = 0;  ///< 1-based; 0 when unknown
  std::string key;
};

/// A physical bound is left: no film, load or machine can have this value.
class OutOfRange : public InputError {
 public:
  using InputError::InputError;
};

/// The inputs are well formed but the physics has no solution, or the solver found none.
class SolverError : public Error {
 public:
  explicit SolverError(const std::string& message, std::string hint_text = {}, double at_time = 0.0, int at_turn = 0,
                       double at_height = 0.0)
      : Error(hint_text.empty() ? message : message + "\n  hint: " + hint_text),
        hint(std::move(hint_text)),
        time(at_time),
        turn(at_turn),
        height(at_height) {}
  std::string hint;
  double time = 0.0;    ///< s
  int turn = 0;         ///< 1-based; 0 when not in a turn
  double height = 0.0;  ///< m
};

/// The film breaks, runs away or leaves the reach of its law: no wrap with these inputs, and not for want of a solver.
class FilmLimitError : public SolverError {
 public:
  using SolverError::SolverError;
};

/// A file could not be read or written.
class IoError : public Error {
 public:
  explicit IoError(const std::string& message, std::string file_name = {})
      : Error(message), file(std::move(file_name)) {}
  std::string file;
};

}  // namespace hoopfield
