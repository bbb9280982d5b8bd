// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Files under names that nobody else has: what is being written lies there until it is whole.
#pragma once

#include <filesystem>

namespace hoopfield {

/// A fresh file beside `target`, opened for reading and writing: `<name>.hoopfield-<random>.part`.
struct NewFile {
  std::filesystem::path path;
  int handle = -1;
};

/// Creates it; a file or link that is there is never opened (O_EXCL, O_NOFOLLOW). Throws IoError that names `target`.
/// The name is noted, so that `remove_new_files()` finds it, until `keep_new_file()` or `remove_new_file()`.
[[nodiscard]] NewFile create_new_file(const std::filesystem::path& target);

/// Removes a file made by `create_new_file`, if it is still there.
void remove_new_file(const std::filesystem::path& path) noexcept;

/// The file stands under another name now, or is to stay.
void keep_new_file(const std::filesystem::path& path) noexcept;

/// Removes every fresh file of this process. May be called in a signal handler, before the process ends.
void remove_new_files() noexcept;

/// Whether a name is one that `create_new_file` gives files for `target`.
[[nodiscard]] bool is_new_file_of(const std::filesystem::path& path, const std::filesystem::path& target);

/// Folder of a path, "." for a bare name.
[[nodiscard]] std::filesystem::path folder_of(const std::filesystem::path& path);

/// Forces the names in a folder to the disk, where that is possible.
void sync_folder(const std::filesystem::path& folder) noexcept;

}  // namespace hoopfield
