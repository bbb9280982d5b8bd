// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/new_file.hpp"

#include "models/error.hpp"
#include "models/text.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <random>
#include <string>

#include <fcntl.h>
#include <unistd.h>

namespace hoopfield {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view infix = ".hoopfield-", ending = ".part";
constexpr std::size_t random_digits = 16, longest_name = 255;  // bytes, of every usual file system

std::string random_word() {
  std::random_device device;
  const std::uint64_t bits = (std::uint64_t{device()} << 32U) | device();
  return lower(hexadecimal(bits, random_digits));
}

/// Name of the target, or nothing of it where the longer name would be too long.
std::string stem_of(const fs::path& target) {
  const std::string name = target.filename().string();
  return name.size() + infix.size() + random_digits + ending.size() <= longest_name ? name : std::string();
}

/// Names as a signal handler may read them: texts in a fixed table, each complete before it counts.
struct Slot {
  std::atomic<bool> taken = false, is_named = false;
  std::array<char, 4096> name{};  // no longer path can be opened
  pid_t owner = 0;
};
std::array<Slot, 64> slots;

void note(const fs::path& path) {
  for (Slot& slot : slots) {
    if (path.native().size() >= slot.name.size()) return;
    if (slot.taken.exchange(true)) continue;
    slot.owner = ::getpid();
    std::copy_n(path.c_str(), path.native().size() + 1, slot.name.begin());
    slot.is_named = true;
    return;
  }
}

void forget(const fs::path& path) noexcept {
  for (Slot& slot : slots) {
    if (!slot.is_named || path.native() != slot.name.data()) continue;
    slot.is_named = false;
    slot.taken = false;
    return;
  }
}

}  // namespace

NewFile create_new_file(const fs::path& target) {
  constexpr int attempts = 100;
  for (int i = 0; i < attempts; ++i) {
    NewFile file;
    file.path = target;
    file.path.replace_filename(stem_of(target) + std::string(infix) + random_word() + std::string(ending));
    note(file.path);
    file.handle = ::open(file.path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
    if (file.handle >= 0) return file;
    const int error = errno;
    forget(file.path);
    if (error != EEXIST)
      throw IoError("cannot write '" + target.string() + "': " + std::strerror(error), target.string());
  }
  throw IoError("cannot write '" + target.string() + "': no name is free beside it", target.string());
}

void remove_new_file(const fs::path& path) noexcept {
  ::unlink(path.c_str());
  forget(path);
}

void keep_new_file(const fs::path& path) noexcept { forget(path); }

void remove_new_files() noexcept {
  for (const Slot& slot : slots) {
    if (slot.is_named && slot.owner == ::getpid()) ::unlink(slot.name.data());
  }
}

bool is_new_file_of(const fs::path& path, const fs::path& target) {
  const std::string name = path.filename().string(), start = stem_of(target) + std::string(infix);
  if (name.size() != start.size() + random_digits + ending.size()) return false;
  if (!name.starts_with(start) || !name.ends_with(ending)) return false;
  return std::string_view(name).substr(start.size(), random_digits).find_first_not_of("0123456789abcdef") ==
         std::string_view::npos;
}

fs::path folder_of(const fs::path& path) { return path.has_parent_path() ? path.parent_path() : fs::path("."); }

void sync_folder(const fs::path& folder) noexcept {
  const int handle = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (handle < 0) return;
  ::fsync(handle);
  ::close(handle);
}

}  // namespace hoopfield
