// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a sweep keeps of every case.
#pragma once

#include "sim/sweep/outputs.hpp"

#include <string>

namespace hoopfield {

/// What a sweep keeps of every case, and the hash of its plan.
struct SweepLayout {
  SelectedOutputs selected;
  FieldLayout fields;
  std::string hash;
};

[[nodiscard]] SweepLayout sweep_layout(const SweepPlan& plan);

}  // namespace hoopfield
