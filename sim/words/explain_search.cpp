// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/explain_search.hpp"

#include "models/text.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <cctype>
#include <set>

namespace hoopfield::words {

namespace {

constexpr ParameterRoom rooms[] = {ParameterRoom::scenario, ParameterRoom::film_file, ParameterRoom::measured_file,
                                   ParameterRoom::output, ParameterRoom::film_number};

/// Small letters, and a blank for what joins words.
std::string plain(std::string_view text) {
  std::string out = lower(text);
  for (char& c : out)
    if (c == '_' || c == '-') c = ' ';
  return out;
}

std::string sentences_of(const Parameter& p) { return plain(p.label) + "\n" + plain(p.sentence); }

/// Words of five letters and more in all keys and sentences; shorter ones are too near to too much.
const std::set<std::string>& vocabulary() {
  static const std::set<std::string> words = [] {
    constexpr std::size_t least = 5;
    std::set<std::string> found;
    for (const ParameterRoom room : rooms)
      for (const Parameter& p : parameters(room)) {
        std::string word;
        for (const char c : plain(p.key) + "\n" + sentences_of(p) + "\n") {
          if (std::isalpha(static_cast<unsigned char>(c)) != 0) {
            word += c;
            continue;
          }
          if (word.size() >= least) found.insert(word);
          word.clear();
        }
      }
    return found;
  }();
  return words;
}

}  // namespace

WordHits search_declarations(const std::string& word) {
  const std::string wanted = plain(word);
  WordHits hits;
  if (wanted.find_first_not_of(' ') == std::string::npos) return hits;
  for (const ParameterRoom room : rooms)
    for (const Parameter& p : parameters(room)) {
      if (p.room != room) continue;
      if (plain(p.key).find(wanted) != std::string::npos)
        hits.by_key.push_back(&p);
      else if (sentences_of(p).find(wanted) != std::string::npos)
        hits.by_sentence.push_back(&p);
    }
  return hits;
}

std::string nearest_word(const std::string& word) {
  const std::string wanted = plain(word);
  std::size_t least = std::max<std::size_t>(1, wanted.size() / 4) + 1;
  std::string best;
  for (const std::string& known : vocabulary())
    if (const std::size_t distance = edit_distance(wanted, known); distance < least) {
      least = distance;
      best = known;
    }
  return best;
}

}  // namespace hoopfield::words
