// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A place that moves through a text and knows its line and column.
#pragma once

#include "sim/base/input_text.hpp"

#include <string_view>

namespace hoopfield {

/// What is left of a text, and where that begins. Columns count characters of UTF-8, not bytes.
class TextCursor {
 public:
  explicit TextCursor(std::string_view text) : rest_(text) {}

  [[nodiscard]] std::string_view rest() const { return rest_; }
  [[nodiscard]] bool at_end() const { return rest_.empty(); }
  [[nodiscard]] bool at(char c) const { return !rest_.empty() && rest_.front() == c; }
  [[nodiscard]] Position position() const { return at_; }

  /// The next byte, which must be there.
  char take() {
    const char c = rest_.front();
    rest_.remove_prefix(1);
    if (c == '\n') {
      ++at_.line;
      at_.column = 1;
    } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
      ++at_.column;
    }
    return c;
  }
  /// Goes on by so many bytes, none of them a line end, without counting columns.
  void skip(std::size_t bytes) { rest_.remove_prefix(bytes); }

 private:
  std::string_view rest_;
  Position at_{1, 1};
};

}  // namespace hoopfield
