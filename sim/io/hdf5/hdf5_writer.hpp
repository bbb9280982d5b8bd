// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The result file: HDF5 that labelled-array tools open as it is.
#pragma once

#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <filesystem>
#include <string>

namespace hoopfield {

/// Root: `time` (s, 0 = end of wrapping), `turn`, `face`, `height`, `film_layer` and the fields on them; groups
/// `summary`, `span`, `stations`, `film_path`, `transit` (slow pushes alone), `inputs`. Every axis is a dimension
/// scale, every number carries `units`, missing values are NaN. The same inputs on the same build give the same bytes.
/// Throws IoError when a field's shape does not fit its axes.
[[nodiscard]] std::string hdf5_bytes(const Scenario& scenario, const Result& result);

/// Writes `hdf5_bytes` to `<path>.part`, forces it to the disk and moves it over `path`: no reader sees half a file.
/// Throws IoError: existing file without `overwrite`, no such folder, no permission, disk full. Nothing is left behind
/// then.
void write_hdf5(const std::filesystem::path& path, const Scenario& scenario, const Result& result, bool overwrite);

}  // namespace hoopfield
