// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A report as one HTML file that opens without a network.
#pragma once

#include "sim/io/text/report_data.hpp"

#include <filesystem>
#include <string>

namespace hoopfield {

/// The report as HTML: the built page with its data, or plain tables that say why there is no page. Same inputs, same
/// bytes. Throws InputError for no side or more than `most_report_sides`.
[[nodiscard]] std::string report_html(const ReportInput& input);

/// The page made from a template as report_page() gives it; an empty one gives the plain tables with `absence` as the
/// reason.
[[nodiscard]] std::string report_html(const ReportInput& input, const std::string& page, std::string_view absence);

/// Writes report_html() whole or not at all. Throws IoError, also for a file that exists without `overwrite`.
void write_report(const std::filesystem::path& target, const ReportInput& input, bool overwrite);

}  // namespace hoopfield
