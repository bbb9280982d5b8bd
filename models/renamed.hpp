// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Names that were given up, and what the thing is called now. Every place that refuses an unknown name asks here
/// first.
#pragma once

#include <span>
#include <string_view>

namespace hoopfield {

struct Renamed {
  std::string_view before, now;
};

/// Keys of scenarios and names in JSON objects, result files and tables of layout 1. Ends of keys are listed where the
/// table before them does not matter.
[[nodiscard]] std::span<const Renamed> renamed_names();

/// The present name of `name`, in which a whole key, its last part or its last part with a unit was renamed; empty when
/// it was not.
[[nodiscard]] std::string_view renamed_to(std::string_view name);

}  // namespace hoopfield
