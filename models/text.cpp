// SPDX-License-Identifier: BSD-3-Clause
#include "models/text.hpp"

#include <algorithm>
#include <array>
#include <charconv>

namespace hoopfield {

std::string_view trim(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n\v\f";
  const std::size_t begin = text.find_first_not_of(blanks);
  if (begin == std::string_view::npos) return text.substr(text.size());
  return text.substr(begin, text.find_last_not_of(blanks) + 1 - begin);
}

std::string file_name(std::string_view path) { return std::string(path.substr(path.find_last_of('/') + 1)); }

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

std::string in_quotes(std::string_view text) { return '"' + std::string(text) + '"'; }

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

std::string significant(double value, int digits) {
  std::array<char, 64> buffer{};
  const auto end =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::general, digits);
  return {buffer.data(), end.ptr};
}

std::string hexadecimal(std::uint64_t value, std::size_t width) {
  std::array<char, 16> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, 16);
  std::string text(buffer.data(), end.ptr);
  for (char& c : text)
    if (c >= 'a') c = static_cast<char>(c - 'a' + 'A');
  return std::string(width - std::min(width, text.size()), '0') + text;
}

std::optional<double> number_in(std::string_view text) {
  double value = 0.0;
  const auto [end, code] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (code != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

}  // namespace hoopfield
