// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Writing a file so that a reader sees the whole of it or none of it.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace hoopfield {

/// Writes to `<name>.part` beside the target and moves it there in `commit()`. Without a commit nothing is left behind.
/// A target that exists needs `overwrite`; a target that is no regular file (a folder, a device) is always refused.
/// Every failure throws IoError with the reason the system gave.
class PartFile {
 public:
  PartFile(const std::filesystem::path& target, bool overwrite);
  ~PartFile();
  PartFile(const PartFile&) = delete;
  PartFile& operator=(const PartFile&) = delete;

  /// Writes the bytes and forces them to the disk.
  void write(std::string_view bytes);
  /// Moves the part over the target; without `overwrite` a target that appeared meanwhile is kept and IoError thrown.
  void commit();
  [[nodiscard]] const std::filesystem::path& target() const { return target_; }

 private:
  [[noreturn]] void fail(const std::string& action, int error) const;
  void sync_folder() const;
  std::filesystem::path target_, part_;
  bool overwrite_ = false;
  bool created_ = false;
};

/// Throws the IoError that writing this file would throw, as far as it can be known beforehand.
void check_target(const std::filesystem::path& target, bool overwrite);

/// One file from a text, by PartFile. Throws IoError.
void write_file(const std::filesystem::path& target, std::string_view bytes, bool overwrite);

}  // namespace hoopfield
