// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The object of a report on its way to the page and the tables. Private to sim.
#pragma once

#include "sim/io/text/detail/json_parts.hpp"
#include "sim/io/text/report_data.hpp"

#include <string>
#include <vector>

namespace hoopfield::detail {

/// What report_json() prints, as an object.
[[nodiscard]] Json report_object(const ReportInput& input);

/// UTF-8 without line breaks; text that is not UTF-8 has its bad bytes replaced.
[[nodiscard]] std::string report_text(const Json& object);

/// The content of a report's object as headings and tables, in the same order as the page, without pictures.
/// \param with_inputs every input of every side too
[[nodiscard]] std::string plain_tables(const Json& report, bool with_inputs);

/// Label and amount of everything the object `cost` of a summary holds, money with its currency.
[[nodiscard]] std::vector<std::vector<std::string>> cost_rows(const Json& summary, bool inch_pound);

/// How numbers of each kind that the page tells apart are shown in metric and inch-pound units, by the table of units:
/// `{"tension": {"metric": {"unit", "factor", "offset"}, "inch_pound": {...}}}`, shown = number * factor + offset.
[[nodiscard]] Json report_kinds();

}  // namespace hoopfield::detail
