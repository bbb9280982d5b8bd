// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Everything a report shows, as one JSON object.
#pragma once

#include "sim/compare/compare.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <memory>
#include <span>
#include <string>
#include <vector>

namespace hoopfield {

/// One column of a report: a prediction, or why there is none.
struct ReportSide {
  std::string name;
  std::shared_ptr<const Scenario> scenario;  ///< null when it could not be read
  std::shared_ptr<const Result> result;      ///< null when it failed; then `message` says why
  std::string message = {};
  bool measured = false;  ///< known by readings only: neither scenario nor result, and nothing failed
};

/// What a page is made from. One side is a prediction; two and more are a comparison, the first being the present one.
struct ReportInput {
  std::vector<ReportSide> sides;
  bool inch_pound = false;                            ///< units shown first; the page holds both
  std::shared_ptr<const Comparison> comparison = {};  ///< null for a prediction
  std::string comparison_json = {};  ///< what `compare --json` printed, where only that was kept; else empty
};

inline constexpr std::size_t most_report_sides = most_compared_sides;

/// One validation case as the page lists it, from validation/VALIDATION.md at build time.
struct ValidationLine {
  const char* title;
  const char* label;
  const char* result;
};
[[nodiscard]] std::span<const ValidationLine> validation_lines();

/// What must stand under every report. The same words on the page and in the plain tables.
[[nodiscard]] std::vector<std::string> report_cautions(const std::vector<ReportSide>& sides);

/// One JSON object (UTF-8, no line breaks): what the head of the page says under "report" ("" where no side says it;
/// the first side that does speaks for all); per side the summary of `predict --json` under "summary" (all but its
/// inputs), the numbers of the pictures under "detail" (arrays to five digits, times to nine), the inputs as people
/// write them under "inputs". Not-finite numbers are null. Throws InputError for no side or more than
/// `most_report_sides`.
[[nodiscard]] std::string report_json(const ReportInput& input);

/// JSON text that may stand inside a script element: no "<", ">", "&", U+2028 or U+2029 is left as itself.
[[nodiscard]] std::string script_safe(const std::string& json);

}  // namespace hoopfield
