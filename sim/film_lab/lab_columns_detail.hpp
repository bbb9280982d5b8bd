// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Columns of a curve, from the names above a table.
#pragma once

#include "sim/base/csv_rows.hpp"
#include "sim/film_lab/lab_names_detail.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace hoopfield::detail {

inline constexpr const char* curve_header_expected =
    "stretch_percent or displacement_mm, force_N or stress_MPa, and time_s, one name per column";

struct LabColumn {
  LabMeaning meaning = LabMeaning::none;
  std::string text;  ///< as written
  std::string si_unit;
  double factor = 1.0;  ///< SI = number * factor + offset
  double offset = 0.0;
};

/// What a name says, with the cell of a row of units below it when there is one; meaning none for a column that no
/// curve needs. Throws InputError for a name that is nearly known and for a unit that is missing or of another kind.
[[nodiscard]] LabColumn read_lab_column(const InputText& input, const CsvCell& cell, const CsvCell* unit = nullptr);

[[nodiscard]] bool has_column(const std::vector<LabColumn>& columns, LabMeaning meaning);

/// Throws InputError unless there is one stretch and one force; `header` is the line as written.
void check_lab_columns(const InputText& input, int line, const std::vector<LabColumn>& columns,
                       std::string_view header);

}  // namespace hoopfield::detail
