// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The page built from bindings/web, as it was embedded when this library was built.
#pragma once

#include <string>
#include <string_view>

namespace hoopfield {

/// The built page with the marks `@TITLE@`, `@UNITS@`, `@TABLES@` and `@DATA@` (once each); empty when it was not
/// built.
[[nodiscard]] const std::string& report_page();

/// Why there is no page in this build; empty when there is one.
[[nodiscard]] std::string_view report_page_absence();

}  // namespace hoopfield
