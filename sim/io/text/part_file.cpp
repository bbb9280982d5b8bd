// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/part_file.hpp"

#include "models/error.hpp"

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

fs::path folder_of(const fs::path& target) { return target.has_parent_path() ? target.parent_path() : fs::path("."); }

}  // namespace

PartFile::PartFile(const fs::path& target, bool overwrite)
    : target_(resolved(target)), part_(target_.string() + ".part"), overwrite_(overwrite) {
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
  if (created_) ::unlink(part_.c_str());
}

void PartFile::fail(const std::string& action, int error) const {
  throw IoError(action + " '" + target_.string() + "': " + std::strerror(error), target_.string());
}

void PartFile::write(std::string_view bytes) {
  const int file = ::open(part_.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
  if (file < 0) fail("cannot write", errno);
  created_ = true;
  int error = 0;
  while (!bytes.empty() && error == 0) {
    const ssize_t count = ::write(file, bytes.data(), bytes.size());
    if (count >= 0) {
      bytes.remove_prefix(static_cast<std::size_t>(count));
    } else if (errno != EINTR) {
      error = errno;
    }
  }
  if (error == 0 && ::fsync(file) != 0) error = errno;
  if (::close(file) != 0 && error == 0) error = errno;
  if (error != 0) fail("cannot write", error);
}

void PartFile::commit() {
  if (overwrite_) {
    if (::rename(part_.c_str(), target_.c_str()) != 0) fail("cannot replace", errno);
    created_ = false;
  } else if (::link(part_.c_str(), target_.c_str()) == 0) {
    ::unlink(part_.c_str());
    created_ = false;
  } else if (errno == EEXIST) {
    throw IoError(
        "cannot write '" + target_.string() + "': the file appeared meanwhile; pass --overwrite to replace it",
        target_.string());
  } else {
    // File systems without hard links: the check made at the start has to do.
    if (::rename(part_.c_str(), target_.c_str()) != 0) fail("cannot write", errno);
    created_ = false;
  }
  sync_folder();
}

void PartFile::sync_folder() const {
  const int handle = ::open(folder_of(target_).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (handle < 0) return;
  ::fsync(handle);
  ::close(handle);
}

void check_target(const fs::path& target, bool overwrite) { const PartFile file(target, overwrite); }

void write_file(const fs::path& target, std::string_view bytes, bool overwrite) {
  PartFile file(target, overwrite);
  file.write(bytes);
  file.commit();
}

}  // namespace hoopfield
