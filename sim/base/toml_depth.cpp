// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/toml_depth.hpp"

#include <string_view>

namespace hoopfield {
namespace {

/// Walks over a text with its strings and comments taken as what they are: brackets and dots in them nest nothing.
class DepthScanner {
 public:
  explicit DepthScanner(const InputText& input) : input_(input), rest_(input.text) {}

  void run() {
    while (!rest_.empty()) {
      if (rest_.front() == '#')
        pass_comment();
      else if (rest_.front() == '"' || rest_.front() == '\'')
        pass_string(rest_.front());
      else
        count(take());
    }
  }

 private:
  void count(char c) {
    const Position at{at_.line, at_.column - 1};
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

  char take() {
    const char c = rest_.front();
    rest_.remove_prefix(1);
    if (c == '\n') {
      ++at_.line;
      at_.column = 1;
    } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
      ++at_.column;
    }
    return c;
  }

  void pass_comment() {
    while (!rest_.empty() && rest_.front() != '\n') take();
  }

  /// A string on one line ends with its line at the latest, whatever else is wrong with it.
  void pass_string(char quote) {
    const bool basic = quote == '"';
    const std::string_view three = basic ? "\"\"\"" : "'''";
    const bool lines = rest_.starts_with(three);
    for (std::size_t i = lines ? 3 : 1; i > 0; --i) take();
    while (!rest_.empty() && (lines || rest_.front() != '\n')) {
      if (lines ? rest_.starts_with(three) : rest_.front() == quote) break;
      const char c = take();
      if (basic && c == '\\' && !rest_.empty() && (lines || rest_.front() != '\n')) take();
    }
    if (!lines && !rest_.empty() && rest_.front() == quote) take();
    // Up to two quotes may stand before the three that close.
    for (std::size_t i = 0; lines && i < 5 && !rest_.empty() && rest_.front() == quote; ++i) take();
  }

  const InputText& input_;
  std::string_view rest_;
  Position at_{1, 1};
  int brackets_ = 0, dots_ = 0;
};

}  // namespace

void check_toml_depth(const InputText& input) { DepthScanner(input).run(); }

}  // namespace hoopfield
