// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield predict`: one wrap predicted, printed and written.
#pragma once

#include "bindings/cli/program.hpp"

#include <optional>
#include <string>

namespace hoopfield::cli {

struct PredictOptions {
  std::string scenario;
  std::string hdf5;                 ///< result file; empty = none
  std::string csv_folder;           ///< folder of tables; empty = none
  std::string report;               ///< HTML page; empty = none
  std::optional<int> band_samples;  ///< as the scenario says unless given
  bool rank = false;                ///< the band if each of the five largest unknowns were known
  bool indices = false;             ///< Sobol' indices
  bool json = false;                ///< print the summary object instead of the page
  bool require = false;             ///< a missed target is exit code 1
};

/// Reads, predicts, writes files, prints. Returns an exit code or throws an Error.
int predict_scenario(const PredictOptions& options, const CommonOptions& common);

}  // namespace hoopfield::cli
