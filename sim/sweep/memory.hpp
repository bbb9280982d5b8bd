// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The results of a sweep in memory.
#pragma once

#include "sim/sweep/layout.hpp"
#include "sim/sweep/sweep.hpp"

#include <chrono>
#include <cstddef>
#include <vector>

namespace hoopfield {

/// Finished cases are saved when so many have gathered, or after so long.
inline constexpr std::size_t cases_per_save = 256;
inline constexpr auto save_interval = std::chrono::seconds(1);

/// Records of all cases in memory; turned into padded arrays at the end.
class SweepMemory {
 public:
  SweepMemory(const SweepPlan& plan, const SweepLayout& layout, bool keep);
  void take(const CaseRecord& record);
  /// The case counts as pending again.
  void drop(const CaseRecord& record);
  [[nodiscard]] bool finished(std::size_t index) const { return result_.status[index] != CaseStatus::pending; }
  [[nodiscard]] SweepResult& result() { return result_; }
  [[nodiscard]] const SweepResult& result() const { return result_; }
  /// Everything gathered; empties the memory.
  [[nodiscard]] SweepResult finish();

 private:
  void pad_array(std::size_t array, SweepOutput& output);
  const SweepLayout& layout_;
  bool keep_;
  SweepResult result_;
  std::vector<std::vector<Field>> arrays_;  // by array, then case
};

}  // namespace hoopfield
