// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How deep a TOML text nests, looked at before the parser, which calls itself once for every level.
#pragma once

#include "sim/base/input_text.hpp"

namespace hoopfield {

/// Levels that one key with dots, or brackets within brackets, may have. Declared keys have four at most.
inline constexpr int max_toml_levels = 32;

/// Throws InputError at the first key with more parts, or bracket at a deeper level, than `max_toml_levels`. A text
/// that is no TOML passes: the parser has better words for what is wrong with it. Memory and time are those of one
/// reading.
void check_toml_depth(const InputText& input);

}  // namespace hoopfield
