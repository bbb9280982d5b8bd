// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield explain`: what an input or output means and how to measure it.
#pragma once

#include "bindings/cli/program.hpp"

#include <string>

namespace hoopfield::cli {

/// All declarations as one Markdown page: models/parameters/KEYS.md.
[[nodiscard]] std::string explain_markdown();
/// What to read and measure at the line, with what, how long, how good and what can hurt, as one page.
[[nodiscard]] std::string measuring_guide();

void add_explain_command(Program& program);

}  // namespace hoopfield::cli
