// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The file of a sweep with its journal.
#pragma once

#include "sim/io/hdf5/sweep_file.hpp"
#include "sim/io/hdf5/sweep_journal.hpp"
#include "sim/io/text/part_file.hpp"
#include "sim/sweep/memory.hpp"

#include <optional>

namespace hoopfield {

/// The file of a sweep on its way: `<file>.part` with `<file>.journal`.
class SweepStore : public SweepSink {
 public:
  /// Finds what is there and starts or resumes; what is finished already goes to `memory`. Throws IoError.
  SweepStore(const SweepPlan& plan, const SweepLayout& layout, const SweepOptions& options, SweepMemory& memory,
             const SweepPulse& pulse);
  ~SweepStore() override;
  [[nodiscard]] bool complete() const override { return complete_; }
  void save(std::span<const CaseRecord> records) override;
  void close() override;
  /// Moves the part to its place and removes the journal.
  void commit() override;

 private:
  [[nodiscard]] bool part_is_ours() const;
  void refuse_leftovers() const;
  void remove_stale() const;
  void open_fresh();
  void place_fresh();
  void start();
  void forget_start() noexcept;
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
  const SweepPulse pulse_;
  std::filesystem::path file_, part_, journal_path_, fresh_;
  std::optional<Journal> journal_;
  std::optional<SweepFileWriter> writer_;
  bool complete_ = false, started_ = false, kept_ = false;
};

}  // namespace hoopfield
