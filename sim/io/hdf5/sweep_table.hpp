// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The numbers of a sweep file as tables: read case by case, so that memory does not grow with the cases.
#pragma once

#include "sim/io/hdf5/sweep_head.hpp"

#include <filesystem>
#include <functional>

namespace hoopfield {

/// Calls `visit(record)` for every finished case of a sweep file, without its fields, in order. `cases` and `layout`
/// are those of read_sweep_head(); of the layout any outputs may be left out. Throws IoError.
void visit_cases(const std::filesystem::path& path, std::size_t cases, const SweepLayout& layout,
                 const std::function<void(const CaseRecord&)>& visit);

/// Writes one line per finished case: its number, status, message, varied inputs and single numbers, units in the
/// header names, numbers as in the JSON object of a prediction, inputs in the metric units people write. An empty cell
/// where there is no value. Throws IoError.
void write_sweep_csv(const std::filesystem::path& sweep, const std::filesystem::path& csv, bool overwrite);

}  // namespace hoopfield
