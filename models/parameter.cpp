// SPDX-License-Identifier: BSD-3-Clause
#include "models/parameter.hpp"

#include "models/output_names.hpp"
#include "models/renamed.hpp"
#include "models/units.hpp"

#include <algorithm>

namespace hoopfield {
namespace {

std::vector<Parameter> join_scenario() {
  std::vector<Parameter> all;
  const std::span<const Parameter> parts[] = {detail::delivery_declarations(), detail::load_declarations(),
                                              detail::transit_declarations(), detail::result_place_declarations()};
  for (const auto part : parts) {
    all.insert(all.end(), part.begin(), part.end());
  }
  return all;
}

// A measured side says what it has of title, film, stations and cost with the keys of a scenario.
std::vector<Parameter> join_measured(std::span<const Parameter> scenario) {
  const auto own = detail::measured_file_declarations();
  std::vector<Parameter> all(own.begin(), own.end());
  constexpr std::string_view shared[] = {"scenario.title",  "scenario.notes",  "film.width",
                                         "film.thickness",  "film.price",      "stations.top",
                                         "stations.middle", "stations.bottom", "stations.band_height"};
  for (const Parameter& p : scenario) {
    const bool named = std::find(std::begin(shared), std::end(shared), p.key) != std::end(shared);
    if (!named && !p.key.starts_with("cost.")) continue;
    all.push_back(p);
    all.back().required = false;
  }
  return all;
}

std::vector<Parameter> join_outputs() {
  std::vector<Parameter> all;
  for (const auto part : {detail::output_declarations(), detail::cost_output_declarations(),
                          detail::transit_output_declarations(), detail::record_declarations()})
    all.insert(all.end(), part.begin(), part.end());
  return all;
}

std::string_view last_part(std::string_view key) {
  const auto dot = key.rfind('.');
  return dot == std::string_view::npos ? key : key.substr(dot + 1);
}

// "containment.end.top.x", "containment.end.top.faces.left.x" and "containment.end.least.x" are places of the
// declarations "containment.x", "containment.faces.x" and "containment.least.x".
std::string plain_key(std::string_view text) {
  std::string key(text);
  if (key.rfind("containment.", 0) == 0) {
    const bool per_face = key.find(".faces.") != std::string::npos, least = key.find(".least.") != std::string::npos;
    return std::string("containment.") + (per_face ? "faces." : least ? "least." : "") + std::string(last_part(key));
  }
  // "transit.end.along_width.x" is a place of "transit.x".
  if (key.starts_with("transit.")) {
    for (const std::string_view axis : {"end.", "weakest.", "after_storage.", "along_length.", "along_width."})
      if (std::string_view(key).substr(8).starts_with(axis)) key.erase(8, axis.size());
    return key;
  }
  if (const auto open = key.find('['); open != std::string::npos) {
    if (const auto close = key.find(']', open); close != std::string::npos) key.erase(open, close - open + 1);
  }
  return key;
}

// Outputs go by their key and by their name in JSON, which ends in a unit.
bool called(const Parameter& p, std::string_view key) { return p.key == key || json_key(p) == key; }

bool ends_in(std::string_view whole, std::string_view key) {
  return whole.size() > key.size() && whole.ends_with(key) && whole[whole.size() - key.size() - 1] == '.';
}

constexpr ParameterRoom rooms[] = {ParameterRoom::scenario, ParameterRoom::film_file, ParameterRoom::measured_file,
                                   ParameterRoom::output, ParameterRoom::film_number};

}  // namespace

std::span<const Parameter> parameters(ParameterRoom room) {
  static const std::vector<Parameter> scenario = join_scenario();
  static const std::vector<Parameter> measured = join_measured(scenario);
  static const std::vector<Parameter> outputs = join_outputs();
  switch (room) {
    case ParameterRoom::scenario: return scenario;
    case ParameterRoom::film_file: return detail::film_file_declarations();
    case ParameterRoom::measured_file: return measured;
    case ParameterRoom::output: return outputs;
    case ParameterRoom::film_number: return detail::film_number_declarations();
  }
  return {};
}

const Parameter* find_parameter(ParameterRoom room, std::string_view key) {
  const auto all = parameters(room);
  const auto it = std::find_if(all.begin(), all.end(), [&](const Parameter& p) { return p.key == key; });
  return it == all.end() ? nullptr : &*it;
}

std::vector<const Parameter*> find_parameters(std::string_view text) {
  const std::string key = plain_key(text);
  std::vector<const Parameter*> found;
  for (const ParameterRoom room : rooms) {
    for (const Parameter& p : parameters(room))
      if (p.room == room && called(p, key)) found.push_back(&p);
  }
  if (!found.empty()) return found;
  for (const ParameterRoom room : rooms) {
    for (const Parameter& p : parameters(room)) {
      const bool tail = ends_in(p.key, key) || ends_in(json_key(p), key);
      if (tail && !key.empty() && p.room == room) found.push_back(&p);
    }
  }
  return found;
}

std::string nearest_key(std::string_view text, std::span<const std::string_view> keys) {
  if (const std::string_view now = renamed_to(text); std::find(keys.begin(), keys.end(), now) != keys.end())
    return std::string(now);
  std::string_view best;
  std::size_t least = std::max<std::size_t>(2, text.size() / 3) + 1;
  for (const std::string_view key : keys) {
    // The right word in the wrong table is as likely as a slip of the keyboard.
    const std::size_t moved = last_part(key) == last_part(text) ? 2 : least;
    // The difference in length is the least that two words differ by: a text without end costs no time.
    const std::size_t longer = std::max(text.size(), key.size()) - std::min(text.size(), key.size());
    const std::size_t distance = std::min(longer < least ? edit_distance(text, key) : least, moved);
    if (distance < least) {
      least = distance;
      best = key;
    }
  }
  return std::string(best);
}

std::vector<std::string> nearest_keys(std::string_view text, std::size_t count) {
  std::vector<std::pair<std::size_t, std::string>> scored;
  for (const ParameterRoom room : rooms) {
    for (const Parameter& p : parameters(room)) {
      std::size_t distance = std::min(edit_distance(text, p.key), edit_distance(text, last_part(p.key)));
      if (text.size() > 2 && p.key.find(text) != std::string_view::npos) distance = 1;
      scored.emplace_back(distance, std::string(p.key));
    }
  }
  std::stable_sort(scored.begin(), scored.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<std::string> keys;
  for (const auto& [distance, key] : scored) {
    if (keys.size() == count || distance > std::max<std::size_t>(3, text.size() / 2)) break;
    if (std::find(keys.begin(), keys.end(), key) == keys.end()) keys.push_back(key);
  }
  return keys;
}

std::string bounds_text(const Parameter& parameter, bool inch_pound) {
  if (parameter.text_form == TextForm::line)
    return "one line of at most " + std::to_string(longest_line) + " characters";
  if (parameter.text_form == TextForm::date) return "a date, year-month-day";
  const std::string_view unit = inch_pound ? parameter.inch_pound : parameter.metric;
  const auto number = [&](const Bound& b) { return format_quantity(b.value, unit, inch_pound ? 4 : 10); };
  const auto& low = parameter.lower;
  const auto& high = parameter.upper;
  if (low && high && low->inclusive && high->inclusive) return number(*low) + " to " + number(*high);
  std::string text;
  if (low) text = (low->inclusive ? "at least " : "more than ") + number(*low);
  if (high) {
    text += (text.empty() ? "" : " and ") + std::string(high->inclusive ? "at most " : "less than ") + number(*high);
  }
  return text;
}

bool within_bounds(const Parameter& parameter, double in_si) {
  const auto& low = parameter.lower;
  const auto& high = parameter.upper;
  if (low && !(low->inclusive ? in_si >= low->value : in_si > low->value)) return false;
  return !high || (high->inclusive ? in_si <= high->value : in_si < high->value);
}

std::vector<std::string_view> choice_list(const Parameter& parameter) {
  std::vector<std::string_view> list;
  std::string_view rest = parameter.choices;
  while (!rest.empty()) {
    const auto bar = rest.find('|');
    list.push_back(rest.substr(0, bar));
    if (bar == std::string_view::npos) break;
    rest.remove_prefix(bar + 1);
  }
  return list;
}

}  // namespace hoopfield
