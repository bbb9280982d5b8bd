// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Text of others on a terminal.
#pragma once

#include <string>
#include <string_view>

namespace hoopfield {

/// The text with everything that a terminal would obey rather than show as an escape, `\\x1B` or `\\u202E`: control
/// characters but tabs and line ends, and marks that turn the direction of writing.
[[nodiscard]] std::string shown_text(std::string_view text);

/// A word within a message: shown_text() without line ends, at most 100 characters.
[[nodiscard]] std::string shown_word(std::string_view text);

}  // namespace hoopfield
