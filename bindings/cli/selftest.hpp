// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Closed forms against what this very binary computes.
#pragma once

#include <string>
#include <vector>

namespace hoopfield::cli {

/// One comparison. It fails when |found - expected| > tolerance * max(|expected|, scale) or found is not finite.
struct SelfCheck {
  std::string name;
  std::string formula;
  double expected = 0.0;
  double found = 0.0;
  double tolerance = 0.0;  ///< relative
  std::string unit;
  double scale = 0.0;  ///< least size the tolerance refers to
  [[nodiscard]] bool passed() const;
};

/// Film law: network, relaxation of one branch, steady flow; draw and width.
[[nodiscard]] std::vector<SelfCheck> film_checks();
/// Geometry of the wrap: take-up, pattern; load: layers on a giving load, creep; whole prediction on a rigid load.
[[nodiscard]] std::vector<SelfCheck> wrap_checks();
/// Units and files.
[[nodiscard]] std::vector<SelfCheck> edge_checks();

[[nodiscard]] std::string selftest_text(const std::vector<SelfCheck>& checks);

}  // namespace hoopfield::cli
