// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Rows of a CSV text with the place of every cell, for messages that name it.
#pragma once

#include "sim/base/input_text.hpp"
#include "sim/base/text_cursor.hpp"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace hoopfield {

struct CsvCell {
  std::string text;
  Position at;
};

/// Splits a text into rows of cells. Commas, or another sign, between cells; a cell in double quotes may hold that sign
/// and line ends, a doubled quote in it stands for one. Blank rows and lines that begin with # are passed over, as are
/// a byte order mark and blanks around cells. Columns count characters, not bytes.
class CsvRows {
 public:
  /// Is told the text behind the # of a line that is passed over, and its place.
  using Remark = std::function<void(std::string_view text, Position at)>;

  explicit CsvRows(const InputText& input, Remark remark = {});

  /// The next row with something in it; empty at the end. Throws InputError for a quote that is not closed and for text
  /// behind a closing quote.
  [[nodiscard]] std::vector<CsvCell> next();

  /// The line at which the next row begins, to choose the separator by; empty at the end.
  [[nodiscard]] std::string_view line_ahead();
  /// Where the next thing to be read stands.
  [[nodiscard]] Position ahead() const { return cursor_.position(); }
  /// Passes over the rest of the line, whatever is in it.
  void pass_line();
  void separate_by(char separator) { separator_ = separator; }
  [[nodiscard]] bool at_end() const { return cursor_.at_end(); }

 private:
  void pass_remarks();
  [[nodiscard]] bool blank_ahead() const;
  std::vector<CsvCell> read_row();
  CsvCell read_cell();
  CsvCell read_quoted();

  const InputText& input_;
  TextCursor cursor_;
  Remark remark_;
  char separator_ = ',';
};

}  // namespace hoopfield
