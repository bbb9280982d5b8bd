// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/part_file.hpp"

#include "models/error.hpp"
#include "sim/base/new_file.hpp"

#include <cerrno>
#include <cstring>

#include <fcntl.h>
#include <unistd.h>

namespace hoopfield {

namespace fs = std::filesystem;

namespace {

/// A link to a regular file is followed, so that replacing it keeps the link.
fs::path resolved(const fs::path& target) {
  std::error_code ignored;
  if (fs::is_symlink(target, ignored)) {
    fs::path real = fs::weakly_canonical(target, ignored);
    if (!ignored) return real;
  }
  return target;
}

}  // namespace

PartFile::PartFile(const fs::path& target, bool overwrite) : target_(resolved(target)), overwrite_(overwrite) {
  if (target.empty() || !target.has_filename())
    throw IoError("cannot write '" + target.string() + "': no file name", target.string());
  std::error_code error;
  const fs::path folder = folder_of(target_);
  if (!fs::is_directory(folder, error))
    throw IoError("cannot write '" + target.string() + "': there is no folder '" + folder.string() + "'",
                  target.string());
  if (::access(folder.c_str(), W_OK) != 0) fail("cannot write", errno);
  const fs::file_status status = fs::status(target_, error);
  if (status.type() == fs::file_type::not_found) return;
  if (status.type() == fs::file_type::none) fail("cannot write", error.value());
  if (fs::is_directory(status))
    throw IoError("cannot write '" + target.string() + "': it is a folder", target.string());
  if (!fs::is_regular_file(status))
    throw IoError("cannot write '" + target.string() + "': it is not an ordinary file", target.string());
  if (!overwrite)
    throw IoError("cannot write '" + target.string() + "': the file exists; pass --overwrite to replace it",
                  target.string());
}

PartFile::~PartFile() {
  remove_part();
  undo();
}

void PartFile::remove_part() noexcept {
  if (!part_.empty()) remove_new_file(part_);
  part_.clear();
}

void PartFile::fail(const std::string& action, int error) const {
  throw IoError(action + " '" + target_.string() + "': " + std::strerror(error), target_.string());
}

const fs::path& PartFile::start() {
  remove_part();
  const NewFile file = create_new_file(target_);
  part_ = file.path;
  ::close(file.handle);
  return part_;
}

void PartFile::write(std::string_view bytes) {
  remove_part();
  const NewFile file = create_new_file(target_);
  part_ = file.path;
  int error = 0;
  while (!bytes.empty() && error == 0) {
    const ssize_t count = ::write(file.handle, bytes.data(), bytes.size());
    if (count >= 0) {
      bytes.remove_prefix(static_cast<std::size_t>(count));
    } else if (errno != EINTR) {
      error = errno;
    }
  }
  if (error == 0 && ::fsync(file.handle) != 0) error = errno;
  if (::close(file.handle) != 0 && error == 0) error = errno;
  if (error != 0) fail("cannot write", error);
}

void PartFile::place() {
  if (overwrite_) {
    set_old_aside();
    if (::rename(part_.c_str(), target_.c_str()) != 0) fail("cannot replace", errno);
  } else if (::link(part_.c_str(), target_.c_str()) == 0) {
    ::unlink(part_.c_str());
  } else if (errno == EEXIST) {
    throw IoError(
        "cannot write '" + target_.string() + "': the file appeared meanwhile; pass --overwrite to replace it",
        target_.string());
  } else {
    // File systems without hard links: the check made at the start has to do.
    if (::rename(part_.c_str(), target_.c_str()) != 0) fail("cannot write", errno);
  }
  keep_new_file(part_);
  part_.clear();
  placed_ = true;
  sync_folder(folder_of(target_));
}

/// A second name for what is about to be replaced. Where the file system has no hard links, undo() cannot bring it
/// back.
void PartFile::set_old_aside() {
  std::error_code none;
  if (!fs::exists(target_, none)) return;
  replaces_ = true;
  const NewFile name = create_new_file(target_);
  ::close(name.handle);
  ::unlink(name.path.c_str());
  if (::link(target_.c_str(), name.path.c_str()) == 0)
    old_ = name.path;
  else
    keep_new_file(name.path);
}

void PartFile::undo() noexcept {
  if (placed_ && !old_.empty())
    ::rename(old_.c_str(), target_.c_str());
  else if (placed_ && !replaces_)
    ::unlink(target_.c_str());
  if (!old_.empty()) remove_new_file(old_);
  old_.clear();
  placed_ = false;
}

void PartFile::settle() noexcept {
  if (!old_.empty()) remove_new_file(old_);
  old_.clear();
  placed_ = false;
}

void PartFile::commit() {
  place();
  settle();
}

void check_target(const fs::path& target, bool overwrite) { const PartFile file(target, overwrite); }

void write_file(const fs::path& target, std::string_view bytes, bool overwrite) {
  PartFile file(target, overwrite);
  file.write(bytes);
  file.commit();
}

}  // namespace hoopfield
