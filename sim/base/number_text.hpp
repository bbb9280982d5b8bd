// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Numbers as text (models/text.hpp) and words as cells of a table.
#pragma once

#include "models/text.hpp"

#include <string>

namespace hoopfield {

/// A word as a CSV cell: in quotes, with quotes doubled, where it holds a comma, a quote or an end of line (RFC 4180).
[[nodiscard]] std::string csv_cell(const std::string& word);

}  // namespace hoopfield
