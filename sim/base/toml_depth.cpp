// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/toml_depth.hpp"

#include "sim/base/text_cursor.hpp"

#include <string_view>

namespace hoopfield {
namespace {

/// Walks over a text with its strings and comments taken as what they are: brackets and dots in them nest nothing.
class DepthScanner {
 public:
  explicit DepthScanner(const InputText& input) : input_(input), cursor_(input.text) {}

  void run() {
    while (!cursor_.at_end()) {
      if (cursor_.at('#'))
        pass_comment();
      else if (cursor_.at('"') || cursor_.at('\''))
        pass_string(cursor_.rest().front());
      else
        count(cursor_.take());
    }
  }

 private:
  void count(char c) {
    const Position after = cursor_.position(), at{after.line, after.column - 1};
    if (c == '[' || c == '{') {
      dots_ = 0;
      if (++brackets_ > max_toml_levels) refuse(at, "brackets nest too deep");
    } else if (c == ']' || c == '}') {
      dots_ = 0;
      if (brackets_ > 0) --brackets_;
    } else if (c == '\n' || c == '=' || c == ',') {
      dots_ = 0;
    } else if (c == '.' && ++dots_ >= max_toml_levels) {
      refuse(at, "the key has too many parts");
    }
  }

  [[noreturn]] void refuse(Position at, const char* what) const {
    fail_input(input_, at, {}, {what, "at most " + std::to_string(max_toml_levels) + " levels", {}});
  }

  void pass_comment() {
    while (!cursor_.at_end() && !cursor_.at('\n')) cursor_.take();
  }

  /// A string on one line ends with its line at the latest, whatever else is wrong with it.
  void pass_string(char quote) {
    const bool basic = quote == '"';
    const std::string_view three = basic ? "\"\"\"" : "'''";
    const bool lines = cursor_.rest().starts_with(three);
    for (std::size_t i = lines ? 3 : 1; i > 0; --i) cursor_.take();
    while (!cursor_.at_end() && (lines || !cursor_.at('\n'))) {
      if (lines ? cursor_.rest().starts_with(three) : cursor_.at(quote)) break;
      const char c = cursor_.take();
      if (basic && c == '\\' && !cursor_.at_end() && (lines || !cursor_.at('\n'))) cursor_.take();
    }
    if (!lines && cursor_.at(quote)) cursor_.take();
    // Up to two quotes may stand before the three that close.
    for (std::size_t i = 0; lines && i < 5 && cursor_.at(quote); ++i) cursor_.take();
  }

  const InputText& input_;
  TextCursor cursor_;
  int brackets_ = 0, dots_ = 0;
};

}  // namespace

void check_toml_depth(const InputText& input) { DepthScanner(input).run(); }

}  // namespace hoopfield
