// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The report as plain tables: for builds without the page, and for readers without scripts.
#pragma once

#include <string>
#include <string_view>

namespace hoopfield {

/// Text that may stand in HTML, in an element or in a quoted attribute.
[[nodiscard]] std::string html_text(std::string_view text);

/// The content of report_json() as headings and tables, in the same order as the page, without pictures.
/// \param with_inputs every input of every side too
[[nodiscard]] std::string plain_tables(const std::string& report_json, bool with_inputs);

}  // namespace hoopfield
