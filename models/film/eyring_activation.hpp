// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How little activation energy an Eyring branch may have.
#pragma once

namespace hoopfield {

/// `R Tref ln(2 100 s^-1/r)`, J/mol: flow stress grows in proportion to temperature, so with less a branch of rate r
/// (1/s) that flows at 100 1/s would flow more slowly when warm. Pinned by tests/unit/law_registry_test.cpp.
[[nodiscard]] double eyring_least_activation(double reference_rate, double reference_temperature);

}  // namespace hoopfield
