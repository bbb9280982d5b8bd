// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What every command shares: exit codes, and how a command is run.
#pragma once

#include "bindings/cli/command_line.hpp"

namespace hoopfield::cli {

enum ExitCode : int {
  exit_done = 0,
  exit_target_missed = 1,
  exit_bad_input = 2,
  exit_not_computed = 3,
  exit_file_error = 4,
  exit_interrupted = 130
};

/// Parses and runs; every error becomes a message on stderr and an exit code.
int run(Program& program, int argc, const char* const* argv);

/// Standard output is a terminal that shows styles and the user did not ask for plain text (NO_COLOR, TERM=dumb).
[[nodiscard]] bool styled_output();

/// A word on stderr when this build can write plain tables only where a report is asked for.
void warn_of_plain_report();

void add_predict_command(Program& program);
void add_film_command(Program& program);
void add_selftest_command(Program& program);

}  // namespace hoopfield::cli
