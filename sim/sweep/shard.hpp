// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Shares of a sweep that are computed apart, on other machines or at other times.
#pragma once

#include "sim/sweep/plan.hpp"

#include <cstddef>
#include <string>

namespace hoopfield {

/// "3/16": the third of sixteen.
struct ShardNumber {
  std::size_t number = 0, count = 0;
};

/// Reads "3/16". Throws InputError for anything else.
[[nodiscard]] ShardNumber parse_shard(const std::string& text);

/// Consecutive cases of a plan as a plan of their own: the cases keep their numbers.
[[nodiscard]] SweepPlan some_cases(const SweepPlan& plan, std::size_t first, std::size_t count);

/// The cases of one shard: consecutive ones, as many in every shard as divides evenly, one more or less. Throws
/// InputError when there are fewer cases than shards.
[[nodiscard]] SweepPlan take_shard(const SweepPlan& plan, const ShardNumber& shard);

}  // namespace hoopfield
