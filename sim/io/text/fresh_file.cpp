// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/fresh_file.hpp"

#include "models/error.hpp"
#include "sim/base/new_file.hpp"
#include "sim/io/text/part_file.hpp"

#include <unistd.h>

namespace hoopfield {

namespace fs = std::filesystem;

FreshFile::FreshFile(const fs::path& target, bool overwrite) : target_(PartFile(target, overwrite).target()) {
  const NewFile made = create_new_file(target_);
  ::close(made.handle);
  path_ = made.path;
}

FreshFile::~FreshFile() {
  if (!path_.empty()) remove_new_file(path_);
}

void FreshFile::place() {
  std::error_code error;
  fs::rename(path_, target_, error);
  if (error) throw IoError("cannot write '" + target_.string() + "': " + error.message(), target_.string());
  sync_folder(folder_of(target_));
  keep_new_file(path_);
  path_.clear();
}

}  // namespace hoopfield
