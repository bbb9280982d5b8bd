// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Where records go: memory, and a file with its journal.
#pragma once

#include "sim/io/part_file.hpp"
#include "sim/sweep/journal.hpp"
#include "sim/sweep/sweep_file.hpp"

#include <optional>

namespace hoopfield {

/// Records of all cases in memory; turned into padded arrays at the end.
class SweepMemory {
 public:
  SweepMemory(const SweepPlan& plan, const SweepLayout& layout, bool keep);
  void take(const CaseRecord& record);
  [[nodiscard]] bool finished(std::size_t index) const { return result_.status[index] != CaseStatus::pending; }
  [[nodiscard]] SweepResult& result() { return result_; }
  /// Everything gathered; empties the memory.
  [[nodiscard]] SweepResult finish();

 private:
  void pad_array(std::size_t array, SweepOutput& output);
  const SweepLayout& layout_;
  bool keep_;
  SweepResult result_;
  std::vector<std::vector<Field>> arrays_;  // by array, then case
};

/// The file of a sweep on its way: `<file>.part` with `<file>.journal`.
class SweepStore {
 public:
  /// Finds what is there and starts or resumes; what is finished already goes to `memory`. Throws IoError.
  SweepStore(const SweepPlan& plan, const SweepLayout& layout, const SweepOptions& options, SweepMemory& memory);
  /// The file was complete before: nothing is left to do.
  [[nodiscard]] bool complete() const { return complete_; }
  /// Records sorted by case. After it returns they survive a kill. Throws IoError.
  void save(std::span<const CaseRecord> records);
  /// Closes a sweep that stops before its end.
  void close();
  /// Moves the part to its place and removes the journal.
  void commit();

 private:
  void refuse_leftovers() const;
  void check_disk() const;
  bool load_complete();
  void resume();
  /// False when there is no journal to copy from.
  bool copy_journal(SweepFileWriter& to, SweepFileReader* from);
  void copy_part(SweepFileWriter& to, SweepFileReader& from);
  const SweepPlan& plan_;
  const SweepLayout& layout_;
  const SweepOptions& options_;
  SweepMemory& memory_;
  std::filesystem::path file_, part_, journal_path_;
  std::optional<Journal> journal_;
  std::optional<SweepFileWriter> writer_;
  bool complete_ = false;
};

}  // namespace hoopfield
