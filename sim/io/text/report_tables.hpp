// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The report as plain tables: for builds without the page, and for readers without scripts.
#pragma once

#include <string>
#include <string_view>

namespace hoopfield {

/// Text that may stand in HTML, in an element or in a quoted attribute.
[[nodiscard]] std::string html_text(std::string_view text);

}  // namespace hoopfield
