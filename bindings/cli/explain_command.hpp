// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield explain`: what an input or output means and how to measure it.
#pragma once

#include "bindings/cli/program.hpp"

#include <string>

namespace hoopfield::cli {

/// All declarations as one Markdown page: models/parameters/KEYS.md.
[[nodiscard]] std::string explain_markdown();

void add_explain_command(Program& program);

}  // namespace hoopfield::cli
