// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/lab_curve.hpp"

#include "models/error.hpp"
#include "models/text.hpp"
#include "models/units.hpp"
#include "sim/film_lab/lab_builder_detail.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

namespace hoopfield {

namespace {

using detail::CurveBuilder, detail::LabColumn, detail::LabMeaning, detail::LabSettings;

constexpr int longest_preamble = 200;  // lines without # above a table
constexpr const char* row_word = "line";

/// Reads the text of a file: finds the names, the units and the numbers in it.
class CurveReader {
 public:
  CurveReader(const InputText& input, const LabReading& how)
      : input_(input), how_(how), settings_(input, curve_, true) {
    curve_.name = input.name;
  }

  LabCurve read() {
    refuse_binary();
    const int passed = lines_above();
    CsvRows rows(input_, [this](std::string_view text, Position at) { settings_.read_remark(text, at.line); });
    for (int i = 0; i < passed; ++i) pass_line(rows);
    if (passed > 0)
      curve_.warnings.push_back(std::to_string(passed) + (passed == 1 ? " line" : " lines") +
                                " above the table passed over, the first is line " + std::to_string(first_passed_));
    const std::string_view ahead = rows.line_ahead();
    if (ahead.empty()) detail::fail_line(input_, 0, {}, {"holds no table", detail::curve_header_expected, {}});
    rows.separate_by(separator_ = detail::separator_of(ahead));
    CurveBuilder builder = how_.columns.empty() ? with_header(rows, ahead) : with_columns(rows, ahead);
    for (std::vector<CsvCell> row = rows.next(); !row.empty(); row = rows.next()) read_row(builder, row, rows.at_end());
    builder.finish();
    return std::move(curve_);
  }

 private:
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

  void pass_line(CsvRows& rows) {
    (void)rows.line_ahead();
    if (first_passed_ == 0) first_passed_ = rows.ahead().line;
    rows.pass_line();
  }

  /// Lines without # above the names of the columns, or above the numbers when the names are given. None when no table
  /// is found: then the first line is what the message is about.
  [[nodiscard]] int lines_above() const {
    CsvRows rows(input_);
    for (int passed = 0; passed <= longest_preamble; ++passed) {
      const std::string_view line = rows.line_ahead();
      if (line.empty()) return 0;
      const std::vector<std::string> cells = detail::split_line(line, detail::separator_of(line));
      if (how_.columns.empty() ? detail::is_header(line) : detail::is_data(cells.front())) return passed;
      rows.pass_line();
    }
    return 0;
  }

  void use_conditions() {
    for (const LabCondition& condition : how_.conditions) settings_.read_condition(condition);
  }

  /// Tabs behind the last cell are no cells: editors and programs leave them there.
  void drop_tabs_at_end(std::vector<CsvCell>& cells, std::size_t least) const {
    while (separator_ == '\t' && cells.size() > least && cells.back().text.empty()) cells.pop_back();
  }

  /// A row below the names without a number in the columns that are named, and with a word in one of them.
  [[nodiscard]] bool units_ahead(CsvRows& rows, const std::vector<CsvCell>& names) const {
    const std::string_view line = rows.line_ahead();
    const std::vector<std::string> cells = detail::split_line(line, separator_);
    bool words = false;
    for (std::size_t i = 0; i < std::min(cells.size(), names.size()); ++i) {
      if (detail::take_apart(names[i].text).meanings.empty()) continue;
      if (detail::is_data(cells[i])) return false;
      if (!cells[i].empty() && cells[i] != "-") words = true;
    }
    return words;
  }

  CurveBuilder with_header(CsvRows& rows, std::string_view text) {
    std::vector<CsvCell> names = rows.next();
    if (names.empty()) detail::fail_line(input_, 0, {}, {"holds no table", detail::curve_header_expected, {}});
    drop_tabs_at_end(names, 1);
    if (detail::is_data(names.front().text))
      detail::fail_line(input_, names.front().at.line, "header",
                        {in_quotes(text.substr(0, 60)) + " is a row of numbers, without names above it",
                         std::string(detail::curve_header_expected) + "; or the same beside the file, as " +
                             how_.columns_name + " \"displacement_mm,force_N\"",
                         {}});
    std::vector<CsvCell> units;
    if (detail::is_header(text) && units_ahead(rows, names)) units = rows.next();
    std::vector<LabColumn> columns;
    for (std::size_t i = 0; i < names.size(); ++i)
      columns.push_back(detail::read_lab_column(input_, names[i], i < units.size() ? &units[i] : nullptr));
    use_conditions();
    return {input_, settings_, std::move(columns), names.front().at.line, text, row_word, curve_};
  }

  CurveBuilder with_columns(const CsvRows& rows_ahead, std::string_view ahead) {
    const InputText given = {how_.columns_name, how_.columns};
    CsvRows rows(given);
    rows.separate_by(detail::separator_of(how_.columns));
    std::vector<LabColumn> columns;
    for (const CsvCell& cell : rows.next()) columns.push_back(detail::read_lab_column(given, cell));
    if (columns.empty()) detail::fail_line(given, 0, {}, {"names no column", detail::curve_header_expected, {}});
    const std::size_t cells = detail::split_line(ahead, separator_).size();
    if (detail::is_data(ahead) && cells != columns.size()) fail_count(columns.size(), cells, rows_ahead.ahead().line);
    detail::check_lab_columns(given, 0, columns, how_.columns);
    use_conditions();
    return {input_, settings_, std::move(columns), 0, how_.columns, row_word, curve_};
  }

  /// Number of a cell in SI; nothing for a missing one. Units in cells are understood, with a warning.
  std::optional<double> cell_value(CurveBuilder& builder, const CsvCell& written, const LabColumn& column) const {
    std::string_view cell = written.text;
    if (cell.starts_with('+')) cell.remove_prefix(1);
    std::string repaired;
    if (cell.find(',') != std::string_view::npos) {
      repaired = std::string(cell);
      if (cell.find('.') != std::string_view::npos || cell.find(',') != cell.rfind(','))
        fail(written, column, {in_quotes(repaired) + " has more than one decimal mark", "a number such as 1234.5", {}});
      std::replace(repaired.begin(), repaired.end(), ',', '.');
      cell = repaired;
      builder.commas.count(written.at.line);
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
    builder.units.count(written.at.line);
    return *value;
  }

  void read_row(CurveBuilder& builder, std::vector<CsvCell>& cells, bool last) const {
    const int line = cells.front().at.line;
    const std::vector<LabColumn>& columns = builder.columns();
    drop_tabs_at_end(cells, columns.size());
    if (cells.size() != columns.size()) {
      if (last && cells.size() < columns.size()) return builder.cut.count(line);
      fail_count(columns.size(), cells.size(), line);
    }
    std::vector<std::optional<double>> values(columns.size());
    for (std::size_t i = 0; i < cells.size(); ++i)
      if (columns[i].meaning != LabMeaning::none) values[i] = cell_value(builder, cells[i], columns[i]);
    builder.add(values, line);
  }

  [[noreturn]] void fail_count(std::size_t due, std::size_t cells, int line) const {
    const bool doubled = separator_ == ',' && due > 1 && cells == 2 * due;
    const std::string names = how_.columns.empty() ? "the header names " : how_.columns_name + " names ";
    detail::fail_line(
        input_, line, "row",
        {"has " + std::to_string(cells) + (cells == 1 ? " cell where " : " cells where ") + names + std::to_string(due),
         doubled ? "decimal points; with decimal commas, separate the columns by semicolons"
                 : std::to_string(due) + " cells",
         {}});
  }

  const InputText& input_;
  const LabReading& how_;
  LabCurve curve_;
  LabSettings settings_;
  char separator_ = ',';
  int first_passed_ = 0;
};

}  // namespace

namespace detail {

void fail_line(const InputText& input, int line, const std::string& key, const Complaint& complaint) {
  fail_input(input, {line, line > 0 ? 1 : 0}, key, complaint);
}

}  // namespace detail

LabCurve read_lab_curve(const std::string& path, const LabReading& how) {
  return read_lab_curve_text(read_input_text(path, max_curve_bytes), how);
}

LabCurve read_lab_curve_text(const InputText& input, const LabReading& how) {
  if (detail::is_utf8(input.text)) return CurveReader(input, how).read();
  const InputText converted = {input.name, detail::from_latin1(input.text)};
  LabCurve curve = CurveReader(converted, how).read();
  curve.warnings.insert(curve.warnings.begin(), "the text is not UTF-8: read as ISO-8859-1");
  return curve;
}

LabCurve read_lab_table(const LabTable& table) {
  LabCurve curve;
  curve.name = table.name;
  const InputText input = {table.name, {}};
  LabSettings settings(input, curve, false);
  for (const LabCondition& condition : table.conditions) settings.read_condition(condition);
  std::vector<LabColumn> columns;
  std::string names;
  for (const LabTable::Column& column : table.columns) {
    columns.push_back(detail::read_lab_column(input, {column.name, {}}));
    names += (names.empty() ? "" : ", ") + column.name;
    if (column.values.size() != table.columns.front().values.size())
      fail_input(input, {}, column.name,
                 {"has " + std::to_string(column.values.size()) + " values where " + table.columns.front().name +
                      " has " + std::to_string(table.columns.front().values.size()),
                  "columns of one length",
                  {}});
  }
  CurveBuilder builder(input, settings, columns, 0, names, "row", curve);
  std::vector<std::optional<double>> row(columns.size());
  for (std::size_t i = 0; i < table.columns.front().values.size(); ++i) {
    for (std::size_t k = 0; k < columns.size(); ++k) {
      const double value = table.columns[k].values[i] * columns[k].factor + columns[k].offset;
      row[k] = std::isfinite(value) ? std::optional(value) : std::nullopt;
    }
    builder.add(row, static_cast<int>(i));
  }
  builder.finish();
  return curve;
}

bool names_lab_column(const std::string& name) { return !detail::take_apart(name).meanings.empty(); }

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
