// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/text_form.hpp"

#include "models/text.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdlib>
#include <string_view>

namespace hoopfield {
namespace {

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

std::size_t characters(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return !continues(c); }));
}

/// Bytes of the control character or line break that stands at a place of a UTF-8 text; 0 for any other.
std::size_t control_at(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return at + i < text.size() ? static_cast<unsigned char>(text[at + i]) : 0U; };
  if (byte(0) < 0x20 || byte(0) == 0x7F) return 1;
  if (byte(0) == 0xC2 && byte(1) >= 0x80 && byte(1) < 0xA0) return 2;
  const bool separator = byte(0) == 0xE2 && byte(1) == 0x80 && (byte(2) == 0xA8 || byte(2) == 0xA9);
  return separator ? 3 : 0;
}

/// The text with one blank for every run of control characters and line breaks.
std::string on_one_line(const std::string& text) {
  std::string line;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t bytes = control_at(text, i);
    if (bytes == 0)
      line += text[i];
    else if (!line.empty() && line.back() != ' ')
      line += ' ';
    i += std::max<std::size_t>(bytes, 1);
  }
  return std::string(trim(line));
}

std::optional<TextProblem> line_problem(const std::string& text) {
  const std::size_t count = characters(text);
  if (count > longest_line)
    return TextProblem{"has " + std::to_string(count) + " characters", "scenario.notes, which takes any text"};
  bool one_line = true;
  for (std::size_t i = 0; i < text.size(); ++i) one_line = one_line && control_at(text, i) == 0;
  if (one_line) return std::nullopt;
  const std::string line = on_one_line(text);
  return TextProblem{"holds a line break or control character", line.empty() ? line : in_quotes(line)};
}

/// Up to three numbers of a date in whatever order, each with its count of digits.
struct Digits {
  std::array<int, 3> value{};
  std::array<std::size_t, 3> width{};
  std::size_t count = 0;
  char between = ' ';
};

Digits digits_of(const std::string& text) {
  Digits found;
  for (std::size_t i = 0; i < text.size() && found.count < 3;) {
    std::size_t end = i;
    while (end < text.size() && text[end] >= '0' && text[end] <= '9') ++end;
    if (end == i || end - i > 4) return {};
    found.value[found.count] = std::atoi(text.substr(i, end - i).c_str());
    found.width[found.count++] = end - i;
    if (end < text.size()) found.between = text[end];
    i = end + 1;
  }
  return found;
}

std::string iso(int year, int month, int day) {
  namespace c = std::chrono;
  const c::year_month_day date{c::year{year}, c::month{static_cast<unsigned>(month)},
                               c::day{static_cast<unsigned>(day)}};
  if (!date.ok()) return {};
  const auto padded = [](int number, std::size_t width) {
    const std::string digits = std::to_string(number);
    return std::string(width - std::min(width, digits.size()), '0') + digits;
  };
  return padded(year, 4) + "-" + padded(month, 2) + "-" + padded(day, 2);
}

/// The date in year-month-day that was perhaps meant; empty when it may be either of two, or none.
std::string meant(const std::string& text) {
  const Digits d = digits_of(text);
  if (d.count != 3) return {};
  if (d.width[0] == 4) return iso(d.value[0], d.value[1], d.value[2]);
  if (d.width[2] != 4) return {};
  const std::string day_first = iso(d.value[2], d.value[1], d.value[0]);
  if (d.between == '.') return day_first;
  const std::string month_first = iso(d.value[2], d.value[0], d.value[1]);
  if (day_first == month_first || month_first.empty()) return day_first;
  return day_first.empty() ? month_first : std::string();
}

std::optional<TextProblem> date_problem(const std::string& text) {
  const std::string date = meant(text);
  if (text.empty() || date == text) return std::nullopt;
  if (line_problem(text)) return TextProblem{"is no date", in_quotes("2026-11-27")};
  return TextProblem{in_quotes(text) + " is no date of that form", in_quotes(date.empty() ? "2026-11-27" : date)};
}

}  // namespace

std::optional<TextProblem> text_problem(const Parameter& parameter, const std::string& text) {
  switch (parameter.text_form) {
    case TextForm::any: return std::nullopt;
    case TextForm::line: return line_problem(text);
    case TextForm::date: return date_problem(text);
  }
  return std::nullopt;
}

}  // namespace hoopfield
