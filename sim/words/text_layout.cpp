// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/text_layout.hpp"

#include "sim/base/shown_text.hpp"

#include <cctype>
#include <cstring>

namespace hoopfield::words {

namespace {

bool starts_code_point(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words(1);
  for (const char c : shown_text(text)) {
    if (static_cast<unsigned char>(c) <= 0x20) {
      if (!words.back().empty()) words.emplace_back();
    } else {
      words.back() += c;
    }
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

bool is_unit(std::string word) {
  while (!word.empty() && std::strchr(".,;:)", word.back()) != nullptr) word.pop_back();
  for (const char* unit :
       {"%",  "N",  "N/m", "mm", "m",  "g",   "um",  "MPa",  "degC", "lbf", "lbf/in", "in",  "kPa", "kg",
        "kN", "lb", "rpm", "ft", "oz", "mil", "psi", "degF", "days", "day", "h",      "min", "s",   "1/s"})
    if (word == unit) return true;
  return false;
}

/// Words that must not part: a number stays with its unit.
std::vector<std::string> keep_units(const std::vector<std::string>& words) {
  std::vector<std::string> kept;
  for (const std::string& word : words) {
    const bool number = !kept.empty() && kept.back().find(' ') == std::string::npos &&
                        std::isdigit(static_cast<unsigned char>(kept.back().back())) != 0;
    if (number && is_unit(word))
      kept.back() += ' ' + word;
    else
      kept.push_back(word);
  }
  return kept;
}

/// The part of a word that fits; the word keeps the rest.
std::string cut(std::string& word, std::size_t width) {
  std::size_t end = 0;
  for (std::size_t points = 0; end < word.size(); ++end)
    if (starts_code_point(word[end]) && points++ == width) break;
  std::string head = word.substr(0, end);
  word.erase(0, end);
  return head;
}

}  // namespace

std::size_t display_width(const std::string& text) {
  std::size_t count = 0;
  for (const char c : text) count += starts_code_point(c) ? 1U : 0U;
  return count;
}

std::string clipped(std::string text, std::size_t width) {
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 0x20U || c == 0x7F) c = ' ';
  if (display_width(text) <= width) return text;
  std::string out;
  for (std::size_t i = 0; i < text.size() && display_width(out) < width;) {
    std::size_t next = i + 1;
    while (next < text.size() && (static_cast<unsigned char>(text[next]) & 0xC0U) == 0x80U) ++next;
    out += text.substr(i, next - i);
    i = next;
  }
  return out;
}

std::string pad_left(const std::string& text, std::size_t width) {
  const std::size_t used = display_width(text);
  return used < width ? std::string(width - used, ' ') + text : text;
}

std::string pad_right(const std::string& text, std::size_t width) {
  const std::size_t used = display_width(text);
  return used < width ? text + std::string(width - used, ' ') : text;
}

std::string wrap(const std::string& text, const std::string& first_indent, const std::string& indent,
                 std::size_t width) {
  std::string out, line = first_indent;
  std::size_t start = line.size();
  for (std::string word : keep_units(words_of(text))) {
    if (line.size() > start && display_width(line) + 1 + display_width(word) > width) {
      out += line + '\n';
      line = indent;
      start = line.size();
    }
    while (display_width(word) + display_width(indent) > width) {
      out += line + (line.size() > start ? "\n" + indent : "") + cut(word, width - display_width(indent)) + '\n';
      line = indent;
      start = line.size();
    }
    line += (line.size() > start ? " " : "") + word;
  }
  return out + line + '\n';
}

std::string heading(const std::string& text, bool styled) {
  return (styled ? "\x1b[1m" + text + "\x1b[0m" : text) + '\n';
}

}  // namespace hoopfield::words
