// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A value or table as written, before its meaning is known. Free of the parser's types.
#pragma once

#include "sim/base/input_text.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace hoopfield {

/// One node of a parsed TOML text.
struct RawNode {
  enum class Kind { text, integer, number, flag, date, array, table };
  Kind kind = Kind::table;
  std::string key;            ///< last part of its key; empty in arrays
  Position key_at, value_at;  ///< a table's key_at is its header
  std::string text;
  double number = 0.0;  ///< also set for integers
  std::int64_t integer = 0;
  bool flag = false;
  bool inline_table = false;
  std::vector<RawNode> children;  ///< of arrays and tables, in the order of the file

  [[nodiscard]] const RawNode* find(const std::string& name) const {
    for (const RawNode& child : children) {
      if (child.key == name) return &child;
    }
    return nullptr;
  }
};

/// "a text", "a whole number", ... for messages.
[[nodiscard]] std::string kind_word(const RawNode& node);

/// Parses a TOML text. Throws InputError with the place for text that is not UTF-8, not TOML, or
/// nests deeper than `max_toml_levels`.
[[nodiscard]] RawNode parse_toml(const InputText& input);

/// What a file is meant to be, in words: "a film file", "name, law, ...".
struct FileKind {
  std::string_view name, first_keys;
};

/// The same for a whole file. One without any key is something else and is not quoted: its lines may be none of the
/// reader's business.
[[nodiscard]] RawNode parse_toml_file(const InputText& input, const FileKind& kind);

/// Parses the right-hand side of `key = value`. Throws InputError.
[[nodiscard]] RawNode parse_toml_value(const std::string& text, const std::string& key);

}  // namespace hoopfield
