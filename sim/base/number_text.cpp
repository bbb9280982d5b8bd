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
  // A spreadsheet computes what begins so; numbers are meant to be numbers.
  double number = 0.0;
  const auto read = std::from_chars(word.data(), word.data() + word.size(), number);
  const bool formula = !word.empty() && std::string("=+-@\t\r").find(word.front()) != std::string::npos &&
                       (read.ec != std::errc{} || read.ptr != word.data() + word.size());
  const std::string safe = formula ? "'" + word : word;
  if (safe.find_first_of(",\"\r\n") == std::string::npos) return safe;
  std::string text = "\"";
  for (const char c : safe) text += c == '"' ? std::string("\"\"") : std::string(1, c);
  return text + '"';
}

}  // namespace hoopfield
