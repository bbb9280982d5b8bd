// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/readings_reader.hpp"

#include "models/error.hpp"
#include "models/parameter.hpp"
#include "models/reading_quantity.hpp"
#include "models/units.hpp"
#include "sim/base/csv_rows.hpp"

#include <algorithm>
#include <array>
#include <map>

namespace hoopfield {

namespace {

constexpr std::array<std::string_view, 11> columns = {
    "quantity", "height", "face", "value", "unit", "load_id", "error", "time", "temperature", "instrument", "note"};

std::string joined(const auto& list) {
  std::string text;
  for (const auto& item : list) text += (text.empty() ? "" : ", ") + std::string(item);
  return text;
}

class ReadingsReader {
 public:
  explicit ReadingsReader(const InputText& input) : input_(input) { check_utf8(input, "a CSV text in UTF-8"); }

  std::vector<Reading> read() {
    CsvRows rows(input_);
    for (std::vector<CsvCell> row = rows.next(); !row.empty(); row = rows.next()) {
      line_ = row.front().at.line;
      if (places_.empty())
        read_header(row);
      else
        read_row(row);
    }
    if (places_.empty()) fail({1, 1}, "readings", {"is empty", "a header line: " + joined(columns), {}});
    if (readings_.empty()) fail({1, 1}, "readings", {"holds a header and no readings", "one reading a line", {}});
    return std::move(readings_);
  }

 private:
  void read_header(const std::vector<CsvCell>& cells) {
    if (cells.size() == 1 && cells[0].text.find(';') != std::string::npos)
      fail(cells[0], "readings",
           {"the columns are separated by semicolons", "commas between cells, and decimals with a point", {}});
    const std::vector<std::string_view> known(columns.begin(), columns.end());
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const CsvCell& cell = cells[i];
      if (std::find(columns.begin(), columns.end(), cell.text) == columns.end())
        fail(cell, "readings", {"\"" + cell.text + "\" is no column", joined(columns), nearest_key(cell.text, known)});
      if (!places_.emplace(cell.text, i).second)
        fail(cell, "readings", {"the column " + cell.text + " is there twice", "each column once", {}});
    }
    for (const char* needed : {"quantity", "value", "unit"})
      if (places_.count(needed) == 0)
        fail({line_, 1}, "readings", {std::string("the column ") + needed + " is missing", joined(columns), {}});
  }

  void read_row(const std::vector<CsvCell>& cells) {
    if (cells.size() != places_.size())
      fail({line_, 1}, "readings",
           {std::to_string(cells.size()) + " cells under " + std::to_string(places_.size()) + " columns",
            "as many cells as columns; decimals with a point, commas only between cells",
            {}});
    Reading r;
    r.line = line_;
    const ReadingQuantity& quantity = find_quantity(cells);
    r.quantity = quantity.name;
    r.value = read_value(cells, quantity);
    r.height = read_optional(cells, "height", "m", "at least 0 m, from the pallet deck up");
    r.face = read_face(cells);
    r.load_id = cell_text(cells, "load_id");
    r.error = read_error(cells, quantity);
    r.time = read_optional(cells, "time", "s", "at least 0 s after the end of wrapping");
    r.temperature = read_optional(cells, "temperature", "K", "at least 0 K");
    r.instrument = cell_text(cells, "instrument");
    r.note = cell_text(cells, "note");
    r.file = input_.name;
    if (quantity.needs_height && !r.height)
      fail({line_, 1}, "height", {"is missing", "the height above the deck at which it was read, \"0.75 m\"", {}});
    readings_.push_back(std::move(r));
  }

  [[nodiscard]] const ReadingQuantity& find_quantity(const std::vector<CsvCell>& cells) const {
    const CsvCell& cell = cells[places_.at("quantity")];
    if (const ReadingQuantity* found = find_reading_quantity(cell.text)) return *found;
    std::vector<std::string_view> names;
    for (const ReadingQuantity& q : reading_quantities()) names.push_back(q.name);
    fail(cell, "quantity", {"\"" + cell.text + "\" is not known", joined(names), nearest_key(cell.text, names)});
  }

  [[nodiscard]] double read_value(const std::vector<CsvCell>& cells, const ReadingQuantity& quantity) const {
    const CsvCell &number = cells[places_.at("value")], &unit = cells[places_.at("unit")];
    const std::string key(quantity.name);
    if (quantity.percent_due && unit.text.empty())
      fail(unit, key, {"a stretch without a unit", "%: 250 % is film 3.5 times as long", {}});
    const bool both = !number.text.empty() && !unit.text.empty();
    const std::string written = number.text + (both ? " " : "") + unit.text;
    UnitProblem problem;
    const auto value = read_quantity(written, quantity.unit, problem);
    if (!value) fail(number, key, {problem.what, problem.expected, problem.hint});
    if (*value < 0.0 || (*value == 0.0 && !quantity.zero_allowed))
      fail_range(input_, number.at, key,
                 {"\"" + written + "\" is outside the physical bounds",
                  quantity.zero_allowed ? "at least 0" : "more than 0",
                  {}});
    return *value;
  }

  [[nodiscard]] std::string cell_text(const std::vector<CsvCell>& cells, const char* column) const {
    return places_.count(column) != 0 ? cells[places_.at(column)].text : std::string();
  }

  /// A cell that carries its unit; empty or left out = nothing.
  [[nodiscard]] std::optional<double> read_optional(const std::vector<CsvCell>& cells, const char* column,
                                                    const char* unit, const char* bound) const {
    if (places_.count(column) == 0) return std::nullopt;
    const CsvCell& cell = cells[places_.at(column)];
    if (cell.text.empty()) return std::nullopt;
    UnitProblem problem;
    const auto value = read_quantity(cell.text, unit, problem);
    if (!value) fail(cell, column, {problem.what, problem.expected, problem.hint});
    if (*value < 0.0)
      fail_range(input_, cell.at, column, {"\"" + cell.text + "\" is outside the physical bounds", bound, {}});
    return value;
  }

  /// In the unit of the value, which has no offset here: 2 degC are 2 K.
  [[nodiscard]] std::optional<double> read_error(const std::vector<CsvCell>& cells,
                                                 const ReadingQuantity& quantity) const {
    const std::string number = cell_text(cells, "error");
    if (number.empty()) return std::nullopt;
    const CsvCell& cell = cells[places_.at("error")];
    const std::string unit = cells[places_.at("unit")].text;
    UnitProblem problem;
    const auto value = read_quantity(unit.empty() ? number : number + " " + unit, quantity.unit, problem);
    if (!value)
      fail(cell, "error", {problem.what, "a number in the unit of the value: half of the central 90 %", problem.hint});
    const double zero = quantity.unit == "K" ? parse_quantity("0 " + unit, "K") : 0.0;
    if (!(*value - zero > 0.0))
      fail_range(input_, cell.at, "error", {"\"" + number + "\" is outside the physical bounds", "more than 0", {}});
    return *value - zero;
  }

  [[nodiscard]] std::string read_face(const std::vector<CsvCell>& cells) const {
    if (places_.count("face") == 0) return "";
    const CsvCell& cell = cells[places_.at("face")];
    if (cell.text.empty() || std::find(face_names.begin(), face_names.end(), cell.text) != face_names.end())
      return cell.text;
    fail(cell, "face", {"\"" + cell.text + "\" is no face", joined(face_names) + ", or nothing", {}});
  }

  [[noreturn]] void fail(const CsvCell& cell, const std::string& key, const Complaint& complaint) const {
    fail_input(input_, cell.at, key, complaint);
  }
  [[noreturn]] void fail(Position at, const std::string& key, const Complaint& complaint) const {
    fail_input(input_, at, key, complaint);
  }

  const InputText& input_;
  std::map<std::string, std::size_t, std::less<>> places_;
  std::vector<Reading> readings_;
  int line_ = 0;
};

}  // namespace

std::vector<Reading> read_readings_text(const InputText& input) { return ReadingsReader(input).read(); }

}  // namespace hoopfield
