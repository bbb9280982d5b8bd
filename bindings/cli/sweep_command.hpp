// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield sweep`: many scenarios predicted to one file, or to shards that are put together.
#pragma once

#include "bindings/cli/program.hpp"

#include <string>
#include <vector>

namespace hoopfield::cli {

struct SweepCommandOptions {
  std::string sweep;
  std::string output;
  std::string shard;                ///< "3/16"; empty = all cases
  std::vector<std::string> merged;  ///< shards to put together instead of computing
  std::string csv;                  ///< table of all cases; empty = none
  unsigned jobs = 0;                ///< 0 = one per processor
  bool resume = false;
  bool json = false;
};

/// Reads, predicts or puts shards together, writes the file, prints what came of it. Returns an exit code or throws an
/// Error.
int sweep_cases(const SweepCommandOptions& options, const CommonOptions& common);

void add_sweep_command(Program& program);

}  // namespace hoopfield::cli
