// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/lab_names_detail.hpp"

#include "models/error.hpp"
#include "models/text.hpp"
#include "models/units.hpp"
#include "sim/base/input_text.hpp"

#include <algorithm>
#include <array>
#include <cctype>

namespace hoopfield::detail {

namespace {

using M = LabMeaning;

struct Word {
  std::string_view name;  // as plain_name() makes it
  M first = M::none, second = M::none;
};

// General words of mechanics and of its dictionaries. Where a word is used for two things, the unit decides.
constexpr std::array words = {
    Word{"stretch", M::stretch},
    Word{"strain", M::stretch},
    Word{"engineering strain", M::stretch},
    Word{"nominal strain", M::stretch},
    Word{"tensile strain", M::stretch},
    Word{"elongation", M::stretch, M::displacement},
    Word{"extension", M::displacement, M::stretch},
    Word{"displacement", M::displacement},
    Word{"travel", M::displacement},
    Word{"grip travel", M::displacement},
    Word{"grip displacement", M::displacement},
    Word{"crosshead travel", M::displacement},
    Word{"crosshead displacement", M::displacement},
    Word{"force", M::force},  // French, too
    Word{"tensile force", M::force},
    Word{"load", M::force},
    Word{"stress", M::stress},
    Word{"engineering stress", M::stress},
    Word{"nominal stress", M::stress},
    Word{"tensile stress", M::stress},
    Word{"time", M::time},
    Word{"test time", M::time},
    Word{"elapsed time", M::time},
    // German
    Word{"dehnung", M::stretch, M::displacement},
    Word{"nenndehnung", M::stretch},
    Word{"technische dehnung", M::stretch},
    Word{"weg", M::displacement},
    Word{"traversenweg", M::displacement},
    Word{"verschiebung", M::displacement},
    Word{"verlangerung", M::displacement, M::stretch},
    Word{"verlaengerung", M::displacement, M::stretch},
    Word{"langenanderung", M::displacement, M::stretch},
    Word{"laengenaenderung", M::displacement, M::stretch},
    Word{"kraft", M::force},
    Word{"zugkraft", M::force},
    Word{"spannung", M::stress},
    Word{"zugspannung", M::stress},
    Word{"nennspannung", M::stress},
    Word{"zeit", M::time},
    Word{"prufzeit", M::time},
    Word{"pruefzeit", M::time},
    // French
    Word{"deplacement", M::displacement},
    Word{"allongement", M::stretch, M::displacement},
    Word{"deformation", M::stretch, M::displacement},
    Word{"charge", M::force},
    Word{"effort", M::force},
    Word{"contrainte", M::stress},
    Word{"temps", M::time},
    // Spanish
    Word{"desplazamiento", M::displacement},
    Word{"alargamiento", M::stretch, M::displacement},
    Word{"deformacion", M::stretch, M::displacement},
    Word{"deformacion unitaria", M::stretch},
    Word{"fuerza", M::force},
    Word{"carga", M::force},
    Word{"tension", M::stress, M::force},
    Word{"esfuerzo", M::stress, M::force},
    Word{"tiempo", M::time},
};

const Word* find_word(std::string_view name) {
  const auto it = std::find_if(words.begin(), words.end(), [&](const Word& w) { return w.name == name; });
  return it == words.end() ? nullptr : &*it;
}

// Letters of U+00C0 to U+00FF without their accents; '*' where there is none, 's' twice for the sharp s.
constexpr std::string_view plain_letters = "aaaaaaaceeeeiiiidnooooo*ouuuuytsaaaaaaaceeeeiiiidnooooo*ouuuuyty";

struct Spelling {
  std::string_view written, unit;
};
constexpr std::array spellings = {Spelling{"percent", "%"},    Spelling{"pct", "%"},       Spelling{"prozent", "%"},
                                  Spelling{"por ciento", "%"}, Spelling{"pour cent", "%"}, Spelling{"sec", "s"},
                                  Spelling{"secs", "s"},       Spelling{"second", "s"},    Spelling{"seconds", "s"},
                                  Spelling{"sekunde", "s"},    Spelling{"sekunden", "s"},  Spelling{"seconde", "s"},
                                  Spelling{"secondes", "s"},   Spelling{"segundo", "s"},   Spelling{"segundos", "s"},
                                  Spelling{"newton", "N"},     Spelling{"mm/mm", "1"},     Spelling{"m/m", "1"},
                                  Spelling{"in/in", "1"},      Spelling{"-", "1"},         Spelling{"ratio", "ratio"}};

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
}

/// The groups in brackets taken out of a name; the last of them is the unit.
bool take_brackets(std::string& text, std::string& unit) {
  bool found = false;
  for (;;) {
    const std::size_t open = text.find_first_of("([");
    if (open == std::string::npos) return found;
    const std::size_t close = text.find(text[open] == '(' ? ')' : ']', open);
    unit = text.substr(open + 1, close == std::string::npos ? close : close - open - 1);
    text.replace(open, close == std::string::npos ? close : close - open + 1, " ");
    found = true;
  }
}

void set_meanings(LabName& found, const Word& word) {
  found.meanings = {word.first};
  if (word.second != M::none) found.meanings.push_back(word.second);
}

}  // namespace

bool LabName::may_mean(LabMeaning meaning) const {
  return std::find(meanings.begin(), meanings.end(), meaning) != meanings.end();
}

std::string plain_name(std::string_view text) {
  std::string name;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = static_cast<unsigned char>(i + 1 < text.size() ? text[i + 1] : 0);
    if (byte == 0xC3u && next >= 0x80u && next < 0xC0u) {
      name += plain_letters[next - 0x80u];
      if (next == 0x9Fu) name += 's';
      ++i;
    } else if ((byte == 0xCCu && next >= 0x80u) || (byte == 0xCDu && next >= 0x80u && next < 0xB0u)) {
      ++i;  // an accent that follows its letter
    } else if (byte == '_' || byte == ' ' || byte == '\t' || (byte == 0xC2u && next == 0xA0u)) {
      if (byte == 0xC2u) ++i;
      if (!name.empty() && name.back() != ' ') name += ' ';
    } else {
      name += static_cast<char>(byte);
    }
  }
  const std::size_t last = name.find_last_not_of(" :,/");
  name.resize(last == std::string::npos ? 0 : last + 1);
  return lower(name);
}

std::string lab_unit(std::string_view text) {
  std::string unit(trim(text));
  while (!unit.empty() && (unit.front() == '[' || unit.front() == '(')) unit.erase(0, 1);
  while (!unit.empty() && (unit.back() == ']' || unit.back() == ')' || unit.back() == '.')) unit.pop_back();
  unit = std::string(trim(unit));
  for (const Spelling& s : spellings)
    if (plain_name(unit) == s.written || unit == s.written) return std::string(s.unit);
  replace_all(unit, "\u00b2", "^2");
  for (const std::string_view area : {"mm2", "cm2", "m2"}) {
    const std::size_t at = unit.rfind(area);
    if (at == std::string::npos || at + area.size() != unit.size()) continue;
    unit.insert(unit.size() - 1, "^");
    break;
  }
  return unit;
}

LabName take_apart(std::string_view cell) {
  LabName found;
  std::string text(trim(cell));
  text.erase(std::remove(text.begin(), text.end(), '"'), text.end());
  if (std::string unit; take_brackets(text, unit)) {
    found.name = plain_name(text);
    found.unit = lab_unit(unit);
    found.marked = true;
    if (const Word* word = find_word(found.name)) set_meanings(found, *word);
    return found;
  }
  found.name = plain_name(text);
  for (std::size_t at = text.size(); at > 0 && at != std::string::npos;
       at = at == 0 ? std::string::npos : text.find_last_of("_ /,", at - 1)) {
    const Word* word = find_word(plain_name(std::string_view(text).substr(0, at)));
    if (word == nullptr) continue;
    set_meanings(found, *word);
    found.name = std::string(word->name);
    if (at == text.size()) return found;
    std::string_view rest = trim(std::string_view(text).substr(at + 1));
    if (rest.starts_with("in ")) rest.remove_prefix(3);
    while (!rest.empty() && (rest.front() == '/' || rest.front() == ' ')) rest.remove_prefix(1);
    found.marked = text[at] == '_';
    found.unit = lab_unit(rest);
    return found;
  }
  // No name of a curve: the part before the first underscore is what a near miss is looked for in.
  if (const std::size_t at = text.find('_'); at != std::string::npos) {
    found.name = plain_name(std::string_view(text).substr(0, at));
    found.unit = lab_unit(std::string_view(text).substr(at + 1));
    found.marked = true;
  }
  return found;
}

std::vector<std::string> split_line(std::string_view line, char separator) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == separator && !quoted) {
      cells.emplace_back();
    } else {
      cells.back() += c;
    }
  }
  for (std::string& cell : cells) cell = std::string(trim(cell));
  return cells;
}

char separator_of(std::string_view line) {
  for (const char separator : {';', '\t'})
    if (line.find(separator) != std::string_view::npos) return separator;
  return ',';
}

bool is_header(std::string_view line) {
  int lengths = 0, pulls = 0;
  for (const std::string& cell : split_line(line, separator_of(line))) {
    const LabName name = take_apart(cell);
    if (!name.marked && !name.unit.empty() && name.unit != "ratio" && !find_unit(name.unit)) continue;
    if (name.may_mean(LabMeaning::stretch) || name.may_mean(LabMeaning::displacement)) ++lengths;
    if (name.may_mean(LabMeaning::force) || name.may_mean(LabMeaning::stress)) ++pulls;
  }
  return lengths > 0 && pulls > 0;
}

bool is_data(std::string_view cell) {
  cell = trim(cell);
  const std::string word = lower(cell);
  if (word == "nan" || word == "na" || word == "n/a" || word == "null") return true;
  if (!cell.empty() && (cell.front() == '+' || cell.front() == '-')) cell.remove_prefix(1);
  if (!cell.empty() && (cell.front() == '.' || cell.front() == ',')) cell.remove_prefix(1);
  return !cell.empty() && std::isdigit(static_cast<unsigned char>(cell.front())) != 0;
}

bool is_utf8(const std::string& text) {
  try {
    check_utf8({{}, text});
    return true;
  } catch (const InputError&) {
    return false;
  }
}

std::string from_latin1(const std::string& text) {
  std::string converted;
  converted.reserve(text.size() + text.size() / 8);
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x80u) {
      converted += c;
    } else {
      converted += static_cast<char>(0xC0u | (byte >> 6u));
      converted += static_cast<char>(0x80u | (byte & 0x3Fu));
    }
  }
  return converted;
}

}  // namespace hoopfield::detail
