// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/csv_rows.hpp"

#include "models/text.hpp"

#include <algorithm>
#include <utility>

namespace hoopfield {
namespace {

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }

const char* separator_name(char separator) {
  return separator == ',' ? "a comma" : separator == ';' ? "a semicolon" : "a tab";
}

}  // namespace

CsvRows::CsvRows(const InputText& input, Remark remark)
    : input_(input), cursor_(input.text), remark_(std::move(remark)) {
  if (cursor_.rest().starts_with("\xEF\xBB\xBF")) cursor_.skip(3);  // mark that spreadsheets put first
}

void CsvRows::pass_remarks() {
  while (!cursor_.at_end()) {
    const std::string_view rest = cursor_.rest();
    const std::size_t mark = rest.find_first_not_of(" \t");
    if (mark == std::string_view::npos || rest[mark] != '#') return;
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    if (remark_) remark_(rest.substr(mark + 1, end - mark - 1), cursor_.position());
    pass_line();
  }
}

std::vector<CsvCell> CsvRows::next() {
  for (pass_remarks(); !cursor_.at_end(); pass_remarks()) {
    std::vector<CsvCell> row = read_row();
    if (row.size() > 1 || !row.front().text.empty()) return row;
  }
  return {};
}

std::string_view CsvRows::line_ahead() {
  for (pass_remarks(); !cursor_.at_end(); pass_remarks()) {
    const std::string_view line = cursor_.rest().substr(0, cursor_.rest().find('\n'));
    if (!trim(line).empty()) return trim(line);
    pass_line();
  }
  return {};
}

void CsvRows::pass_line() {
  cursor_.skip(std::min(cursor_.rest().find('\n'), cursor_.rest().size()));
  if (!cursor_.at_end()) cursor_.take();
}

std::vector<CsvCell> CsvRows::read_row() {
  std::vector<CsvCell> row;
  for (;;) {
    row.push_back(read_cell());
    if (cursor_.at_end()) return row;
    if (cursor_.take() == '\n') return row;
  }
}

bool CsvRows::blank_ahead() const {
  return !cursor_.at_end() && !cursor_.at(separator_) && is_blank(cursor_.rest().front());
}

CsvCell CsvRows::read_cell() {
  while (blank_ahead()) cursor_.take();
  if (cursor_.at('"')) return read_quoted();
  CsvCell cell{{}, cursor_.position()};
  while (!cursor_.at_end() && !cursor_.at(separator_) && !cursor_.at('\n')) cell.text += cursor_.take();
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
  while (blank_ahead()) cursor_.take();
  if (!cursor_.at_end() && !cursor_.at(separator_) && !cursor_.at('\n'))
    fail_input(input_, cursor_.position(), {}, {"text after a closing quote", separator_name(separator_), {}});
  return cell;
}

}  // namespace hoopfield
