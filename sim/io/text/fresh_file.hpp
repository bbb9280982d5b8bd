// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A file that is written piece by piece under a name of its own and then takes the place of its target.
#pragma once

#include <filesystem>

namespace hoopfield {

/// Gone at its end unless it was put in its place.
class FreshFile {
 public:
  /// Creates it beside the target, which must not exist unless `overwrite`. Throws IoError.
  FreshFile(const std::filesystem::path& target, bool overwrite);
  ~FreshFile();
  FreshFile(const FreshFile&) = delete;
  FreshFile& operator=(const FreshFile&) = delete;
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  /// Moves it over the target. The writer has forced its bytes to the disk before. Throws IoError.
  void place();

 private:
  std::filesystem::path target_, path_;
};

}  // namespace hoopfield
