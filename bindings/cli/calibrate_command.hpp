// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield calibrate`
#pragma once

#include "bindings/cli/program.hpp"

namespace hoopfield::cli {

void add_calibrate_command(Program& program);

}  // namespace hoopfield::cli
