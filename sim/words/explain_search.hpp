// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Declarations found by a word of their key or sentence; private to explain.cpp.
#pragma once

#include "models/parameter.hpp"

#include <string>
#include <vector>

namespace hoopfield::words {

/// Declarations whose key has the word, and those that have it in their label or sentence only. Case and the
/// difference between "_", "-" and a blank do not count.
struct WordHits {
  std::vector<const Parameter*> by_key, by_sentence;
  [[nodiscard]] bool empty() const { return by_key.empty() && by_sentence.empty(); }
};
[[nodiscard]] WordHits search_declarations(const std::string& word);

/// The word of a key or sentence nearest to a mistyped one, at most a quarter of its letters away; empty for none.
[[nodiscard]] std::string nearest_word(const std::string& word);

}  // namespace hoopfield::words
