// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/readings_reader.hpp"

#include "models/error.hpp"
#include "models/parameter.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <array>
#include <map>

namespace hoopfield {

namespace {

struct Quantity {
  std::string_view name, unit;
  bool percent_due;
  bool zero_allowed;
};
constexpr std::array<Quantity, 7> quantities = {{{"pull_force", "N", false, true},
                                                 {"film_mass", "kg", false, false},
                                                 {"stretch_on_load", "", true, true},
                                                 {"laid_width", "m", false, false},
                                                 {"girth_before", "m", false, false},
                                                 {"girth_after", "m", false, false},
                                                 {"turns", "", false, false}}};
constexpr std::array<std::string_view, 6> columns = {"quantity", "height", "face", "value", "unit", "load_id"};

struct Cell {
  std::string text;
  int column = 0;  ///< 1-based, in characters
};

std::size_t characters(std::string_view text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string trim(const std::string& text) {
  const auto first = text.find_first_not_of(" \t\r");
  return first == std::string::npos ? "" : text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

/// Cells of one line; a cell in double quotes may hold commas, a doubled quote stands for one.
std::vector<Cell> split(const std::string& line) {
  std::vector<Cell> cells;
  std::string text;
  std::size_t start = 0;
  bool quoted = false;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    if (i == line.size() || (line[i] == ',' && !quoted)) {
      cells.push_back({trim(text), static_cast<int>(characters(line.substr(0, start))) + 1});
      text.clear();
      start = i + 1;
    } else if (line[i] == '"') {
      if (quoted && i + 1 < line.size() && line[i + 1] == '"') text += line[++i];
      else quoted = !quoted;
    } else {
      text += line[i];
    }
  }
  return cells;
}

std::string joined(const auto& list) {
  std::string text;
  for (const auto& item : list) text += (text.empty() ? "" : ", ") + std::string(item);
  return text;
}

class ReadingsReader {
 public:
  explicit ReadingsReader(const InputText& input) : input_(input) {
    check_utf8(input, "a CSV text in UTF-8");
  }

  std::vector<Reading> read() {
    std::size_t from = 0;
    for (int number = 1; from <= input_.text.size(); ++number) {
      const std::size_t end = std::min(input_.text.find('\n', from), input_.text.size());
      line_ = number;
      take(input_.text.substr(from, end - from));
      from = end + 1;
    }
    if (places_.empty()) fail({1, 1}, "readings", {"is empty", "a header line: " + joined(columns), {}});
    if (readings_.empty()) fail({1, 1}, "readings", {"holds a header and no readings", "one reading a line", {}});
    return std::move(readings_);
  }

 private:
  void take(std::string line) {
    if (line_ == 1 && line.starts_with("\xEF\xBB\xBF")) line.erase(0, 3);
    if (trim(line).empty() || trim(line).starts_with('#')) return;
    const std::vector<Cell> cells = split(line);
    if (places_.empty())
      read_header(cells);
    else
      read_row(cells);
  }

  void read_header(const std::vector<Cell>& cells) {
    if (cells.size() == 1 && cells[0].text.find(';') != std::string::npos)
      fail(cells[0], "readings", {"the columns are separated by semicolons",
                                  "commas between cells, and decimals with a point", {}});
    const std::vector<std::string_view> known(columns.begin(), columns.end());
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const Cell& cell = cells[i];
      if (std::find(columns.begin(), columns.end(), cell.text) == columns.end())
        fail(cell, "readings", {"\"" + cell.text + "\" is no column", joined(columns), nearest_key(cell.text, known)});
      if (!places_.emplace(cell.text, i).second)
        fail(cell, "readings", {"the column " + cell.text + " is there twice", "each column once", {}});
    }
    for (const char* needed : {"quantity", "value", "unit"})
      if (places_.count(needed) == 0)
        fail({line_, 1}, "readings", {std::string("the column ") + needed + " is missing", joined(columns), {}});
  }

  void read_row(const std::vector<Cell>& cells) {
    if (cells.size() != places_.size())
      fail({line_, 1}, "readings",
           {std::to_string(cells.size()) + " cells under " + std::to_string(places_.size()) + " columns",
            "as many cells as columns; decimals with a point, commas only between cells", {}});
    Reading r;
    r.line = line_;
    const Quantity& quantity = find_quantity(cells);
    r.quantity = quantity.name;
    r.value = read_value(cells, quantity);
    r.height = read_height(cells);
    r.face = read_face(cells);
    if (places_.count("load_id") != 0) r.load_id = cells[places_.at("load_id")].text;
    if (r.quantity == "pull_force" && !r.height)
      fail({line_, 1}, "height", {"is missing", "the height above the deck at which the film was pulled, \"0.75 m\"", {}});
    readings_.push_back(std::move(r));
  }

  [[nodiscard]] const Quantity& find_quantity(const std::vector<Cell>& cells) const {
    const Cell& cell = cells[places_.at("quantity")];
    const auto found =
        std::find_if(quantities.begin(), quantities.end(), [&](const Quantity& q) { return q.name == cell.text; });
    if (found != quantities.end()) return *found;
    std::vector<std::string_view> names;
    for (const Quantity& q : quantities) names.push_back(q.name);
    fail(cell, "quantity", {"\"" + cell.text + "\" is not known", joined(names), nearest_key(cell.text, names)});
  }

  [[nodiscard]] double read_value(const std::vector<Cell>& cells, const Quantity& quantity) const {
    const Cell &number = cells[places_.at("value")], &unit = cells[places_.at("unit")];
    const std::string key(quantity.name);
    if (quantity.percent_due && unit.text.empty())
      fail(unit, key, {"a stretch without a unit", "%: 250 % is film 3.5 times as long", {}});
    const std::string written = trim(number.text + " " + unit.text);
    UnitProblem problem;
    const auto value = read_quantity(written, quantity.unit, problem);
    if (!value) fail(number, key, {problem.what, problem.expected, problem.hint});
    if (*value < 0.0 || (*value == 0.0 && !quantity.zero_allowed))
      fail_range(input_, {line_, number.column}, key,
                 {"\"" + written + "\" is outside the physical bounds",
                  quantity.zero_allowed ? "at least 0" : "more than 0", {}});
    return *value;
  }

  [[nodiscard]] std::optional<double> read_height(const std::vector<Cell>& cells) const {
    if (places_.count("height") == 0) return std::nullopt;
    const Cell& cell = cells[places_.at("height")];
    if (cell.text.empty()) return std::nullopt;
    UnitProblem problem;
    const auto value = read_quantity(cell.text, "m", problem);
    if (!value) fail(cell, "height", {problem.what, problem.expected, problem.hint});
    if (*value < 0.0)
      fail_range(input_, {line_, cell.column}, "height",
                 {"\"" + cell.text + "\" is outside the physical bounds", "at least 0 m, from the pallet deck up", {}});
    return value;
  }

  [[nodiscard]] std::string read_face(const std::vector<Cell>& cells) const {
    if (places_.count("face") == 0) return "";
    const Cell& cell = cells[places_.at("face")];
    if (cell.text.empty() || std::find(face_names.begin(), face_names.end(), cell.text) != face_names.end())
      return cell.text;
    fail(cell, "face", {"\"" + cell.text + "\" is no face", joined(face_names) + ", or nothing", {}});
  }

  [[noreturn]] void fail(const Cell& cell, const std::string& key, const Complaint& complaint) const {
    fail_input(input_, {line_, cell.column}, key, complaint);
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
