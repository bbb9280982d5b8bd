// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/raw_node.hpp"

#include "models/text.hpp"
#include "sim/base/toml_depth.hpp"

#include <toml++/toml.h>
#include <algorithm>
#include <array>
#include <string_view>

namespace hoopfield {
namespace {

Position position(const toml::source_region& source) {
  return {static_cast<int>(source.begin.line), static_cast<int>(source.begin.column)};
}

RawNode convert(const toml::node& node);

void convert_table(const toml::table& table, RawNode& out) {
  out.kind = RawNode::Kind::table;
  out.inline_table = table.is_inline();
  for (const auto& [key, child] : table) {
    RawNode next = convert(child);
    next.key = std::string(key.str());
    next.key_at = position(key.source());
    out.children.push_back(std::move(next));
  }
  const auto before = [](const RawNode& a, const RawNode& b) {
    return std::pair(a.key_at.line, a.key_at.column) < std::pair(b.key_at.line, b.key_at.column);
  };
  std::stable_sort(out.children.begin(), out.children.end(), before);
}

RawNode convert(const toml::node& node) {
  RawNode out;
  out.value_at = position(node.source());
  if (const auto* table = node.as_table()) {
    convert_table(*table, out);
  } else if (const auto* array = node.as_array()) {
    out.kind = RawNode::Kind::array;
    for (const toml::node& item : *array) out.children.push_back(convert(item));
  } else if (const auto* text = node.as_string()) {
    out.kind = RawNode::Kind::text;
    out.text = text->get();
  } else if (const auto* integer = node.as_integer()) {
    out.kind = RawNode::Kind::integer;
    out.integer = integer->get();
    out.number = static_cast<double>(out.integer);
    out.text = std::to_string(out.integer);
  } else if (const auto* number = node.as_floating_point()) {
    out.kind = RawNode::Kind::number;
    out.number = number->get();
    out.text = shortest(number->get());
  } else if (const auto* flag = node.as_boolean()) {
    out.kind = RawNode::Kind::flag;
    out.flag = flag->get();
    out.text = out.flag ? "true" : "false";
  } else {
    out.kind = RawNode::Kind::date;
  }
  return out;
}

}  // namespace

std::string kind_word(const RawNode& node) {
  switch (node.kind) {
    case RawNode::Kind::text: return "a text";
    case RawNode::Kind::integer: return "a whole number";
    case RawNode::Kind::number: return "a number";
    case RawNode::Kind::flag: return "a truth value";
    case RawNode::Kind::date: return "a date or time";
    case RawNode::Kind::array: return "a list";
    case RawNode::Kind::table: return "a table";
  }
  return "a value";
}

namespace {

/// A table, or a word before an equals sign.
bool begins_with_a_key(std::string_view line) {
  const std::size_t start = line.find_first_not_of(" \t\r");
  if (start == std::string_view::npos || line[start] == '#') return false;
  if (line[start] == '[') return true;
  const std::size_t end = line.find('=', start);
  if (end == std::string_view::npos) return false;
  std::string_view key = line.substr(start, end - start);
  while (key.ends_with(' ') || key.ends_with('\t')) key.remove_suffix(1);
  if (key.starts_with('"') || key.starts_with('\'')) return true;
  return std::all_of(key.begin(), key.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-' ||
           c == '.';
  });
}

/// A text whose comments are all it has counts: what is missing has better words.
bool may_be_toml(std::string_view text) {
  bool empty = true;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string_view line = text.substr(begin, end - begin);
    if (begins_with_a_key(line)) return true;
    const std::size_t mark = line.find_first_not_of(" \t\r");
    empty = empty && (mark == std::string_view::npos || line[mark] == '#');
    begin = end + 1;
  }
  return empty;
}

}  // namespace

RawNode parse_toml_file(const InputText& input, const FileKind& kind) {
  check_utf8(input);
  if (!may_be_toml(input.text))
    fail_input(
        {input.name, {}}, {1, 1}, {},
        {"is not " + std::string(kind.name) + ": no line of it begins with a key", std::string(kind.first_keys), {}});
  return parse_toml(input);
}

RawNode parse_toml(const InputText& input) {
  check_utf8(input);
  check_toml_depth(input);
  try {
    const toml::table table = toml::parse(std::string_view(input.text));
    RawNode root;
    convert_table(table, root);
    return root;
  } catch (const toml::parse_error& error) {
    fail_input(input, position(error.source()), {}, {"not valid TOML: " + std::string(error.description()), {}, {}});
  }
}

RawNode parse_toml_value(const std::string& text, const std::string& key) {
  // A line break would let one text set several keys.
  if (text.find_first_of("\r\n") != std::string::npos) fail_input({}, {}, key, {"the value has a line break", {}, {}});
  RawNode root = parse_toml({{}, "value = " + text});
  RawNode node = root.children.empty() ? RawNode{} : std::move(root.children.front());
  node.key = key;
  node.key_at = node.value_at = {};
  return node;
}

}  // namespace hoopfield
