// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What every command shares: options, exit codes, how a command is added and run.
#pragma once

#include "bindings/cli/display_units.hpp"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>

#include <functional>
#include <string>

namespace hoopfield::cli {

enum ExitCode : int {
  exit_done = 0,
  exit_target_missed = 1,
  exit_bad_input = 2,
  exit_not_computed = 3,
  exit_file_error = 4,
  exit_interrupted = 130
};

struct CommonOptions {
  UnitStyle units = UnitStyle::metric;
  bool overwrite = false;
};

/// The command line under construction. Parsing picks one action; `run` carries it out.
struct Program {
  CLI::App app{"Stretch film wound under tension around a rectangular load.", "hoopfield"};
  CommonOptions options;
  std::function<int()> action;
};

/// A command with the options all commands share and an example under its help.
CLI::App* add_command(Program& program, CLI::App& parent, const std::string& name, const std::string& description,
                      const std::string& example);

/// Parses and runs; every error becomes a message on stderr and an exit code.
int run(Program& program, int argc, const char* const* argv);

/// A word on stderr when this build can write plain tables only where a report is asked for.
void warn_of_plain_report();

void add_predict_command(Program& program);
void add_film_command(Program& program);
void add_selftest_command(Program& program);

}  // namespace hoopfield::cli
