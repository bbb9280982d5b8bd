// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/reader_support.hpp"

#include "sim/inputs/assign.hpp"

#include <algorithm>
#include <array>

namespace hoopfield {
namespace {

constexpr std::array<std::string_view, 4> origin_words = {"given", "measured", "fitted", "assumed"};

// Tables a room declares: every prefix of a key.
std::vector<std::string_view> table_names(ParameterRoom room) {
  std::vector<std::string_view> names;
  for (const Parameter& p : parameters(room)) {
    for (std::size_t dot = p.key.find('.'); dot != std::string_view::npos; dot = p.key.find('.', dot + 1)) {
      const std::string_view name = p.key.substr(0, dot);
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
  }
  return names;
}

// Keys that may stand directly in a table, without its prefix.
std::vector<std::string_view> keys_in(ParameterRoom room, const std::string& table) {
  std::vector<std::string_view> keys;
  const std::string prefix = table.empty() ? "" : table + ".";
  for (const Parameter& p : parameters(room)) {
    if (p.key.starts_with(prefix) && p.key.find('.', prefix.size()) == std::string_view::npos) {
      keys.push_back(p.key.substr(prefix.size()));
    }
  }
  return keys;
}

std::string keys_text(ParameterRoom room, const std::string& table) {
  std::string text;
  if (table.empty()) {
    for (const std::string_view name : table_names(room)) {
      if (name.find('.') == std::string_view::npos) text += (text.empty() ? "a table: " : ", ") + std::string(name);
    }
    if (room == ParameterRoom::film_file) text += ", or a key: name, law, density, neck_in, reference_temperature";
    if (room == ParameterRoom::measured_file) text += ", or the key kind";
    return text;
  }
  const auto keys = keys_in(room, table);
  if (keys.size() > 9) return "a key of [" + table + "] (`hoopfield explain " + table + "` lists them)";
  for (const std::string_view key : keys) text += (text.empty() ? "" : ", ") + std::string(key);
  return "a key of [" + table + "]: " + text;
}

class KeyChecker {
 public:
  KeyChecker(const InputText& input, ParameterRoom room) : input_(input), room_(room), tables_(table_names(room)) {}

  void walk(const RawNode& table, const std::string& path) const {
    for (const RawNode& child : table.children) visit(child, path);
  }

 private:
  void visit(const RawNode& child, const std::string& path) const {
    const std::string key = path.empty() ? child.key : path + "." + child.key;
    if (find_parameter(room_, key) != nullptr) return;
    if (std::find(tables_.begin(), tables_.end(), key) == tables_.end()) unknown(child, key, path);
    const bool list = room_ == ParameterRoom::film_file && key == "branch";
    if (child.kind == RawNode::Kind::table && !list) {
      walk(child, key);
      return;
    }
    if (!list || child.kind != RawNode::Kind::array) {
      const Position at = child.kind == RawNode::Kind::table ? child.key_at : child.value_at;
      fail_input(input_, at, key, {"is " + kind_word(child), list ? "tables [[branch]]" : "a table [" + key + "]", {}});
    }
    for (const RawNode& item : child.children) {
      if (item.kind != RawNode::Kind::table) {
        fail_input(input_, item.value_at, key, {"is " + kind_word(item), "tables [[branch]]", {}});
      }
      walk(item, key);
    }
  }

  [[noreturn]] void unknown(const RawNode& child, const std::string& key, const std::string& path) const {
    const bool table = child.kind == RawNode::Kind::table;
    std::vector<std::string_view> candidates = tables_;
    if (!table) {
      candidates.clear();
      for (const Parameter& p : parameters(room_)) candidates.push_back(p.key);
    }
    std::string hint = nearest_key(key, candidates);
    if (room_ == ParameterRoom::film_file && path.empty() && (key == "scenario" || key == "film" || key == "load")) {
      fail_input(input_, child.key_at, key, {"this is a scenario, not a film file", "a film file", {}});
    }
    if (room_ == ParameterRoom::scenario && path.empty() && find_parameter(ParameterRoom::film_file, key) != nullptr) {
      fail_input(input_, child.key_at, key, {"this is a film file, not a scenario", "a scenario", {}});
    }
    fail_input(input_, child.key_at, key, {table ? "unknown table" : "unknown key", keys_text(room_, path), hint});
  }

  const InputText& input_;
  ParameterRoom room_;
  std::vector<std::string_view> tables_;
};

Origin read_origin(const InputText& input, const RawNode& node, std::string_view key) {
  static const Parameter declaration{
      .key = "origin", .kind = ParameterKind::choice, .choices = "given|measured|fitted|assumed"};
  return static_cast<Origin>(Assigner(input, declaration, std::string(key) + ".origin").choice(node));
}

}  // namespace

std::string_view origin_word(Origin origin) { return origin_words[static_cast<std::size_t>(origin)]; }

void check_known_keys(const InputText& input, const RawNode& root, ParameterRoom room) {
  KeyChecker(input, room).walk(root, {});
}

WrittenValue find_written(const InputText& input, const RawNode& root, std::string_view key) {
  const RawNode* node = &root;
  for (std::string_view rest = key; node != nullptr && !rest.empty();) {
    const auto dot = rest.find('.');
    node = node->find(std::string(rest.substr(0, dot)));
    rest = dot == std::string_view::npos ? std::string_view{} : rest.substr(dot + 1);
  }
  if (node == nullptr) return {};
  if (node->kind != RawNode::Kind::table) return {node, Origin::given};
  WrittenValue written{nullptr, Origin::given};
  const std::string form = "{ value = ..., origin = \"measured\" }";
  for (const RawNode& child : node->children) {
    if (child.key == "value") {
      written.node = &child;
    } else if (child.key == "origin") {
      written.origin = read_origin(input, child, key);
    } else {
      fail_input(input, child.key_at, std::string(key) + "." + child.key, {"unknown key", form, {}});
    }
  }
  if (written.node == nullptr) {
    fail_input(input, node->value_at, std::string(key), {"is a table without a value", form, {}});
  }
  return written;
}

void fail_missing(const InputText& input, const RawNode& root, std::string_view key, const std::string& shown_key,
                  const std::string& expected) {
  Position at;
  const RawNode* node = &root;
  for (std::string_view rest = key; !rest.empty();) {
    const auto dot = rest.find('.');
    if (dot == std::string_view::npos) break;
    node = node->find(std::string(rest.substr(0, dot)));
    if (node == nullptr) break;
    if (node->key_at.line > 0) at = node->key_at;
    rest = rest.substr(dot + 1);
  }
  fail_input(input, at, shown_key, {"is missing", expected, {}});
}

}  // namespace hoopfield
