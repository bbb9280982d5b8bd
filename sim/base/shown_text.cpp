// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/shown_text.hpp"

#include "models/text.hpp"

namespace hoopfield {
namespace {

unsigned byte_at(std::string_view text, std::size_t i) {
  return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
}

/// U+0080 to U+009F, U+2028 to U+202E and U+2066 to U+2069 at a place; 0 for anything else.
unsigned obeyed(std::string_view text, std::size_t i) {
  const unsigned a = byte_at(text, i), b = byte_at(text, i + 1), c = byte_at(text, i + 2);
  if (a == 0xC2U && b >= 0x80U && b < 0xA0U) return b;
  if (a != 0xE2U) return 0;
  if (b == 0x80U && c >= 0xA8U && c <= 0xAEU) return 0x2000U + (c & 0x3FU);
  if (b == 0x81U && c >= 0xA6U && c <= 0xA9U) return 0x2040U + (c & 0x3FU);
  return 0;
}

}  // namespace

std::string shown_text(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const unsigned byte = byte_at(text, i), code = obeyed(text, i);
    if (code != 0) {
      out += "\\u" + hexadecimal(code, 4);
      i += code < 0x100U ? 1 : 2;
    } else if ((byte < 0x20U && byte != '\n' && byte != '\t') || byte == 0x7FU) {
      out += "\\x" + hexadecimal(byte, 2);
    } else {
      out += text[i];
    }
  }
  return out;
}

std::string shown_word(std::string_view text) {
  constexpr std::size_t longest = 100;
  std::size_t end = 0;
  for (std::size_t characters = 0; end < text.size(); ++end)
    if ((byte_at(text, end) & 0xC0U) != 0x80U && characters++ == longest) break;
  std::string out;
  for (const char c : shown_text(text.substr(0, end))) out += c == '\n' ? "\\n" : std::string(1, c);
  return end < text.size() ? out + "..." : out;
}

}  // namespace hoopfield
