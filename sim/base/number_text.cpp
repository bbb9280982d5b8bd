// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/number_text.hpp"

#include <array>
#include <charconv>

namespace hoopfield {

std::string shortest(double value) {
  std::array<char, 40> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
  return {buffer.data(), end.ptr};
}

std::string fixed(double value, int decimals) {
  std::array<char, 400> buffer{};
  const auto end =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals);
  std::string text(buffer.data(), end.ptr);
  if (text.starts_with('-') && text.find_first_of("123456789infa") == std::string::npos) text.erase(0, 1);
  return text;
}

std::string csv_cell(const std::string& word) {
  if (word.find_first_of(",\"\r\n") == std::string::npos) return word;
  std::string text = "\"";
  for (const char c : word) text += c == '"' ? std::string("\"\"") : std::string(1, c);
  return text + '"';
}

}  // namespace hoopfield
