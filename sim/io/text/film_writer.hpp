// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film descriptions to film files (TOML).
#pragma once

#include "models/film/description.hpp"

#include <string>
#include <vector>

namespace hoopfield {

/// A film file that `read_film` reads back to the same numbers (seven digits). `remarks` become comment lines on top.
/// Any law but a tabulated curve, for which it throws InputError.
[[nodiscard]] std::string film_text(const FilmDescription& film, const std::vector<std::string>& remarks = {});

}  // namespace hoopfield
