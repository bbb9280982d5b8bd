// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Shards of a sweep put together.
#pragma once

#include "sim/sweep/sweep.hpp"

#include <filesystem>
#include <vector>

namespace hoopfield {

/// Writes the file that one process would have written from the files of all its shards, in any order.
/// Throws InputError when they are not all shards of one sweep, once each and finished, naming which are not, and
/// IoError for files that cannot be read or written; nothing is written then. The result has the status of every case;
/// its data are in the file only.
[[nodiscard]] SweepResult merge_sweeps(const std::vector<std::filesystem::path>& shards,
                                       const std::filesystem::path& file, bool overwrite = false);

}  // namespace hoopfield
