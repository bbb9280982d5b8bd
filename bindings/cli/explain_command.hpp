// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield explain`: what an input or output means and how to measure it.
#pragma once

#include "bindings/cli/program.hpp"
#include "models/parameter.hpp"

#include <string>

namespace hoopfield::cli {

/// One declaration in 80 columns.
[[nodiscard]] std::string explain_page(const Parameter& parameter, UnitStyle units);

/// What to print for a key, a table ("load") or, when empty, everything. Throws InputError with the nearest keys on a
/// miss.
[[nodiscard]] std::string explain_text(const std::string& key, UnitStyle units);

/// All declarations as one Markdown page: models/parameters/KEYS.md.
[[nodiscard]] std::string explain_markdown();

void add_explain_command(Program& program);

}  // namespace hoopfield::cli
