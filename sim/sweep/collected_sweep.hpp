// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A sweep whose cases are computed elsewhere and come back in blocks.
#pragma once

#include "sim/sweep/memory.hpp"
#include "sim/sweep/sweep.hpp"

#include <chrono>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace hoopfield {

/// Consecutive cases, by their place in the plan.
struct CaseBlock {
  std::size_t first = 0, count = 0;
};

/// Takes cases in any order and ends as compute_sweep() would have. One thread at a time may call it.
class CollectedSweep {
 public:
  /// What opens the sink of a plan and options, which live as long as the sink; nothing for a sweep in memory.
  using FindSink = std::function<OpenSweepSink(const SweepPlan&, const SweepOptions&)>;
  /// Opens the sink, which may hold finished cases already. Throws what that throws.
  CollectedSweep(const SweepPlan& plan, const SweepOptions& options, const FindSink& find_sink = {});
  CollectedSweep(const CollectedSweep&) = delete;
  CollectedSweep& operator=(const CollectedSweep&) = delete;

  /// What is not finished, in blocks of at most `most` cases.
  [[nodiscard]] std::vector<CaseBlock> pending(std::size_t most) const;
  /// The cases of a block as a plan.
  [[nodiscard]] SweepPlan plan_of(const CaseBlock& block) const;
  /// What compute_packed() made of a block, here or elsewhere. Throws InputError for anything else and IoError.
  void take(std::string_view packed);
  /// Records every case of a block that is not finished as failed.
  void fail(const CaseBlock& block, const std::string& message);
  [[nodiscard]] SweepProgress progress() const;
  /// Saves what came; puts the file in its place when all cases are finished, else leaves it to be resumed. The last
  /// call.
  [[nodiscard]] SweepResult finish();

 private:
  std::unique_ptr<SweepSink> open(const FindSink& find_sink);
  void add(std::vector<CaseRecord> records);
  void save();
  const SweepPlan plan_;
  const SweepOptions options_;
  const std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
  std::chrono::steady_clock::time_point saved_ = start_;
  const SweepLayout layout_;
  SweepMemory memory_;
  std::vector<CaseRecord> unsaved_;
  std::unique_ptr<SweepSink> sink_;
};

}  // namespace hoopfield
