// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The film files that come with hoopfield, built in so that they are there wherever the program is installed.
#pragma once

#include <string>
#include <vector>

namespace hoopfield {

/// Names without folder and extension, sorted: "general-film", ...
[[nodiscard]] std::vector<std::string> library_films();

/// Text of a film file by name. Throws InputError with the nearest name when there is none.
[[nodiscard]] std::string library_film(const std::string& name);

}  // namespace hoopfield
