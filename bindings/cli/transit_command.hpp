// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield transit`.
#pragma once

#include "bindings/cli/program.hpp"

namespace hoopfield::cli {

void add_transit_command(Program& program);

}  // namespace hoopfield::cli
