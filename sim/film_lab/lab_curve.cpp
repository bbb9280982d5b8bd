// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/lab_curve.hpp"

#include "models/error.hpp"
#include "models/parameter.hpp"
#include "models/text.hpp"
#include "models/units.hpp"
#include "sim/film_lab/lab_columns_detail.hpp"
#include "sim/film_lab/lab_rows_detail.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <optional>
#include <string_view>

namespace hoopfield {

namespace {

using detail::LabColumn, detail::LabMeaning;

constexpr std::array<std::string_view, 9> known_keys = {"width", "thickness",      "grip distance",
                                                        "speed", "rate",           "temperature",
                                                        "kind",  "width exponent", "machine compliance"};

class CurveReader {
 public:
  explicit CurveReader(const InputText& input) : input_(input) { curve_.name = input.name; }

  LabCurve read() {
    refuse_binary();
    CsvRows rows(input_, [this](std::string_view text, Position at) {
      line_ = at.line;
      read_remark(text);
    });
    if (const std::string_view header = rows.line_ahead(); !header.empty()) {
      separator_ = separator_of(header);
      rows.separate_by(separator_);
      if (std::vector<CsvCell> cells = rows.next(); !cells.empty()) read_header(std::move(cells), header);
    }
    if (columns_.empty()) detail::fail_line(input_, 0, {}, {"holds no table", detail::curve_header_expected, {}});
    for (std::vector<CsvCell> row = rows.next(); !row.empty(); row = rows.next()) read_row(row, rows.at_end());
    finish_warnings();
    detail::repair_rows(input_, rows_, row_facts(), curve_);
    return std::move(curve_);
  }

 private:
  [[noreturn]] void fail(const std::string& key, const Complaint& complaint, int line = -1) const {
    detail::fail_line(input_, line < 0 ? line_ : line, key, complaint);
  }
  [[noreturn]] void fail(const CsvCell& cell, const LabColumn& column, const Complaint& complaint) const {
    fail_input(input_, cell.at, column.text, complaint);
  }

  void refuse_binary() const {
    const std::size_t nul = input_.text.find('\0');
    if (nul == std::string::npos) return;
    const auto before = input_.text.begin() + static_cast<std::ptrdiff_t>(nul);
    detail::fail_line(input_, static_cast<int>(std::count(input_.text.begin(), before, '\n')) + 1, {},
                      {"holds a NUL byte, so it is not a text file", "a table of text", {}});
  }

  static char separator_of(std::string_view header) {
    for (const char separator : {';', '\t'})
      if (header.find(separator) != std::string_view::npos) return separator;
    return ',';
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

  void read_remark(std::string_view text) {
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
      fail("kind", {in_quotes(value) + " is not a kind of test", "tensile, relaxation, recovery, cycle or creep", {}});
    curve_.kind = *kind;
    kind_given_ = true;
  }

  void read_setting(const std::string& key, const std::string& value) {
    static const std::map<std::string, const char*> units = {
        {"width", "m"},  {"thickness", "m"},   {"grip distance", "m"}, {"speed", "m/s"},
        {"rate", "1/s"}, {"temperature", "K"}, {"width exponent", ""}, {"machine compliance", "m/N"}};
    UnitProblem problem;
    const auto number = read_quantity(value, units.at(key), problem);
    if (!number) fail(key, {problem.what, problem.expected, problem.hint});
    const bool exponent = key == "width exponent", compliance = key == "machine compliance";
    const bool fits = exponent ? *number >= 0.0 && *number <= 0.5 : compliance ? *number >= 0.0 : *number > 0.0;
    if (!fits)
      fail(key, {in_quotes(value) + " is out of bounds",
                 exponent     ? "0 to 0.5"
                 : compliance ? "0 um/N (a rigid machine) or more"
                              : "more than 0",
                 {}});
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

  /// Tabs behind the last cell are no cells: editors and programs leave them there.
  void drop_tabs_at_end(std::vector<CsvCell>& cells, std::size_t least) const {
    while (separator_ == '\t' && cells.size() > least && cells.back().text.empty()) cells.pop_back();
  }

  void read_header(std::vector<CsvCell> cells, std::string_view text) {
    line_ = header_line_ = cells.front().at.line;
    drop_tabs_at_end(cells, 1);
    std::string ignored;
    for (const CsvCell& cell : cells) {
      columns_.push_back(detail::read_lab_column(input_, cell));
      if (columns_.back().meaning == LabMeaning::none) ignored += (ignored.empty() ? "" : ", ") + cell.text;
    }
    detail::check_lab_columns(input_, line_, columns_, text);
    if (!ignored.empty()) curve_.warnings.push_back("columns not used: " + ignored);
    use_settings();
  }

  /// The give of the machine goes with the force, so a stress needs the section.
  [[nodiscard]] detail::RowFacts row_facts() {
    detail::RowFacts facts;
    facts.timed = has(LabMeaning::time);
    facts.travel = has(LabMeaning::displacement);
    facts.compliance = setting("machine compliance");
    facts.grip = setting("grip distance");
    if (facts.compliance && !facts.travel)
      curve_.warnings.push_back(
          "machine compliance not used: the table gives the stretch, not the travel of the grips");
    if (facts.travel && facts.compliance.value_or(0.0) > 0.0)
      facts.give = *facts.compliance / grip_ * need("width", "25 mm", "machine compliance goes with the force") *
                   need("thickness", "20 um", "machine compliance goes with the force");
    return facts;
  }

  [[nodiscard]] bool has(LabMeaning meaning) const { return detail::has_column(columns_, meaning); }

  void use_settings() {
    if (const auto temperature = setting("temperature")) {
      curve_.temperature = *temperature;
      curve_.temperature_given = true;
    }
    curve_.width_exponent = setting("width exponent").value_or(0.5);
    if (has(LabMeaning::displacement))
      grip_ = need("grip distance", "50 mm", "displacement needs it to become stretch");
    if (has(LabMeaning::force))
      section_ = need("width", "25 mm", "force needs it to become stress") *
                 need("thickness", "20 um", "force needs it to become stress");
    const auto width = setting("width"), grip = setting("grip distance");
    if (width && grip) curve_.specimen_area = *width * *grip;
    if (has(LabMeaning::time)) return;
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
  std::optional<double> cell_value(const CsvCell& written, const LabColumn& column) {
    std::string_view cell = written.text;
    if (cell.starts_with('+')) cell.remove_prefix(1);
    std::string repaired;
    if (cell.find(',') != std::string_view::npos) {
      repaired = std::string(cell);
      if (cell.find('.') != std::string_view::npos || cell.find(',') != cell.rfind(','))
        fail(written, column, {in_quotes(repaired) + " has more than one decimal mark", "a number such as 1234.5", {}});
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
      fail(written, column, {in_quotes(cell.substr(0, 40)) + " is not a number", "a number such as 12.5", {}});
    if (error != std::errc() || !std::isfinite(number)) return std::nullopt;
    const std::string_view rest =
        trim(std::string_view(end, static_cast<std::size_t>(cell.data() + cell.size() - end)));
    if (rest.empty()) return number * column.factor + column.offset;
    UnitProblem problem;
    const auto value = read_quantity(cell, column.si_unit, problem);
    if (!value || column.offset != 0.0)
      fail(written, column,
           {in_quotes(cell.substr(0, 40)) + " does not match the header", "a number in the unit of the header", {}});
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

  void read_row(std::vector<CsvCell>& cells, bool last) {
    line_ = cells.front().at.line;
    ++curve_.rows_read;
    drop_tabs_at_end(cells, columns_.size());
    if (cells.size() != columns_.size()) {
      if (last && cells.size() < columns_.size()) return count(cut_);
      const bool doubled = separator_ == ',' && cells.size() == 2 * columns_.size();
      const std::string due = std::to_string(columns_.size());
      fail("row", {"has " + std::to_string(cells.size()) + " cells where the header names " + due,
                   doubled ? "decimal points; with decimal commas, separate the columns by semicolons" : due + " cells",
                   {}});
    }
    detail::LabRow row;
    row.line = line_;
    bool complete = true;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const LabColumn& column = columns_[i];
      if (column.meaning == LabMeaning::none) continue;
      const auto value = cell_value(cells[i], column);
      if (!value) {
        complete = false;
        continue;
      }
      switch (column.meaning) {
        case LabMeaning::stretch: row.stretch = 1.0 + *value; break;
        case LabMeaning::displacement: row.stretch = 1.0 + *value / grip_; break;
        case LabMeaning::force: row.stress = *value / section_; break;
        case LabMeaning::stress: row.stress = *value; break;
        case LabMeaning::time: row.time = *value; break;
        case LabMeaning::none: break;
      }
    }
    if (!complete) return count(missing_);
    if (!(row.stretch > 0.0)) fail("row", {"leaves no length of film", "a stretch of -100 % or more", {}});
    if (!has(LabMeaning::time)) row.time = (row.stretch - 1.0) / rate_;
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
  std::vector<LabColumn> columns_;
  std::map<std::string, double> settings_;
  char separator_ = ',';
  int line_ = 0, header_line_ = 0;
  bool kind_given_ = false;
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
