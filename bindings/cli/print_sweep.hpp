// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What `hoopfield sweep` says at its end.
#pragma once

#include "bindings/cli/sweep_command.hpp"
#include "sim/sweep/sweep.hpp"

#include <cstddef>
#include <string>

namespace hoopfield::cli {

/// A sweep that came to its end.
struct FinishedSweep {
  const SweepResult& result;
  double rate = 0.0;  ///< cases/s; 0 when unknown
};

/// The page or, on request, one JSON object.
void print_sweep(const SweepCommandOptions& options, const FinishedSweep& finished);

/// "375 cases/s"
[[nodiscard]] std::string rate_text(double rate);
/// "1 case", "60 cases"
[[nodiscard]] std::string cases_text(std::size_t count);

}  // namespace hoopfield::cli
