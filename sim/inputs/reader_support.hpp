// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What the scenario reader and the film reader share: known keys, missing keys, origins.
#pragma once

#include "models/parameter.hpp"
#include "sim/base/raw_node.hpp"
#include "sim/inputs/scenario.hpp"

#include <string>
#include <string_view>

namespace hoopfield {

/// A value with its origin: written plainly (given) or as `{ value = ..., origin = "measured" }`.
struct WrittenValue {
  const RawNode* node = nullptr;  ///< null when the key is absent
  Origin origin = Origin::assumed;
};

/// "given", "measured", "fitted" or "assumed".
[[nodiscard]] std::string_view origin_word(Origin origin);

/// Throws InputError for the first key of the file that has no declaration, or stands where a table is due.
void check_known_keys(const InputText& input, const RawNode& root, ParameterRoom room);

/// Finds "a.b.c" below a table. Throws InputError for an origin table that is not well formed.
[[nodiscard]] WrittenValue find_written(const InputText& input, const RawNode& root, std::string_view key);

/// Complains that a required key is missing, at the header of the deepest table that is there.
/// \param shown_key key as shown in the message, e.g. "branch[2].modulus"
[[noreturn]] void fail_missing(const InputText& input, const RawNode& root, std::string_view key,
                               const std::string& shown_key, const std::string& expected);

}  // namespace hoopfield
