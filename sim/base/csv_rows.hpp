// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Rows of a CSV text with the place of every cell, for messages that name it.
#pragma once

#include "sim/base/input_text.hpp"
#include "sim/base/text_cursor.hpp"

#include <string>
#include <vector>

namespace hoopfield {

struct CsvCell {
  std::string text;
  Position at;
};

/// Splits a text into rows of cells. Commas between cells; a cell in double quotes may hold commas and line ends, a
/// doubled quote in it stands for one. Blank rows and lines that begin with # are passed over, as are a byte order mark
/// and blanks around cells. Columns count characters, not bytes.
class CsvRows {
 public:
  explicit CsvRows(const InputText& input);

  /// The next row with something in it; empty at the end. Throws InputError for a quote that is not closed and for text
  /// behind a closing quote.
  [[nodiscard]] std::vector<CsvCell> next();

 private:
  std::vector<CsvCell> read_row();
  CsvCell read_cell();
  CsvCell read_quoted();

  const InputText& input_;
  TextCursor cursor_;
};

}  // namespace hoopfield
