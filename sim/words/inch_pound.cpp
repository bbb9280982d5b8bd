// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/inch_pound.hpp"

#include "models/text.hpp"
#include "models/units.hpp"

#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

namespace hoopfield::words {

namespace {

/// A word of a text: what opens it, its core, what closes it.
struct Token {
  std::string open, core, close, gap;  ///< gap: the blanks behind it
};

std::vector<Token> tokens_of(const std::string& text) {
  std::vector<Token> tokens;
  for (std::size_t i = 0; i < text.size();) {
    Token token;
    while (i < text.size() && (text[i] == '(' || text[i] == '"' || text[i] == '[')) token.open += text[i++];
    while (i < text.size() && text[i] != ' ' && text[i] != '\n') token.core += text[i++];
    while (!token.core.empty() && std::string_view(".,;:)]\"").find(token.core.back()) != std::string_view::npos) {
      token.close.insert(token.close.begin(), token.core.back());
      token.core.pop_back();
    }
    while (i < text.size() && (text[i] == ' ' || text[i] == '\n')) token.gap += text[i++];
    tokens.push_back(std::move(token));
  }
  return tokens;
}

std::optional<double> number_of(const Token& token) { return number_in(token.core); }

bool joins(const Token& token) {
  return token.open.empty() && token.close.empty() && (token.core == "to" || token.core == "and" || token.core == "or");
}

void convert(Token& token, std::string_view metric, std::string_view inch_pound) {
  const Unit unit = *find_unit(metric);
  token.core = trimmed(to_unit(*number_of(token) * unit.factor + unit.offset, inch_pound));
}

}  // namespace

std::string in_inch_pound(const std::string& text) {
  std::vector<Token> tokens = tokens_of(text);
  for (std::size_t i = 1; i < tokens.size(); ++i) {
    const std::string metric = tokens[i].core;
    std::string_view inch = inch_pound_unit(metric);
    Token& number = tokens[i - 1];
    if (inch.empty() || !tokens[i].open.empty() || !number.close.empty() || !number_of(number)) continue;
    constexpr double long_in_metres = 3.0;  // people count longer lengths in feet
    if (metric == "m" && std::abs(*number_of(number)) >= long_in_metres) inch = long_length;
    convert(number, metric, inch);
    // "10 to 35 degC", "1, 10 and 100 mm": the numbers before share the unit.
    for (std::size_t k = i - 1;
         k >= 2 && joins(tokens[k - 1]) && tokens[k - 2].close.empty() && number_of(tokens[k - 2]); k -= 2)
      convert(tokens[k - 2], metric, inch);
    tokens[i].core = std::string(inch);
  }
  std::string out;
  for (const Token& token : tokens) out += token.open + token.core + token.close + token.gap;
  return out;
}

std::string in_style(const std::string& text, UnitStyle style) {
  return style == UnitStyle::metric ? text : in_inch_pound(text);
}

}  // namespace hoopfield::words
