// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The resolved inputs as plain rows for the writers of results.
#pragma once

#include "sim/inputs/scenario.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace hoopfield {

/// One resolved input. `number` is in `unit` (SI); NaN when the value is a word, a list or absent, and `text` says it.
struct InputRow {
  std::string key, text, unit, origin, file;
  double number = 0.0;
  int line = 0;        ///< 1-based; 0 = not from a file
  bool whole = false;  ///< the number is a whole one by declaration
};

/// Every resolved input, in the order of the scenario file's reference.
[[nodiscard]] std::vector<InputRow> input_rows(const Scenario& scenario);

/// 64-bit FNV-1a over keys, exact values and film text, as 16 hexadecimal digits: equal inputs, equal hash, wherever
/// the files lie. It tells two runs apart; it protects nothing against forgery.
[[nodiscard]] std::string inputs_hash(const Scenario& scenario);

[[nodiscard]] std::string origin_name(Origin origin);

}  // namespace hoopfield
