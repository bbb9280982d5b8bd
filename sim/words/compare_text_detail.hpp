// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Parts of the page of `compare`; private to compare_text.cpp and compare_tables.cpp.
#pragma once

#include "sim/words/compare_text.hpp"

#include <string>

namespace hoopfield::words::compare_page {

/// "[2] thin film": the place in the table and the name.
[[nodiscard]] std::string tag(const Comparison& comparison, std::size_t side);

/// Unit in which a quantity is shown; money keeps its number.
[[nodiscard]] DisplayUnit unit_of(const CompareQuantity& quantity, UnitStyle style);

/// The numbers, the present wrap beside up to three candidates at a time.
[[nodiscard]] std::string tables(const Comparison& comparison, const PrintStyle& style);

/// All sides, the one that contains most first: containment, film and cost. For more sides than sentences can be read
/// of.
[[nodiscard]] std::string ranking(const Comparison& comparison, const PrintStyle& style);

/// One factor at a time, for every candidate.
[[nodiscard]] std::string why(const Comparison& comparison, const PrintStyle& style);

}  // namespace hoopfield::words::compare_page
