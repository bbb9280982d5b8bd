// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/shard.hpp"

#include "sim/base/input_text.hpp"

#include <algorithm>
#include <charconv>

namespace hoopfield {
namespace {

template <typename Value>
std::vector<Value> part_of(const std::vector<Value>& all, std::size_t first, std::size_t count) {
  if (all.empty()) return {};
  const auto begin = all.begin() + static_cast<std::ptrdiff_t>(first);
  return {begin, begin + static_cast<std::ptrdiff_t>(count)};
}

/// A whole number without a sign, at `text`; moves it on.
bool take_number(std::string_view& text, std::size_t& number) {
  const auto [end, code] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (code != std::errc{}) return false;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return true;
}

}  // namespace

ShardNumber parse_shard(const std::string& text) {
  ShardNumber shard;
  std::string_view rest = text;
  const bool read = take_number(rest, shard.number) && rest.starts_with('/');
  if (read) rest.remove_prefix(1);
  if (!read || !take_number(rest, shard.count) || !rest.empty())
    fail_input({}, {}, "shard", {"\"" + text + "\" is no shard", "I/N such as 3/16, the third of sixteen", {}});
  if (shard.number < 1 || shard.number > shard.count)
    fail_input({}, {}, "shard",
               {"there is no shard " + text,
                "a number from 1 to " + std::to_string(std::max<std::size_t>(shard.count, 1)) + " before the slash",
                {}});
  return shard;
}

SweepPlan some_cases(const SweepPlan& plan, std::size_t first, std::size_t count) {
  SweepPlan part = plan;
  for (SweepAxis& axis : part.axes) {
    axis.numbers = part_of(axis.numbers, first, count);
    axis.texts = part_of(axis.texts, first, count);
  }
  part.first_case = plan.first_case + first;
  return part;
}

SweepPlan take_shard(const SweepPlan& plan, const ShardNumber& shard) {
  const std::size_t cases = plan.case_count();
  if (shard.count > cases)
    fail_input({}, {}, "shard",
               {"a sweep of " + std::to_string(cases) + " cases has no " + std::to_string(shard.count) + " shards",
                "as many shards as cases, or fewer",
                {}});
  // Products stay far below 2^64: both factors are below the greatest number of cases.
  const std::size_t first = cases * (shard.number - 1) / shard.count, last = cases * shard.number / shard.count;
  SweepPlan part = some_cases(plan, first, last - first);
  part.shard = SweepShard{shard.number, shard.count, cases, sweep_hash(plan)};
  return part;
}

}  // namespace hoopfield
