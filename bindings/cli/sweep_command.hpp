// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield sweep`: many scenarios predicted to one file.
#pragma once

#include "bindings/cli/program.hpp"

#include <string>

namespace hoopfield::cli {

struct SweepCommandOptions {
  std::string sweep;
  std::string output;
  unsigned jobs = 0;  ///< 0 = one per processor
  bool resume = false;
  bool json = false;
};

/// Reads, predicts, writes the file, prints what came of it. Returns an exit code or throws an Error.
int sweep_cases(const SweepCommandOptions& options, const CommonOptions& common);

void add_sweep_command(Program& program);

}  // namespace hoopfield::cli
