// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// One scenario with more turns over a part of its height.
#pragma once

#include "models/pattern/pattern.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

namespace hoopfield {

/// As predict(), the whole way from the roll, wound with those turns.
[[nodiscard]] Result predict_denser(const Scenario& scenario, const DenserTurns& denser);

}  // namespace hoopfield
