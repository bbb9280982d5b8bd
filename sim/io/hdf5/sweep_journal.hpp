// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Text journal of a running sweep: what a killed sweep had finished, whatever became of its data file.
#pragma once

#include "sim/sweep/outputs.hpp"

#include <filesystem>
#include <functional>
#include <span>
#include <string>
#include <vector>

namespace hoopfield {

/// A record as read back: fields are known by their hash only.
struct JournalRecord {
  CaseRecord record;
  std::string field_hash;  ///< empty when the case has no fields
};

/// Hash of the arrays of a record with their shapes; empty without arrays.
[[nodiscard]] std::string field_hash(const CaseRecord& record);

/// One line per case with exact numbers; a group of lines counts once its closing line, with a hash of the group, is on
/// the disk. A half-written group at the end is cut off. The file is locked: one sweep writes one journal.
class Journal {
 public:
  /// Opens or creates, and takes the lock. Throws IoError, also when another sweep holds it and for a file or link of
  /// that name that is no journal.
  explicit Journal(std::filesystem::path path);
  ~Journal();
  Journal(const Journal&) = delete;
  Journal& operator=(const Journal&) = delete;

  /// There was no such file before.
  [[nodiscard]] bool is_new() const { return is_new_; }
  /// Empties the file and writes the header for a plan.
  void begin(const std::string& plan_hash);
  /// Empties the file.
  void clear();
  /// Throws IoError for a journal of another plan; an empty or torn one passes.
  void check(const std::string& plan_hash) const;
  /// Hands every group of a journal of this plan to `take` and cuts off what follows the last whole group. False when
  /// the file is empty or its header is not whole. Throws IoError for a journal of another plan.
  bool replay(const std::string& plan_hash, std::size_t scalar_count,
              const std::function<void(std::vector<JournalRecord>)>& take);
  void append(std::span<const CaseRecord> records);
  /// The sweep is complete: removes the file.
  void remove();

 private:
  /// False when the file that was opened does not stand under the name any more.
  bool open_and_lock();
  void refuse_foreign() const;
  void write_all(const std::string& bytes) const;
  [[noreturn]] void fail(const char* action) const;
  std::filesystem::path path_;
  int file_ = -1;
  bool is_new_ = false;
};

}  // namespace hoopfield
