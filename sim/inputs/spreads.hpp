// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The table [uncertainty]: how well a user says each input is known.
#pragma once

#include "sim/base/raw_node.hpp"
#include "sim/inputs/inputs.hpp"

#include <string>

namespace hoopfield::detail {

/// One entry: "3 %", "1 um", "5 points", ["20 um", "26 um"], "exact", "as declared"; for film.file "exact" or
/// "as fitted". Throws InputError or OutOfRange with the place in `input`.
[[nodiscard]] InputSpread read_spread(const InputText& input, const std::string& key, const RawNode& node);

/// The whole table; keys may stand in quotes ("film.thickness") or as tables (film.thickness).
void read_spreads(const InputText& input, const RawNode& table, SpreadMap& spreads);

/// What involves the values: a key without a value, a value outside of its range. Throws as above.
void check_spreads(const Scenario& scenario);

/// True when an entry states an error or a range, so that a given value counts as measured.
[[nodiscard]] bool states_error(const InputSpread& spread);

}  // namespace hoopfield::detail
