// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A text a user wrote, and the one way to say what is wrong with it.
#pragma once

#include <cstddef>
#include <string>

namespace hoopfield {

/// 1-based place in a text; line 0 = no place.
struct Position {
  int line = 0;
  int column = 0;  ///< in characters, not bytes
};

/// A file as read. An empty name stands for values set by a program: messages then carry no place.
struct InputText {
  std::string name;
  std::string text;
};

/// The three parts of a complaint, without final stops.
struct Complaint {
  std::string what;
  std::string expected;  ///< may be empty
  std::string hint;      ///< goes into "did you mean ...?"; may be empty
};

/// `file:line:col: key: what; expected ...; did you mean ...?` and, below it, the source line with a caret.
[[nodiscard]] std::string compose_message(const InputText& input, Position at, const std::string& key,
                                          const Complaint& complaint);

[[noreturn]] void fail_input(const InputText& input, Position at, const std::string& key, const Complaint& complaint);
[[noreturn]] void fail_range(const InputText& input, Position at, const std::string& key, const Complaint& complaint);

/// Greatest size of an input text, bytes. Scenario and film files are a few kilobytes; more is a mistake.
inline constexpr std::size_t max_input_bytes = 1u << 20;

/// Reads a whole text file. Throws IoError when it cannot be opened or read, InputError when it is too large.
[[nodiscard]] InputText read_input_text(const std::string& path, std::size_t most_bytes = max_input_bytes);

/// Throws InputError at the first byte that is not UTF-8 text (NUL counts as binary).
/// \param expected what the message asks for
void check_utf8(const InputText& input, const char* expected = "a TOML text in UTF-8");

}  // namespace hoopfield
