// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A comparison as the sides of a report.
#pragma once

#include "sim/compare/compare.hpp"
#include "sim/io/text/report_data.hpp"

namespace hoopfield {

/// Sides in the order of the comparison, failed and measured ones included, with the comparison's own object beside
/// them.
[[nodiscard]] ReportInput report_input(const Comparison& comparison, bool inch_pound);

}  // namespace hoopfield
