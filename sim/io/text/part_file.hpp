// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Writing a file so that a reader sees the whole of it or none of it.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace hoopfield {

/// Writes to a fresh file beside the target (sim/base/new_file.hpp) and moves it there in `commit()`. Without a commit
/// nothing is left behind, and no other file is touched, be it called `<name>.part` or not.
/// A target that exists needs `overwrite`; a target that is no regular file (a folder, a device) is always refused.
/// Every failure throws IoError with the reason the system gave.
class PartFile {
 public:
  PartFile(const std::filesystem::path& target, bool overwrite);
  ~PartFile();
  PartFile(const PartFile&) = delete;
  PartFile& operator=(const PartFile&) = delete;

  /// An empty part for a writer of its own, who forces its bytes to the disk before commit().
  const std::filesystem::path& start();
  /// Writes the bytes and forces them to the disk.
  void write(std::string_view bytes);
  /// place() and settle().
  void commit();
  /// Moves the part over the target; without `overwrite` a target that appeared meanwhile is kept and IoError thrown.
  /// Until settle() the end of this object takes it back: the file that was replaced stands there again.
  void place();
  /// What was placed stays.
  void settle() noexcept;
  [[nodiscard]] const std::filesystem::path& target() const { return target_; }

 private:
  [[noreturn]] void fail(const std::string& action, int error) const;
  void remove_part() noexcept;
  void set_old_aside();
  void undo() noexcept;
  std::filesystem::path target_, part_, old_;
  bool overwrite_ = false;
  bool placed_ = false, replaces_ = false;
};

/// Throws the IoError that writing this file would throw, as far as it can be known beforehand.
void check_target(const std::filesystem::path& target, bool overwrite);

/// One file from a text, by PartFile. Throws IoError.
void write_file(const std::filesystem::path& target, std::string_view bytes, bool overwrite);

}  // namespace hoopfield
