// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Columns of a curve file, from the names in its header.
#pragma once

#include "sim/base/csv_rows.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace hoopfield::detail {

inline constexpr const char* curve_header_expected =
    "stretch_percent or displacement_mm, force_N or stress_MPa, and time_s, one name per column";

enum class LabMeaning { none, stretch, displacement, force, stress, time };

struct LabColumn {
  LabMeaning meaning = LabMeaning::none;
  std::string text;  ///< as written
  std::string si_unit;
  double factor = 1.0;  ///< SI = number * factor + offset
  double offset = 0.0;
};

/// What a name says; meaning none for a column that no curve needs. Throws InputError for a name that is nearly known
/// and for a unit that is missing or of another kind.
[[nodiscard]] LabColumn read_lab_column(const InputText& input, const CsvCell& cell);

[[nodiscard]] bool has_column(const std::vector<LabColumn>& columns, LabMeaning meaning);

/// Throws InputError unless there is one stretch and one force; `header` is the line as written.
void check_lab_columns(const InputText& input, int line, const std::vector<LabColumn>& columns,
                       std::string_view header);

}  // namespace hoopfield::detail
