// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What an input or output means and how to measure it.
#pragma once

#include "models/parameter.hpp"
#include "sim/words/display_units.hpp"

#include <string>

namespace hoopfield::words {

/// One declaration in 80 columns.
[[nodiscard]] std::string explain_page(const Parameter& parameter, UnitStyle units);

/// The page of a key, the list of a table ("load") or, when empty, of everything. A word that is neither is searched
/// for in keys and sentences ("tension"), then the word of nearest spelling ("strech" finds what "stretch" does).
/// Throws InputError with the nearest keys when nothing is found.
[[nodiscard]] std::string explain_text(const std::string& key, UnitStyle units);

}  // namespace hoopfield::words
