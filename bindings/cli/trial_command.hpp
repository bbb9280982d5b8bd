// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield trial`
#pragma once

#include "bindings/cli/program.hpp"

namespace hoopfield::cli {

void add_trial_command(Program& program);

}  // namespace hoopfield::cli
