// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/lab_curve.hpp"

#include "models/error.hpp"
#include "models/parameter.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <map>
#include <optional>
#include <string_view>

namespace hoopfield {

namespace {

constexpr const char* header_expected =
    "stretch_percent or displacement_mm, force_N or stress_MPa, and time_s, one name per column";

std::string_view trim(std::string_view text) {
  while (!text.empty() && std::isspace(static_cast<unsigned char>(text.front())) != 0) text.remove_prefix(1);
  while (!text.empty() && std::isspace(static_cast<unsigned char>(text.back())) != 0) text.remove_suffix(1);
  return text;
}

std::string lower(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return out;
}

enum class Meaning { none, stretch, displacement, force, stress, time };
struct Quantity {
  const char* name;
  Meaning meaning;
  const char* si_unit;
};
constexpr std::array<Quantity, 5> quantities = {{{"stretch", Meaning::stretch, ""},
                                                 {"displacement", Meaning::displacement, "m"},
                                                 {"force", Meaning::force, "N"},
                                                 {"stress", Meaning::stress, "Pa"},
                                                 {"time", Meaning::time, "s"}}};
constexpr std::array<std::string_view, 8> known_keys = {"width", "thickness",   "grip distance", "speed",
                                                        "rate",  "temperature", "kind",          "width exponent"};

struct Column {
  Meaning meaning = Meaning::none;
  std::string text;  // as written
  std::string si_unit;
  double factor = 1.0;  // SI = number * factor
  double offset = 0.0;
};

class CurveReader {
 public:
  explicit CurveReader(const InputText& input) : input_(input) { curve_.name = input.name; }

  LabCurve read() {
    split_lines();
    if (columns_.empty()) detail::fail_line(input_, 0, {}, {"holds no table", header_expected, {}});
    finish_warnings();
    detail::repair_rows(input_, rows_, has(Meaning::time), curve_);
    return std::move(curve_);
  }

 private:
  [[noreturn]] void fail(const std::string& key, const Complaint& complaint, int line = -1) const {
    detail::fail_line(input_, line < 0 ? line_ : line, key, complaint);
  }

  void split_lines() {
    std::string_view rest = input_.text;
    if (rest.starts_with("\xef\xbb\xbf")) rest.remove_prefix(3);
    while (!rest.empty()) {
      const std::size_t end = rest.find('\n');
      const std::string_view text = trim(rest.substr(0, end));
      last_line_ = end == std::string_view::npos || end + 1 == rest.size();
      rest = end == std::string_view::npos ? std::string_view{} : rest.substr(end + 1);
      ++line_;
      if (text.empty()) continue;
      if (text.find('\0') != std::string_view::npos)
        fail({}, {"holds a NUL byte, so it is not a text file", "a table of text", {}});
      if (text.front() == '#')
        read_comment(text.substr(1));
      else if (columns_.empty())
        read_header(text);
      else
        read_row(text);
    }
  }

  /// Any remark with the word counts, so that the label is never lost; only "illustrative: false" or "no" takes it
  /// back.
  static bool says_illustrative(std::string_view text) {
    const std::string words = lower(trim(text));
    if (words.find("illustrative") == std::string::npos) return false;
    const std::size_t colon = words.find(':');
    if (colon == std::string::npos || trim(std::string_view(words).substr(0, colon)) != "illustrative") return true;
    const std::string_view value = trim(std::string_view(words).substr(colon + 1));
    return value != "false" && value != "no";
  }

  void read_comment(std::string_view text) {
    if (says_illustrative(text)) curve_.illustrative = true;
    const std::size_t colon = text.find(':');
    if (colon == std::string_view::npos) return;
    std::string key = lower(trim(text.substr(0, colon)));
    std::replace(key.begin(), key.end(), '_', ' ');
    const std::string value(trim(text.substr(colon + 1)));
    if (key == "kind") return read_kind(value);
    if (key == "source" && value.starts_with("computed by hoopfield")) curve_.illustrative = true;
    if (key == "source" || key == "illustrative") return;
    if (std::find(known_keys.begin(), known_keys.end(), key) == known_keys.end()) {
      if (edit_distance("illustrative", key) <= 2) fail(key, {"is not a key of a curve file", {}, "illustrative"});
      const std::string near = nearest_key(key, known_keys);
      if (!near.empty() && edit_distance(near, key) <= 2) fail(key, {"is not a key of a curve file", {}, near});
      return;  // a remark
    }
    read_setting(key, value);
  }

  void read_kind(const std::string& value) {
    const auto kind = film_test_kind(lower(value));
    if (!kind)
      fail("kind", {"\"" + value + "\" is not a kind of test", "tensile, relaxation, recovery, cycle or creep", {}});
    curve_.kind = *kind;
    kind_given_ = true;
  }

  void read_setting(const std::string& key, const std::string& value) {
    static const std::map<std::string, const char*> units = {
        {"width", "m"},  {"thickness", "m"},   {"grip distance", "m"}, {"speed", "m/s"},
        {"rate", "1/s"}, {"temperature", "K"}, {"width exponent", ""}};
    UnitProblem problem;
    const auto number = read_quantity(value, units.at(key), problem);
    if (!number) fail(key, {problem.what, problem.expected, problem.hint});
    const bool positive = key != "width exponent";
    if (positive ? !(*number > 0.0) : !(*number >= 0.0 && *number <= 0.5))
      fail(key, {"\"" + value + "\" is out of bounds", positive ? "more than 0" : "0 to 0.5", {}});
    if (settings_.count(key) != 0) fail(key, {"is given twice", "one value", {}});
    settings_[key] = *number;
  }

  [[nodiscard]] std::optional<double> setting(const char* key) const {
    const auto found = settings_.find(key);
    if (found == settings_.end()) return std::nullopt;
    return found->second;
  }
  double need(const char* key, const char* example, const char* why) const {
    if (const auto value = setting(key)) return *value;
    fail(key,
         {"is missing: " + std::string(why),
          "a line \"# " + std::string(key) + ": " + example + "\" above the table",
          {}},
         header_line_);
  }

  static std::vector<std::string_view> split(std::string_view text, char separator) {
    std::vector<std::string_view> cells;
    while (true) {
      const std::size_t end = text.find(separator);
      cells.push_back(trim(text.substr(0, end)));
      if (end == std::string_view::npos) return cells;
      text.remove_prefix(end + 1);
    }
  }

  void read_header(std::string_view text) {
    header_line_ = line_;
    separator_ = text.find(';') != std::string_view::npos    ? ';'
                 : text.find('\t') != std::string_view::npos ? '\t'
                                                             : ',';
    std::string ignored;
    for (const std::string_view cell : split(text, separator_)) {
      columns_.push_back(read_name(cell));
      if (columns_.back().meaning == Meaning::none) ignored += (ignored.empty() ? "" : ", ") + std::string(cell);
    }
    check_columns(text);
    if (!ignored.empty()) curve_.warnings.push_back("columns not used: " + ignored);
    use_settings();
  }

  Column read_name(std::string_view cell) const {
    Column column;
    std::string text(cell);
    text.erase(std::remove_if(text.begin(), text.end(), [](char c) { return c == '"' || c == ']' || c == ')'; }),
               text.end());
    const std::size_t cut = text.find_first_of("_[(");
    column.text = std::string(cell);
    const std::string name = lower(trim(std::string_view(text).substr(0, cut)));
    if (name == "rate" && cut != std::string::npos)
      fail(column.text, {"makes this a series of curves", "one curve in a file", {}});
    const Quantity* quantity = nullptr;
    for (const Quantity& q : quantities)
      if (name == q.name) quantity = &q;
    if (quantity == nullptr) {
      for (const Quantity& q : quantities)
        if (name.size() > 3 && edit_distance(name, q.name) <= 2)
          fail(column.text, {"is not a column of a curve file", header_expected, std::string(q.name) + "_..."});
      return column;
    }
    column.meaning = quantity->meaning;
    column.si_unit = quantity->si_unit;
    const std::string unit(cut == std::string::npos ? std::string_view{}
                                                    : trim(std::string_view(text).substr(cut + 1)));
    if (quantity->meaning == Meaning::stretch) {
      if (unit == "ratio") {
        column.offset = -1.0;
      } else if (unit == "percent" || unit == "%") {
        column.factor = 0.01;
      } else {
        fail(column.text, {"does not give the unit of stretch", "stretch_percent (strain) or stretch_ratio", {}});
      }
      return column;
    }
    UnitProblem problem;
    const auto found = find_unit(unit, &problem);
    const auto wanted = find_unit(quantity->si_unit);
    if (unit.empty() || !found || !(found->dimension == wanted->dimension) || found->offset != 0.0)
      fail(column.text, {unit.empty() ? "names no unit" : "\"" + unit + "\" is no unit of " + quantity->name,
                         std::string(quantity->name) + "_ and one of " + accepted_units(quantity->si_unit),
                         {}});
    column.factor = found->factor;
    return column;
  }

  [[nodiscard]] bool has(Meaning meaning) const {
    return std::any_of(columns_.begin(), columns_.end(), [&](const Column& c) { return c.meaning == meaning; });
  }

  void check_columns(std::string_view text) const {
    for (const Quantity& q : quantities)
      if (std::count_if(columns_.begin(), columns_.end(), [&](const Column& c) { return c.meaning == q.meaning; }) > 1)
        fail(q.name, {"is given in two columns", "one column of each kind", {}});
    const bool length = has(Meaning::stretch) || has(Meaning::displacement);
    const bool pull = has(Meaning::force) || has(Meaning::stress);
    if (!length && !pull)
      fail("header", {"\"" + std::string(text.substr(0, 60)) + "\" names no column of a curve", header_expected, {}});
    if (!length) fail("header", {"has no column for the stretch", "stretch_percent or displacement_mm", {}});
    if (!pull) fail("header", {"has no column for the force", "force_N or stress_MPa", {}});
    if (has(Meaning::stretch) && has(Meaning::displacement))
      fail("header", {"has both stretch and displacement", "one of the two", {}});
    if (has(Meaning::force) && has(Meaning::stress))
      fail("header", {"has both force and stress", "one of the two", {}});
  }

  void use_settings() {
    if (const auto temperature = setting("temperature")) {
      curve_.temperature = *temperature;
      curve_.temperature_given = true;
    }
    curve_.width_exponent = setting("width exponent").value_or(0.5);
    if (has(Meaning::displacement)) grip_ = need("grip distance", "50 mm", "displacement needs it to become stretch");
    if (has(Meaning::force))
      section_ = need("width", "25 mm", "force needs it to become stress") *
                 need("thickness", "20 um", "force needs it to become stress");
    const auto width = setting("width"), grip = setting("grip distance");
    if (width && grip) curve_.specimen_area = *width * *grip;
    if (has(Meaning::time)) return;
    if (kind_given_ && curve_.kind != FilmTestKind::tensile)
      fail("header", {"has no column time_s", "times; only a tensile curve may leave them out", {}});
    if (const auto rate = setting("rate")) {
      rate_ = *rate;
    } else {
      rate_ = need("speed", "500 mm/min", "without times it gives the rate") /
              need("grip distance", "50 mm", "speed needs it to become a rate");
    }
  }

  /// Number of a cell in SI; nothing for a missing one. Units in cells are understood, with a warning.
  std::optional<double> cell_value(std::string_view cell, const Column& column) {
    if (cell.size() >= 2 && cell.front() == '"' && cell.back() == '"') cell = trim(cell.substr(1, cell.size() - 2));
    if (cell.starts_with('+')) cell.remove_prefix(1);
    std::string repaired;
    if (separator_ != ',' && cell.find(',') != std::string_view::npos) {
      repaired = std::string(cell);
      if (cell.find('.') != std::string_view::npos || cell.find(',') != cell.rfind(','))
        fail(column.text, {"\"" + repaired + "\" has more than one decimal mark", "a number such as 1234.5", {}});
      std::replace(repaired.begin(), repaired.end(), ',', '.');
      cell = repaired;
      count(commas_);
    }
    double number = 0.0;
    const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), number);
    const std::string word = lower(cell);
    if (cell.empty() || word == "nan" || word == "na" || word == "n/a" || word == "-" || word == "null")
      return std::nullopt;
    if (error == std::errc::invalid_argument)
      fail(column.text, {"\"" + std::string(cell.substr(0, 40)) + "\" is not a number", "a number such as 12.5", {}});
    if (error != std::errc() || !std::isfinite(number)) return std::nullopt;
    const std::string_view rest =
        trim(std::string_view(end, static_cast<std::size_t>(cell.data() + cell.size() - end)));
    if (rest.empty()) return number * column.factor + column.offset;
    UnitProblem problem;
    const auto value = read_quantity(cell, column.si_unit, problem);
    if (!value || column.offset != 0.0)
      fail(column.text, {"\"" + std::string(cell.substr(0, 40)) + "\" does not match the header",
                         "a number in the unit of the header",
                         {}});
    count(units_);
    return *value;
  }

  struct Tally {
    std::size_t rows = 0;
    int first = 0;
  };
  void count(Tally& tally) const {
    if (tally.rows++ == 0) tally.first = line_;
  }

  void read_row(std::string_view text) {
    ++curve_.rows_read;
    std::size_t cells = static_cast<std::size_t>(std::count(text.begin(), text.end(), separator_)) + 1;
    if (cells != columns_.size()) {
      if (last_line_ && cells < columns_.size()) return count(cut_);
      const bool doubled = separator_ == ',' && cells == 2 * columns_.size();
      fail("row", {"has " + std::to_string(cells) + " cells where the header names " + std::to_string(columns_.size()),
                   doubled ? "decimal points; with decimal commas, separate the columns by semicolons"
                           : std::to_string(columns_.size()) + " cells",
                   {}});
    }
    detail::LabRow row;
    row.line = line_;
    bool complete = true;
    for (const Column& column : columns_) {
      const std::size_t end = text.find(separator_);
      const std::string_view cell = trim(text.substr(0, end));
      text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
      if (column.meaning == Meaning::none) continue;
      const auto value = cell_value(cell, column);
      if (!value) {
        complete = false;
        continue;
      }
      switch (column.meaning) {
        case Meaning::stretch: row.stretch = 1.0 + *value; break;
        case Meaning::displacement: row.stretch = 1.0 + *value / grip_; break;
        case Meaning::force: row.stress = *value / section_; break;
        case Meaning::stress: row.stress = *value; break;
        case Meaning::time: row.time = *value; break;
        case Meaning::none: break;
      }
    }
    if (!complete) return count(missing_);
    if (!(row.stretch > 0.0)) fail("row", {"leaves no length of film", "a stretch of -100 % or more", {}});
    if (!has(Meaning::time)) row.time = (row.stretch - 1.0) / rate_;
    rows_.push_back(row);
  }

  void finish_warnings() {
    const auto warn = [&](const Tally& tally, const std::string& what) {
      if (tally.rows > 0)
        curve_.warnings.push_back(std::to_string(tally.rows) + " " + what + ", the first in line " +
                                  std::to_string(tally.first));
    };
    warn(missing_, "rows without a number were left out");
    warn(commas_, "decimal commas were read as points");
    warn(units_, "cells with their own unit were converted");
    warn(cut_, "row cut short at the end of the file was left out");
    if (2 * missing_.rows > curve_.rows_read)
      fail("rows",
           {std::to_string(missing_.rows) + " of " + std::to_string(curve_.rows_read) + " rows lack a number",
            "a table with numbers in most rows",
            {}},
           missing_.first);
  }

  const InputText& input_;
  LabCurve curve_;
  std::vector<detail::LabRow> rows_;
  std::vector<Column> columns_;
  std::map<std::string, double> settings_;
  char separator_ = ',';
  int line_ = 0, header_line_ = 0;
  bool last_line_ = false, kind_given_ = false;
  double grip_ = 1.0, section_ = 1.0, rate_ = 1.0;
  Tally missing_, commas_, units_, cut_;
};

}  // namespace

namespace detail {

void fail_line(const InputText& input, int line, const std::string& key, const Complaint& complaint) {
  fail_input(input, {line, line > 0 ? 1 : 0}, key, complaint);
}

}  // namespace detail

LabCurve read_lab_curve(const std::string& path) { return read_lab_curve_text(read_input_text(path, max_curve_bytes)); }

LabCurve read_lab_curve_text(const InputText& input) { return CurveReader(input).read(); }

LabCurve lab_curve(const FilmTest& test, const FilmCurve& curve, const std::string& name) {
  LabCurve lab;
  lab.name = name;
  lab.kind = test.kind;
  lab.temperature = test.temperature;
  lab.temperature_given = true;
  lab.width_exponent = test.width_exponent;
  lab.rows_read = curve.points.size();
  lab.illustrative = true;
  for (const FilmCurvePoint& p : curve.points) lab.points.push_back({p.time, p.stretch, p.stress});
  return lab;
}

}  // namespace hoopfield
