// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What can be read on a wrapped load or at the machine, how well, in what time and what can hurt who does.
#pragma once

#include "models/caution.hpp"

#include <span>
#include <string_view>

namespace hoopfield {

/// Declaration of one quantity of a readings file. Errors are half of the central 90 %, of one reading and of what all
/// readings of one instrument share; own assumptions until somebody measures theirs.
struct ReadingQuantity {
  std::string_view name;    ///< as in a readings file
  std::string_view unit;    ///< SI; empty for pure numbers
  std::string_view metric;  ///< unit people write
  std::string_view label;   ///< a few words
  double error = 0.0, common_error = 0.0;
  bool error_is_share = true;  ///< of the value; else in the SI unit
  double minutes = 0.0;        ///< of work, one reading, own assumption
  bool percent_due = false;    ///< a stretch, which needs its %
  bool zero_allowed = false;
  bool needs_height = false;
  bool is_of_wrap = false;  ///< a force of the film on the load, which scatters from load to load
  Measure measure = {};
};

/// All of them, in the order of the reference.
[[nodiscard]] std::span<const ReadingQuantity> reading_quantities();
/// Null for an unknown name.
[[nodiscard]] const ReadingQuantity* find_reading_quantity(std::string_view name);

}  // namespace hoopfield
