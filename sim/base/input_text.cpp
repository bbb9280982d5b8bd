// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/input_text.hpp"

#include "models/error.hpp"
#include "models/text.hpp"
#include "sim/base/shown_text.hpp"

#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <string_view>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace hoopfield {
namespace {

std::string_view line_of(std::string_view text, int number) {
  std::size_t begin = 0;
  for (int line = 1; line < number; ++line) {
    const std::size_t end = text.find('\n', begin);
    if (end == std::string_view::npos) return {};
    begin = end + 1;
  }
  std::string_view line = text.substr(begin, text.find('\n', begin) - begin);
  if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
  return line;
}

bool is_continuation(char c) { return (static_cast<unsigned char>(c) & 0xC0u) == 0x80u; }

// Source line and caret. Long lines are cut round the place so that the excerpt fits 80 columns; bytes that would upset
// a terminal are shown as '?'.
std::string excerpt(std::string_view text, Position at) {
  const std::string_view line = line_of(text, at.line);
  if (line.empty()) return {};
  constexpr int width = 66;
  const int first = at.column > width ? at.column - width / 2 : 1;
  std::string shown, padding;
  int column = 0;
  for (const char c : line) {
    if (!is_continuation(c)) ++column;
    if (column < first) continue;
    if (column >= first + width) break;
    const unsigned char byte = static_cast<unsigned char>(c);
    const bool printable = byte >= 0x80u || byte == '\t' || (byte >= 0x20u && byte != 0x7Fu);
    shown += printable ? c : '?';
    if (column < at.column && !is_continuation(c)) padding += c == '\t' ? '\t' : ' ';
  }
  for (int extra = column; extra + 1 < at.column; ++extra) padding += ' ';
  const std::string number = std::to_string(at.line);
  constexpr std::size_t margin = 6;
  return "\n" + std::string(margin - std::min(margin, number.size()), ' ') + number + " | " + shown_text(shown) +
         "\n       | " + padding + "^";
}

// Length of the UTF-8 sequence at the front, or 0 when it is not one (overlong, surrogate and > U+10FFFF refused).
std::size_t utf8_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned>(static_cast<unsigned char>(text[i])); };
  const unsigned lead = byte(0);
  if (lead < 0x80u) return lead == 0u ? 0 : 1;
  const std::size_t length = lead >= 0xF0u ? 4 : lead >= 0xE0u ? 3 : 2;
  if (lead < 0xC2u || lead > 0xF4u || text.size() < length) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if (!is_continuation(text[i])) return 0;
  }
  const unsigned second = byte(1);
  const bool bad = (lead == 0xE0u && second < 0xA0u) || (lead == 0xEDu && second > 0x9Fu) ||
                   (lead == 0xF0u && second < 0x90u) || (lead == 0xF4u && second > 0x8Fu);
  return bad ? 0 : length;
}

/// Ordinary files only: a pipe or device may never end, and opening it may never return.
std::unique_ptr<std::FILE, int (*)(std::FILE*)> open_regular(const std::string& path) {
  std::error_code code;
  if (std::filesystem::is_directory(path, code)) throw IoError(path + ": is a directory, not a file", path);
  const int handle = ::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
  if (handle < 0) throw IoError(path + ": cannot be opened: " + std::strerror(errno), path);
  struct stat status {};
  const bool regular = ::fstat(handle, &status) == 0 && S_ISREG(status.st_mode);
  std::FILE* file = regular ? ::fdopen(handle, "rb") : nullptr;
  if (file != nullptr) return {file, &std::fclose};
  ::close(handle);
  throw IoError(path + ": is not an ordinary file, as a pipe or a device is none", path);
}

}  // namespace

std::string compose_message(const InputText& input, Position at, const std::string& key, const Complaint& complaint) {
  std::string message = shown_text(input.name);
  if (at.line > 0 && !input.name.empty()) message += ":" + std::to_string(at.line) + ":" + std::to_string(at.column);
  if (!input.name.empty()) message += ": ";
  if (!key.empty()) message += shown_word(key) + ": ";
  message += shown_text(complaint.what);
  if (!complaint.expected.empty()) message += "; expected " + shown_text(complaint.expected);
  if (!complaint.hint.empty()) message += "; did you mean " + complaint.hint + "?";
  if (at.line > 0 && !input.name.empty()) message += excerpt(input.text, at);
  return message;
}

void fail_input(const InputText& input, Position at, const std::string& key, const Complaint& complaint) {
  throw InputError(compose_message(input, at, key, complaint), input.name, at.line, at.column, key);
}

void fail_range(const InputText& input, Position at, const std::string& key, const Complaint& complaint) {
  throw OutOfRange(compose_message(input, at, key, complaint), input.name, at.line, at.column, key);
}

InputText read_input_text(const std::string& path, std::size_t most_bytes) {
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file = open_regular(path);
  InputText input{path, {}};
  std::array<char, 65536> buffer{};
  while (const std::size_t count = std::fread(buffer.data(), 1, buffer.size(), file.get())) {
    input.text.append(buffer.data(), count);
    if (input.text.size() > most_bytes) {
      throw InputError(path + ": is larger than " + std::to_string(most_bytes >> 20u) + " MB; expected a text file" +
                           (most_bytes == max_input_bytes ? " of a few kilobytes" : ""),
                       path);
    }
  }
  if (std::ferror(file.get()) != 0) throw IoError(path + ": cannot be read: " + std::strerror(errno), path);
  return input;
}

void check_utf8(const InputText& input, const char* expected) {
  Position at{1, 1};
  for (std::size_t i = 0; i < input.text.size();) {
    const std::size_t length = utf8_length(std::string_view(input.text).substr(i));
    if (length == 0) {
      const unsigned byte = static_cast<unsigned char>(input.text[i]);
      const bool binary = byte == 0u;
      const std::string what = binary ? "holds a NUL byte, so it is not a text file"
                                      : "byte 0x" + hexadecimal(byte, 2) + " is not UTF-8 text";
      // No excerpt: the bytes are what is wrong.
      fail_input({input.name, {}}, at, {}, {what, expected, {}});
    }
    if (input.text[i] == '\n') {
      ++at.line;
      at.column = 0;
    }
    ++at.column;
    i += length;
  }
}

}  // namespace hoopfield
