// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/collected_sweep.hpp"

#include "sim/sweep/packed_records.hpp"
#include "sim/sweep/shard.hpp"

#include <algorithm>
#include <iterator>

namespace hoopfield {

namespace {

using Clock = std::chrono::steady_clock;

}  // namespace

CollectedSweep::CollectedSweep(const SweepPlan& plan, const SweepOptions& options, const FindSink& find_sink)
    : plan_(plan),
      options_(options),
      layout_(sweep_layout(plan_)),
      memory_(plan_, layout_, options.keep),
      sink_(open(find_sink)) {}

std::unique_ptr<SweepSink> CollectedSweep::open(const FindSink& find_sink) {
  const OpenSweepSink open_sink = find_sink ? find_sink(plan_, options_) : OpenSweepSink{};
  return open_sink ? open_sink(layout_, memory_, [] {}) : nullptr;
}

std::vector<CaseBlock> CollectedSweep::pending(std::size_t most) const {
  std::vector<CaseBlock> blocks;
  for (std::size_t i = 0; i < plan_.case_count(); ++i) {
    if (memory_.finished(i)) continue;
    const bool goes_on =
        !blocks.empty() && blocks.back().first + blocks.back().count == i && blocks.back().count < most;
    if (goes_on)
      ++blocks.back().count;
    else
      blocks.push_back({i, 1});
  }
  return blocks;
}

SweepPlan CollectedSweep::plan_of(const CaseBlock& block) const { return some_cases(plan_, block.first, block.count); }

void CollectedSweep::take(std::string_view packed) { add(unpack_records(packed, plan_, layout_)); }

void CollectedSweep::fail(const CaseBlock& block, const std::string& message) {
  std::vector<CaseRecord> records;
  for (std::size_t i = block.first; i < block.first + block.count; ++i)
    if (!memory_.finished(i)) records.push_back({i, CaseStatus::failed, message, {}, {}});
  add(std::move(records));
}

void CollectedSweep::add(std::vector<CaseRecord> records) {
  for (CaseRecord& record : records) {
    if (memory_.finished(record.index)) continue;  // a block that was given up may come back after all
    memory_.take(record);
    unsaved_.push_back(std::move(record));
  }
  if (unsaved_.size() >= cases_per_save || Clock::now() - saved_ > save_interval) save();
}

void CollectedSweep::save() {
  if (sink_ && !unsaved_.empty()) {
    std::sort(unsaved_.begin(), unsaved_.end(),
              [](const CaseRecord& a, const CaseRecord& b) { return a.index < b.index; });
    sink_->save(unsaved_);
  }
  unsaved_.clear();
  saved_ = Clock::now();
}

SweepProgress CollectedSweep::progress() const {
  return sweep_progress(plan_, memory_, std::chrono::duration<double>(Clock::now() - start_).count());
}

SweepResult CollectedSweep::finish() {
  const bool was_complete = sink_ && sink_->complete();
  save();
  memory_.result().stopped = memory_.result().finished < plan_.case_count();
  if (sink_ && !was_complete) {
    if (memory_.result().stopped)
      sink_->close();
    else
      sink_->commit();
  }
  sink_.reset();  // gives the lock of its journal back
  return memory_.finish();
}

}  // namespace hoopfield
