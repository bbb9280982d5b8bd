// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/case_table.hpp"

#include "models/error.hpp"
#include "models/parameter.hpp"
#include "sim/base/csv_rows.hpp"
#include "sim/sweep/input_checker.hpp"

#include <memory>
#include <string_view>

namespace hoopfield {
namespace {

struct Column {
  VariedInput varied;
  std::unique_ptr<InputChecker> check;
};

Column make_column(const InputText& input, const CsvCell& cell, const Scenario& scenario, bool fails_outside) {
  if (find_parameter(ParameterRoom::scenario, cell.text) == nullptr) {
    std::vector<std::string_view> keys;
    for (const Parameter& p : parameters(ParameterRoom::scenario)) keys.push_back(p.key);
    const std::string shown = cell.text.empty() ? "column without a name" : cell.text;
    fail_input(input, cell.at, shown, {"unknown key", "a scenario key in every column", nearest_key(cell.text, keys)});
  }
  return {{cell.text, {}, {}, {}, 0, fails_outside},
          std::make_unique<InputChecker>(scenario, cell.text, fails_outside)};
}

}  // namespace

std::vector<VariedInput> read_case_table(const std::string& text, const std::string& name, const Scenario& scenario,
                                         bool fails_outside) {
  const InputText input{name, text};
  check_utf8(input);
  CsvRows reader(input);
  std::vector<Column> columns;
  for (const CsvCell& cell : reader.next()) {
    for (const Column& other : columns)
      if (other.varied.key == cell.text)
        fail_input(input, cell.at, cell.text, {"is given twice", "every key once", {}});
    columns.push_back(make_column(input, cell, scenario, fails_outside));
  }
  if (columns.empty()) fail_input(input, {1, 1}, {}, {"is empty", "a header with keys, then one row per case", {}});
  std::size_t rows = 0;
  for (std::vector<CsvCell> row = reader.next(); !row.empty(); row = reader.next(), ++rows) {
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
