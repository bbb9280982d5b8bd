// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield compare`: the present film and settings against candidates.
#pragma once

#include "bindings/cli/program.hpp"
#include "sim/bands/bands.hpp"
#include "sim/compare/compare.hpp"

#include <string>
#include <vector>

namespace hoopfield::cli {

struct CompareCommandOptions {
  std::vector<std::string> files;  ///< the first is the present wrap
  std::string in;                  ///< scenario every film is put in; empty: the files are scenarios
  std::string same = "nothing";
  bool best_prestretch = false;
  double break_share = 80.0;  ///< %
  bool unknowns = false;
  int band_samples = static_cast<int>(proof_samples);  ///< draws for each side; 0 = no bands
  double words_at = 90.0;  ///< % of draws from which on a side is said to contain more or less
  std::string csv;
  std::string report;  ///< HTML page; empty = none. Ranks the assumed inputs too
  bool json = false;
};

/// Returns the exit code. Throws as the readers, compare() and the writers.
[[nodiscard]] int compare_sides(const CompareCommandOptions& options, const CommonOptions& common);

void add_compare_command(Program& program);

}  // namespace hoopfield::cli
