// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/lab_settings_detail.hpp"

#include "models/parameter.hpp"
#include "models/text.hpp"
#include "models/units.hpp"
#include "sim/film_lab/lab_rows_detail.hpp"

#include <algorithm>
#include <array>

namespace hoopfield::detail {

namespace {

struct Setting {
  std::string_view key;
  const char* si_unit;
  double low;
  bool low_fits;  // whether the lower bound itself is allowed
  double high;
  const char* bounds;
};
constexpr double no_bound = 1e300;
constexpr std::array settings = {
    Setting{"width", "m", 0.0, false, no_bound, "more than 0"},
    Setting{"thickness", "m", 0.0, false, no_bound, "more than 0"},
    Setting{"grip distance", "m", 0.0, false, no_bound, "more than 0"},
    Setting{"speed", "m/s", 0.0, false, no_bound, "more than 0"},
    Setting{"rate", "1/s", 0.0, false, no_bound, "more than 0"},
    Setting{"temperature", "K", 0.0, false, no_bound, "more than 0"},
    Setting{"width exponent", "", 0.0, true, 0.5, "0 to 0.5"},
    Setting{"machine compliance", "m/N", 0.0, true, no_bound, "0 um/N (a rigid machine) or more"},
};

const Setting* find_setting(std::string_view key) {
  const auto it = std::find_if(settings.begin(), settings.end(), [&](const Setting& s) { return s.key == key; });
  return it == settings.end() ? nullptr : &*it;
}

std::string nearest_setting(const std::string& key) {
  std::vector<std::string_view> keys = {"kind"};
  for (const Setting& s : settings) keys.push_back(s.key);
  const std::string near = nearest_key(key, keys);
  return !near.empty() && edit_distance(near, key) <= 2 ? near : std::string();
}

std::string key_of(std::string_view text) {
  std::string key = lower(trim(text));
  std::replace(key.begin(), key.end(), '_', ' ');
  return key;
}

/// Any remark with the word counts, so that the label is never lost; only "illustrative: false" or "no" takes it
/// back.
bool says_illustrative(std::string_view text) {
  const std::string words = lower(trim(text));
  if (words.find("illustrative") == std::string::npos) return false;
  const std::size_t colon = words.find(':');
  if (colon == std::string::npos || trim(std::string_view(words).substr(0, colon)) != "illustrative") return true;
  const std::string_view value = trim(std::string_view(words).substr(colon + 1));
  return value != "false" && value != "no";
}

}  // namespace

void LabSettings::fail(const std::string& key, const Complaint& complaint, int line) const {
  fail_line(input_, line, key, complaint);
}

void LabSettings::read_remark(std::string_view text, int line) {
  if (says_illustrative(text)) curve_.illustrative = true;
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos) return;
  const std::string key = key_of(text.substr(0, colon)), value(trim(text.substr(colon + 1)));
  if (key == "kind") return read_kind(value, line);
  if (key == "source" && value.starts_with("computed by hoopfield")) curve_.illustrative = true;
  if (key == "source" || key == "illustrative") return;
  if (find_setting(key) != nullptr) {
    if (values_.count(key) != 0) fail(key, {"is given twice", "one value", {}}, line);
    return read_setting(key, value, line);
  }
  if (edit_distance("illustrative", key) <= 2) fail(key, {"is not a key of a curve file", {}, "illustrative"}, line);
  if (const std::string near = nearest_setting(key); !near.empty())
    fail(key, {"is not a key of a curve file", {}, near}, line);
}

void LabSettings::read_condition(const LabCondition& condition) {
  const std::string key = key_of(condition.key);
  if (says_illustrative(key + ": " + condition.value)) curve_.illustrative = true;
  if (key == "illustrative" || key == "source") return;
  if (key == "kind") {
    if (!kind_given_) read_kind(condition.value, 0);
    return;
  }
  if (find_setting(key) == nullptr) {
    std::string known = "kind, illustrative, source";
    for (const Setting& s : settings) known += ", " + std::string(s.key);
    fail(key, {"is no condition of a test", known, nearest_setting(key)}, 0);
  }
  if (values_.count(key) == 0) read_setting(key, condition.value, 0);
}

void LabSettings::read_kind(const std::string& value, int line) {
  const auto kind = film_test_kind(lower(value));
  if (!kind)
    fail("kind", {in_quotes(value) + " is not a kind of test", "tensile, relaxation, recovery, cycle or creep", {}},
         line);
  curve_.kind = *kind;
  kind_given_ = true;
}

void LabSettings::read_setting(const std::string& key, const std::string& value, int line) {
  const Setting& setting = *find_setting(key);
  UnitProblem problem;
  const auto number = read_quantity(value, setting.si_unit, problem);
  if (!number) fail(key, {problem.what, problem.expected, problem.hint}, line);
  if (!(setting.low_fits ? *number >= setting.low : *number > setting.low) || *number > setting.high)
    fail(key, {in_quotes(value) + " is out of bounds", setting.bounds, {}}, line);
  values_[key] = *number;
}

std::optional<double> LabSettings::value(const std::string& key) const {
  const auto found = values_.find(key);
  if (found == values_.end()) return std::nullopt;
  return found->second;
}

double LabSettings::need(const std::string& key, const char* example, const std::string& why, int line) const {
  if (const auto given = value(key)) return *given;
  std::string keyword = key;
  std::replace(keyword.begin(), keyword.end(), ' ', '_');
  fail(key,
       {"is missing: " + why,
        line_form_ ? "a line \"# " + key + ": " + example + "\" above the table" : keyword + "=\"" + example + "\"",
        {}},
       line);
}

void LabSettings::describe() const {
  if (const auto temperature = value("temperature")) {
    curve_.temperature = *temperature;
    curve_.temperature_given = true;
  }
  curve_.width_exponent = value("width exponent").value_or(0.5);
  const auto width = value("width"), grip = value("grip distance");
  if (width && grip) curve_.specimen_area = *width * *grip;
}

}  // namespace hoopfield::detail
