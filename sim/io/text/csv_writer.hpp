// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The result as plain tables.
#pragma once

#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace hoopfield {

/// Writes hoop_tension.csv, buildup.csv, layers.csv, stations.csv, span.csv, film_path.csv and inputs.csv to a folder
/// (made when it is not there). One observation per row, units in the header names, numbers read back to the same
/// double, an empty cell where there is no value. All are written in full before the first is moved into place. Throws
/// IoError as write_hdf5 does.
void write_csv(const std::filesystem::path& folder, const Scenario& scenario, const Result& result, bool overwrite);

/// One table of `write_csv` and the name of its file.
struct CsvTable {
  std::string name, text;
};

/// The names of the tables, and the tables themselves.
[[nodiscard]] std::vector<std::string> csv_table_names();
[[nodiscard]] std::vector<CsvTable> csv_tables(const Scenario& scenario, const Result& result);

}  // namespace hoopfield
