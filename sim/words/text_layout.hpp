// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Text for a terminal of 80 columns.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace hoopfield::words {

inline constexpr std::size_t terminal_width = 80;

[[nodiscard]] std::size_t display_width(const std::string& text);  ///< code points of UTF-8
/// The beginning that fits; control characters become spaces.
[[nodiscard]] std::string clipped(std::string text, std::size_t width);
[[nodiscard]] std::string pad_left(const std::string& text, std::size_t width);
[[nodiscard]] std::string pad_right(const std::string& text, std::size_t width);

/// Breaks at spaces so that no line is wider than `width`; a single longer word is cut. A number stays with its unit.
/// Control characters become spaces.
[[nodiscard]] std::string wrap(const std::string& text, const std::string& first_indent, const std::string& indent,
                               std::size_t width = terminal_width);

/// Bold on a terminal that wants it, plain elsewhere. Nothing is said by colour alone.
[[nodiscard]] std::string heading(const std::string& text, bool styled);

}  // namespace hoopfield::words
