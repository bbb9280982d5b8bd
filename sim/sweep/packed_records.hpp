// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Finished cases as bytes, from one process to another of the same version.
#pragma once

#include "sim/sweep/layout.hpp"
#include "sim/sweep/sweep.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hoopfield {

/// Cases are numbered as in the whole sweep: `first_case` is added to their index.
[[nodiscard]] std::string pack_records(std::span<const CaseRecord> records, std::size_t first_case);

/// The records of a plan again, exactly. Throws InputError for bytes that do not hold what the plan asks for.
[[nodiscard]] std::vector<CaseRecord> unpack_records(std::string_view bytes, const SweepPlan& plan,
                                                     const SweepLayout& layout);

/// Predicts every case of a plan on `jobs` threads and packs what came of it.
[[nodiscard]] std::string compute_packed(const SweepPlan& plan, unsigned jobs);

}  // namespace hoopfield
