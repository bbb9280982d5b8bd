// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/csv_rows.hpp"

#include <algorithm>

namespace hoopfield {
namespace {

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }

}  // namespace

CsvRows::CsvRows(const InputText& input) : input_(input), cursor_(input.text) {
  if (cursor_.rest().starts_with("\xEF\xBB\xBF")) cursor_.skip(3);  // mark that spreadsheets put first
}

std::vector<CsvCell> CsvRows::next() {
  while (!cursor_.at_end()) {
    const std::string_view rest = cursor_.rest();
    if (const std::size_t mark = rest.find_first_not_of(" \t"); mark != std::string_view::npos && rest[mark] == '#') {
      cursor_.skip(std::min(rest.find('\n'), rest.size()));
      if (!cursor_.at_end()) cursor_.take();
      continue;
    }
    std::vector<CsvCell> row = read_row();
    if (row.size() > 1 || !row.front().text.empty()) return row;
  }
  return {};
}

std::vector<CsvCell> CsvRows::read_row() {
  std::vector<CsvCell> row;
  for (;;) {
    row.push_back(read_cell());
    if (cursor_.at_end()) return row;
    if (cursor_.take() == '\n') return row;
  }
}

CsvCell CsvRows::read_cell() {
  while (cursor_.at(' ') || cursor_.at('\t')) cursor_.take();
  if (cursor_.at('"')) return read_quoted();
  CsvCell cell{{}, cursor_.position()};
  while (!cursor_.at_end() && !cursor_.at(',') && !cursor_.at('\n')) cell.text += cursor_.take();
  while (!cell.text.empty() && is_blank(cell.text.back())) cell.text.pop_back();
  return cell;
}

CsvCell CsvRows::read_quoted() {
  CsvCell cell{{}, cursor_.position()};
  cursor_.take();
  for (;;) {
    if (cursor_.at_end()) fail_input(input_, cell.at, {}, {"a quote is not closed", "a second \"", {}});
    const char c = cursor_.take();
    if (c != '"') {
      cell.text += c;
    } else if (cursor_.at('"')) {
      cell.text += cursor_.take();
    } else {
      break;
    }
  }
  while (!cursor_.at_end() && is_blank(cursor_.rest().front())) cursor_.take();
  if (!cursor_.at_end() && !cursor_.at(',') && !cursor_.at('\n'))
    fail_input(input_, cursor_.position(), {}, {"text after a closing quote", "a comma", {}});
  return cell;
}

}  // namespace hoopfield
