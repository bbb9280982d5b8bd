// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Numbers of a scenario and how far they may go. No test library here: the fuzz targets use it too.
#pragma once

#include "models/parameter.hpp"

#include <string>
#include <vector>

namespace test {

struct KeyBounds {
  std::string key;
  double low = 0.0, high = 0.0;  ///< physical bounds; where there is none, far beyond what the models are meant for
};

/// Every number of a scenario but those of [numerics], which multiply the work as they say.
inline std::vector<KeyBounds> key_bounds() {
  using namespace hoopfield;
  std::vector<KeyBounds> out;
  for (const Parameter& p : parameters(ParameterRoom::scenario)) {
    if (p.kind != ParameterKind::number && p.kind != ParameterKind::integer) continue;
    if (p.key.starts_with("numerics.") || p.key == "scenario.schema") continue;
    const double low = p.lower ? p.lower->value : -1e12, high = p.upper ? p.upper->value : 1e12;
    out.push_back({std::string(p.key), low, high});
  }
  return out;
}

}  // namespace test
