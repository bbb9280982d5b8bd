// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// From columns, conditions and numbers to a curve; where the numbers come from is for others.
#pragma once

#include "sim/film_lab/lab_columns_detail.hpp"
#include "sim/film_lab/lab_rows_detail.hpp"
#include "sim/film_lab/lab_settings_detail.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hoopfield::detail {

/// Rows that were left out or repaired, and the first of them.
struct Tally {
  std::size_t rows = 0;
  int first = 0;
  void count(int line) {
    if (rows++ == 0) first = line;
  }
};

class CurveBuilder {
 public:
  /// Throws InputError when the columns or the settings are not enough for a curve. `line`: of the names; `names`: as
  /// written. `row_word`: what rows are counted in, "line" or "row".
  CurveBuilder(const InputText& input, const LabSettings& settings, std::vector<LabColumn> columns, int line,
               std::string_view names, const char* row_word, LabCurve& curve);

  [[nodiscard]] const std::vector<LabColumn>& columns() const { return columns_; }
  /// One row, SI, a number or nothing per column.
  void add(const std::vector<std::optional<double>>& values, int line);
  Tally commas, units, cut;
  /// Repairs the rows and hands them to the curve.
  void finish();

 private:
  [[nodiscard]] bool has(LabMeaning meaning) const { return has_column(columns_, meaning); }
  void use_settings(int line);
  [[nodiscard]] RowFacts facts(int line) const;

  const InputText& input_;
  const LabSettings& settings_;
  std::vector<LabColumn> columns_;
  int line_;
  const char* row_word_;
  LabCurve& curve_;
  std::vector<LabRow> rows_;
  double grip_ = 1.0, section_ = 1.0, rate_ = 1.0;
  Tally missing_;
};

}  // namespace hoopfield::detail
