// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A comparison as one JSON object and as one table.
#pragma once

#include "sim/compare/compare.hpp"
#include "sim/io/text/json_writer.hpp"

#include <optional>
#include <string>

namespace hoopfield {

/// One JSON object, UTF-8, keys in a fixed order, no NaN (null and a warning "not-finite").
/// - `schema`, `kind` = "comparison", `version`, `mode` {`same`, `best_prestretch`, `break_share`, `text`};
/// - `measures` {`containment`, `cost`}: names of the quantities dominance judges by, null when there is none;
/// - `quantities`: list of {`name` (as in `numbers`), `unit` (of that number; "money" = the currency), `long_name`,
///   `short_name`};
/// - `sides`: list, the present wrap first, of {`name`, `title`, `file`, `kind` "predicted" or "measured",
///   `status` "done" or "failed", `message`, `numbers` {name: number; absent when not known}, `against_present` {name:
///   {`difference`, `ratio`}}, `adjustments`, `dominates`, `dominated_by` (indices), `warnings` (all of this side),
///   `prediction` (the whole object of `predict --json`, null for measured and failed sides), `readings` (null for
///   others)};
/// - `differences`: list of {`candidate` (index), `total` {name: number}, `factors` list of {`factor`, `keys`,
/// `forward`,
///   `reverse`, `mean` {name: number or null when an order is missing}}, `forward_message`, `reverse_message`};
/// - `warnings`: of the comparison as a whole.
[[nodiscard]] std::string comparison_json(const Comparison& comparison,
                                          const std::optional<RunInfo>& run_info = std::nullopt);

/// One row per side, one column per quantity, units in the header names; an empty cell where there is no value.
[[nodiscard]] std::string comparison_csv(const Comparison& comparison);

}  // namespace hoopfield
