// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/csv_rows.hpp"

#include <algorithm>

namespace hoopfield {
namespace {

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }

}  // namespace

CsvRows::CsvRows(const InputText& input) : input_(input), rest_(input.text) {
  if (rest_.starts_with("\xEF\xBB\xBF")) rest_.remove_prefix(3);  // mark that spreadsheets put first
}

std::vector<CsvCell> CsvRows::next() {
  while (!rest_.empty()) {
    if (const std::size_t mark = rest_.find_first_not_of(" \t"); mark != std::string_view::npos && rest_[mark] == '#') {
      rest_.remove_prefix(std::min(rest_.find('\n'), rest_.size()));
      if (!rest_.empty()) take();
      continue;
    }
    std::vector<CsvCell> row = read_row();
    if (row.size() > 1 || !row.front().text.empty()) return row;
  }
  return {};
}

char CsvRows::take() {
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

std::vector<CsvCell> CsvRows::read_row() {
  std::vector<CsvCell> row;
  for (;;) {
    row.push_back(read_cell());
    if (rest_.empty()) return row;
    if (take() == '\n') return row;
  }
}

CsvCell CsvRows::read_cell() {
  while (!rest_.empty() && (rest_.front() == ' ' || rest_.front() == '\t')) take();
  if (!rest_.empty() && rest_.front() == '"') return read_quoted();
  CsvCell cell{{}, at_};
  while (!rest_.empty() && rest_.front() != ',' && rest_.front() != '\n') cell.text += take();
  while (!cell.text.empty() && is_blank(cell.text.back())) cell.text.pop_back();
  return cell;
}

CsvCell CsvRows::read_quoted() {
  CsvCell cell{{}, at_};
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
  while (!rest_.empty() && is_blank(rest_.front())) take();
  if (!rest_.empty() && rest_.front() != ',' && rest_.front() != '\n')
    fail_input(input_, at_, {}, {"text after a closing quote", "a comma", {}});
  return cell;
}

}  // namespace hoopfield
