// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Cases of a sweep as a CSV table: the header holds keys, each row a case, values carry units.
#pragma once

#include "sim/sweep/plan.hpp"

#include <string>
#include <vector>

namespace hoopfield {

/// Comma-separated, fields with commas in double quotes, a quote doubled inside; blank lines and lines that start with
/// # are skipped. Throws InputError or OutOfRange with the place.
/// \param fails_outside see VariedInput
[[nodiscard]] std::vector<VariedInput> read_case_table(const std::string& text, const std::string& name,
                                                       const Scenario& scenario, bool fails_outside = false);

}  // namespace hoopfield
