// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/case_table.hpp"

#include "models/error.hpp"
#include "models/parameter.hpp"
#include "sim/base/input_text.hpp"
#include "sim/sweep/input_checker.hpp"

#include <memory>
#include <string_view>

namespace hoopfield {
namespace {

struct Cell {
  std::string text;
  Position at;
};

/// Splits a text into rows of cells; columns count characters, not bytes.
class CsvReader {
 public:
  explicit CsvReader(const InputText& input) : input_(input), rest_(input.text) {
    if (rest_.starts_with("\xEF\xBB\xBF")) rest_.remove_prefix(3);  // mark that spreadsheets put first
  }

  /// The next row with something in it; empty at the end.
  std::vector<Cell> next() {
    while (!rest_.empty()) {
      if (rest_.front() == '#') {
        rest_.remove_prefix(std::min(rest_.find('\n'), rest_.size()));
        if (!rest_.empty()) take();
        continue;
      }
      std::vector<Cell> row = read_row();
      if (row.size() > 1 || !row.front().text.empty()) return row;
    }
    return {};
  }

 private:
  char take() {
    const char c = rest_.front();
    rest_.remove_prefix(1);
    if (c == '\n') {
      ++at_.line;
      at_.column = 1;
    } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
      ++at_.column;
    }
    return c;
  }

  std::vector<Cell> read_row() {
    std::vector<Cell> row;
    for (;;) {
      row.push_back(read_cell());
      if (rest_.empty()) return row;
      if (take() == '\n') return row;
    }
  }

  Cell read_cell() {
    while (!rest_.empty() && (rest_.front() == ' ' || rest_.front() == '\t')) take();
    Cell cell{{}, at_};
    if (!rest_.empty() && rest_.front() == '"') return read_quoted();
    while (!rest_.empty() && rest_.front() != ',' && rest_.front() != '\n') cell.text += take();
    while (!cell.text.empty() && std::string_view(" \t\r").find(cell.text.back()) != std::string_view::npos)
      cell.text.pop_back();
    return cell;
  }

  Cell read_quoted() {
    Cell cell{{}, at_};
    take();
    for (;;) {
      if (rest_.empty()) fail_input(input_, cell.at, {}, {"a quote is not closed", "a second \"", {}});
      const char c = take();
      if (c != '"') {
        cell.text += c;
      } else if (!rest_.empty() && rest_.front() == '"') {
        cell.text += take();
      } else {
        break;
      }
    }
    while (!rest_.empty() && std::string_view(" \t\r").find(rest_.front()) != std::string_view::npos) take();
    if (!rest_.empty() && rest_.front() != ',' && rest_.front() != '\n')
      fail_input(input_, at_, {}, {"text after a closing quote", "a comma", {}});
    return cell;
  }

  const InputText& input_;
  std::string_view rest_;
  Position at_{1, 1};
};

struct Column {
  VariedInput varied;
  std::unique_ptr<InputChecker> check;
};

Column make_column(const InputText& input, const Cell& cell, const Scenario& scenario) {
  if (find_parameter(ParameterRoom::scenario, cell.text) == nullptr) {
    std::vector<std::string_view> keys;
    for (const Parameter& p : parameters(ParameterRoom::scenario)) keys.push_back(p.key);
    const std::string shown = cell.text.empty() ? "column without a name" : cell.text;
    fail_input(input, cell.at, shown, {"unknown key", "a scenario key in every column", nearest_key(cell.text, keys)});
  }
  return {{cell.text, {}, {}, {}, 0}, std::make_unique<InputChecker>(scenario, cell.text)};
}

}  // namespace

std::vector<VariedInput> read_case_table(const std::string& text, const std::string& name, const Scenario& scenario) {
  const InputText input{name, text};
  check_utf8(input);
  CsvReader reader(input);
  std::vector<Column> columns;
  for (const Cell& cell : reader.next()) {
    for (const Column& other : columns)
      if (other.varied.key == cell.text) fail_input(input, cell.at, cell.text, {"stands twice", "every key once", {}});
    columns.push_back(make_column(input, cell, scenario));
  }
  if (columns.empty()) fail_input(input, {1, 1}, {}, {"is empty", "a header with keys, then one row per case", {}});
  std::size_t rows = 0;
  for (std::vector<Cell> row = reader.next(); !row.empty(); row = reader.next(), ++rows) {
    if (row.size() != columns.size())
      fail_input(input, row.back().at, {},
                 {"the row has " + std::to_string(row.size()) + " cells",
                  std::to_string(columns.size()) + ", as in the header",
                  {}});
    if (rows == max_sweep_cases) fail_input(input, row[0].at, {}, {"has more than 10 000 000 cases", "fewer", {}});
    for (std::size_t c = 0; c < row.size(); ++c) {
      if (row[c].text.empty())
        fail_input(input, row[c].at, columns[c].varied.key, {"is empty", columns[c].check->expectation(), {}});
      columns[c].varied.values.push_back((*columns[c].check)(row[c].text, input, row[c].at));
    }
  }
  if (rows == 0) fail_input(input, {1, 1}, {}, {"has no cases", "one row per case below the header", {}});
  std::vector<VariedInput> varied;
  for (Column& column : columns) varied.push_back(std::move(column.varied));
  return varied;
}

}  // namespace hoopfield
