// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Files to the sides of a comparison.
#pragma once

#include "sim/compare/compare.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace hoopfield {

/// A scenario file, or one with `kind = "measured"`. Throws IoError and InputError as the readers of the two do.
[[nodiscard]] CompareSide read_side(const std::string& path);

/// One side for each file. Throws InputError for a number of sides that compare() refuses before anything is read.
[[nodiscard]] std::vector<CompareSide> read_sides(const std::vector<std::string>& paths);

/// Films alone: every film in the same scenario, its width and thickness included. The first is the present wrap.
/// Throws as read_scenario and read_film.
[[nodiscard]] std::vector<CompareSide> read_film_sides(const std::vector<std::string>& film_paths,
                                                       const std::string& scenario_path);

/// Every file a side was read from.
[[nodiscard]] std::vector<std::filesystem::path> files_of(const CompareSide& side);

}  // namespace hoopfield
