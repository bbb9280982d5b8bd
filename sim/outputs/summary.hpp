// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The numbers of a result that sum it up, by name.
#pragma once

#include "sim/outputs/result.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hoopfield {

/// One number of a result, in SI. Names are those of the JSON object without its units.
struct SummaryOutput {
  std::string name;  ///< "containment.after_storage.middle.hoop_tension"
  std::string unit;  ///< SI, UDUNITS spelling; "1" for pure numbers (stretch as strain)
  std::string long_name;
  bool per_face = false;  ///< one face of a station: not in the summary by default
  std::function<double(const Result&)> value;
};

/// Every summary output in the order of the JSON object. Thread-safe.
[[nodiscard]] const std::vector<SummaryOutput>& summary_outputs();

}  // namespace hoopfield
