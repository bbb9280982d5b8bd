// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/explain.hpp"

#include "models/error.hpp"
#include "models/output_names.hpp"
#include "models/renamed.hpp"
#include "models/units.hpp"
#include "sim/compare/compare.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/words/explain_search.hpp"
#include "sim/words/face_sketch.hpp"
#include "sim/words/inch_pound.hpp"
#include "sim/words/text_layout.hpp"

#include <algorithm>
#include <cctype>
#include <string_view>
#include <vector>

namespace hoopfield::words {
namespace {

const char* room_word(ParameterRoom room) {
  switch (room) {
    case ParameterRoom::scenario: return "scenario input";
    case ParameterRoom::film_file: return "film file input";
    case ParameterRoom::measured_file: return "measured side input";
    case ParameterRoom::output: return "output";
    case ParameterRoom::film_number: return "number of a film";
  }
  return "";
}

std::string block(const std::string& text, const std::string& first, const std::string& indent) {
  std::string out = wrap(text, first, indent);
  while (!out.empty() && out.back() == '\n') out.pop_back();
  return out + "\n";
}

std::string line(const char* label, const std::string& text) {
  if (text.empty()) return {};
  return block(text, "  " + pad_right(label, 13), std::string(15, ' '));
}

std::string unit_text(const Parameter& p) {
  if (p.unit.empty()) return p.metric == "%" ? (p.unit_due ? "%" : "% or a pure number") : "";
  return accepted_units(p.unit) + " (SI: " + std::string(p.unit) + ")";
}

// A text of the declaration in the unit of the style; words stay as they are.
std::string restyled(std::string_view text, const Parameter& p, UnitStyle units) {
  UnitProblem problem;
  const bool convert = units == UnitStyle::inch_pound && !p.unit.empty();
  const auto value = convert ? read_quantity(text, p.unit, problem) : std::nullopt;
  return value ? format_input(*value, p.inch_pound) : std::string(text);
}

std::string default_text(const Parameter& p, UnitStyle units) {
  if (p.room == ParameterRoom::output || p.room == ParameterRoom::film_number) return {};
  if (p.required) return "none: must be given";
  if (p.default_text.empty()) return "absent";
  return restyled(p.default_text, p, units) + " (assumed)";
}

std::string valid_text(const Parameter& p, UnitStyle units) {
  const std::string_view unit = units == UnitStyle::inch_pound ? p.inch_pound : p.metric;
  std::string text;
  if (p.valid_low) text += "from " + format_input(*p.valid_low, unit);
  if (p.valid_high) text += (text.empty() ? "" : " ") + std::string("up to ") + format_input(*p.valid_high, unit);
  return text.empty() ? text : text + "; a warning outside";
}

std::string range_text(const Parameter& p, UnitStyle units) {
  if (p.range_low.empty()) return {};
  const std::string low(p.range_low), high(p.range_high);
  if (p.range_is_factor) return low + " to " + high + " times the value, when assumed";
  return restyled(low, p, units) + " to " + restyled(high, p, units) + ", when assumed";
}

std::string choices_text(const Parameter& p) {
  std::string text;
  for (const std::string_view word : choice_list(p)) text += (text.empty() ? "\"" : ", \"") + std::string(word) + "\"";
  return text;
}

/// Where a number stands in the JSON object; capitals stand for names along an axis.
std::string json_text(const Parameter& p) {
  if (p.room != ParameterRoom::output || !p.in_summary) return {};
  std::vector<std::string> places;
  for (std::string axis : axis_list(p)) {
    for (char& c : axis) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    places.push_back(std::move(axis));
  }
  const std::string key = key_at(p, places);
  return key.substr(0, key.rfind('.') + 1) + json_leaf(p);
}

std::string axes_text(const Parameter& p) {
  std::string text;
  for (const std::string& axis : axis_list(p)) {
    text += (text.empty() ? "" : "; ") + axis;
    std::string names;
    for (const std::string& name : axis_names(axis)) names += (names.empty() ? " (" : ", ") + name;
    if (!names.empty()) text += names + ")";
  }
  return text;
}

std::string file_text(const Parameter& p) {
  return p.file.empty() || p.file == "cost" ? std::string() : std::string(p.file);
}

bool names_faces(const Parameter& p) {
  return p.axes.find("face") != std::string_view::npos || p.key == "containment.least.face";
}

std::string list_line(const Parameter& p) {
  const std::string sentence(p.sentence);
  if (p.key.size() < 36) return block(sentence, "  " + pad_right(std::string(p.key), 36), std::string(38, ' '));
  return "  " + std::string(p.key) + "\n" + block(sentence, std::string(38, ' '), std::string(38, ' '));
}

std::string list_of(ParameterRoom room, const std::string& prefix) {
  std::string text;
  for (const Parameter& p : parameters(room)) {
    if (p.room == room && p.key.starts_with(prefix)) text += list_line(p);
  }
  return text;
}

std::string list_all(const std::string& prefix) {
  std::string text;
  const std::pair<ParameterRoom, const char*> rooms[] = {{ParameterRoom::scenario, "Scenario inputs"},
                                                         {ParameterRoom::film_file, "Film file inputs"},
                                                         {ParameterRoom::measured_file, "Measured side inputs"},
                                                         {ParameterRoom::output, "Outputs"},
                                                         {ParameterRoom::film_number, "Numbers of a film"}};
  for (const auto& [room, title] : rooms) {
    const std::string list = list_of(room, prefix);
    if (!list.empty()) text += (text.empty() ? "" : "\n") + std::string(title) + "\n" + list;
  }
  return text;
}

/// The declarations that have a word, keys first; empty when none has it.
std::string found_text(const std::string& word) {
  const WordHits hits = search_declarations(word);
  std::string text;
  const auto list = [&](const char* where, const std::vector<const Parameter*>& found) {
    if (found.empty()) return;
    text += (text.empty() ? "" : "\n") + std::string(where) + " with \"" + word + "\"\n";
    for (const Parameter* p : found) text += list_line(*p);
  };
  list("Keys", hits.by_key);
  list("Descriptions", hits.by_sentence);
  return text.empty() ? text : text + "\n`hoopfield explain KEY` says more about one of them.\n";
}

/// Keys that have a word beside those whose pages are shown.
std::string other_keys(const std::string& word, const std::vector<const Parameter*>& shown) {
  if (word.find('.') != std::string::npos) return {};
  std::string text;
  for (const Parameter* p : search_declarations(word).by_key)
    if (std::find(shown.begin(), shown.end(), p) == shown.end()) text += list_line(*p);
  return text.empty() ? text : "\nOther keys with \"" + word + "\"\n" + text;
}

/// What a word finds, or the word of nearest spelling; empty for keys with a dot and when nothing is near.
std::string search_text(const std::string& word) {
  if (word.find('.') != std::string::npos) return {};
  if (std::string text = found_text(word); !text.empty()) return text;
  const std::string near = nearest_word(word);
  return near.empty() ? near
                      : "Nothing has \"" + word + "\"; this is what \"" + near + "\" finds.\n\n" + found_text(near);
}

}  // namespace

std::string explain_page(const Parameter& p, UnitStyle units) {
  const std::string room = room_word(p.room);
  std::string page = pad_right(std::string(p.key), terminal_width - room.size() - 1) + " " + room + "\n";
  page += block(in_style(std::string(p.sentence), units), "  ", "  ");
  page += line("unit", unit_text(p));
  page += line("in JSON", json_text(p)) + line("over", axes_text(p)) + line("in files", file_text(p));
  page += line(p.kind == ParameterKind::choice ? "choices" : "or", choices_text(p));
  page += line("bounds", bounds_text(p, units == UnitStyle::inch_pound));
  page += line("default", default_text(p, units));
  page += line("meant for", valid_text(p, units));
  page += line("ranked over", range_text(p, units));
  page += line("measure", in_style(how_to_measure(p), units)) + line("caution", caution_text(p));
  page += line(p.room == ParameterRoom::film_number ? "formula" : "reference", reference_text(p));
  return names_faces(p) ? page + "\n" + face_sketch() : page;
}

std::string explain_text(const std::string& key, UnitStyle units) {
  if (key == "face" || key == "faces") return face_sketch();
  if (const std::string_view now = renamed_to(key); !now.empty() && find_parameters(key).empty())
    return "\"" + key + "\" is called " + std::string(now) + " now.\n\n" + explain_text(std::string(now), units);
  if (key.empty()) return list_all({}) + "\n`hoopfield explain KEY` says more about one of them.\n";
  const std::vector<const Parameter*> found = find_parameters(key);
  if (!found.empty() && found.size() <= 3) {
    std::string text;
    for (const Parameter* p : found) text += (text.empty() ? "" : "\n") + explain_page(*p, units);
    return text + other_keys(key, found);
  }
  std::string table = list_all(key + ".");
  if (!table.empty()) return table;
  std::string list;
  for (const Parameter* p : found) list += list_line(*p);
  if (!list.empty()) return list;
  for (const CompareQuantity& q : compare_quantities())
    if (q.name == key || q.json_name == key)
      return q.name + "\n" + block(q.long_name, "  ", "  ") + line("unit", q.unit == "1" ? "pure number" : q.unit) +
             line("in JSON", q.json_name) + line("shown by", "compare");
  if (std::string text = search_text(key); !text.empty()) return text;
  std::string near;
  for (const std::string& candidate : nearest_keys(key, 3)) near += (near.empty() ? "" : ", ") + candidate;
  throw InputError("explain: \"" + key + "\" is neither an input nor an output" +
                       (near.empty() ? "; `hoopfield explain` lists all" : "; did you mean " + near + "?"),
                   {}, 0, 0, key);
}

}  // namespace hoopfield::words
