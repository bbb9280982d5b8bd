// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film files (TOML) to film descriptions.
#pragma once

#include "models/film/description.hpp"
#include "sim/base/input_text.hpp"
#include "sim/inputs/inputs.hpp"

#include <string>
#include <vector>

namespace hoopfield {

/// Reads and validates a film file. Throws IoError when it cannot be read, InputError or OutOfRange (with the place)
/// when it cannot be used.
[[nodiscard]] FilmDescription read_film(const std::string& path);

/// The same for a text; `input.name` is shown in messages. Every value read or assumed is appended to `values` when
/// given, branches as "branch[1].modulus".
[[nodiscard]] FilmDescription read_film_text(const InputText& input, std::vector<ResolvedValue>* values = nullptr);

}  // namespace hoopfield
