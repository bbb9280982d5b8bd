// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/output_files.hpp"

#include "models/error.hpp"
#include "sim/base/new_file.hpp"

#include <algorithm>

namespace hoopfield {

namespace fs = std::filesystem;

namespace {

/// The place itself, links and dots followed as far as there is something to follow.
fs::path place_of(const fs::path& path) {
  std::error_code error;
  fs::path place = fs::weakly_canonical(fs::absolute(path, error), error);
  if (error) place = fs::absolute(path, error).lexically_normal();
  return place.has_filename() ? place : place.parent_path();
}

bool same_file(const fs::path& a, const fs::path& b) {
  std::error_code error;
  return fs::equivalent(a, b, error) || place_of(a) == place_of(b);
}

}  // namespace

std::vector<fs::path> files_of(const Scenario& scenario) {
  if (scenario.path.empty()) return {};
  const fs::path path = scenario.path;
  return {path, path.parent_path() / scenario.film.file};
}

OutputFiles::~OutputFiles() {
  parts_.clear();
  std::error_code ignored;
  for (auto folder = made_.rbegin(); folder != made_.rend(); ++folder) fs::remove(*folder, ignored);  // empty ones only
}

void OutputFiles::add(const std::string& option, const fs::path& path) { outputs_.push_back({option, path}); }

void OutputFiles::add_folder(const std::string& option, const fs::path& folder, const std::vector<std::string>& names,
                             bool deep) {
  outputs_.push_back({option, folder, true, deep});
  folders_.push_back(folder);
  for (const std::string& name : names) outputs_.push_back({option, folder / name, true, deep});
}

void OutputFiles::check_names() const {
  for (auto output = outputs_.begin(); output != outputs_.end(); ++output) {
    const std::string& option = output->option;
    if (output->path.empty()) throw InputError(option + ": is empty; expected a file name", {}, 0, 0, option);
    for (const fs::path& input : inputs_)
      if (same_file(output->path, input))
        throw InputError(option + ": '" + output->path.string() + "' is an input of this call; expected another name",
                         {}, 0, 0, option);
    for (auto other = outputs_.begin(); other != output; ++other)
      if (same_file(output->path, other->path))
        throw InputError(option + ": '" + output->path.string() + "' is also written by " + other->option +
                             "; expected a name for each output",
                         {}, 0, 0, option);
  }
}

void OutputFiles::check() const {
  check_names();
  for (const Output& output : outputs_) {
    std::error_code none;
    const bool folder = std::find(folders_.begin(), folders_.end(), output.path) != folders_.end();
    fs::path top = output.path;
    while (output.deep && folder && !fs::exists(folder_of(top), none) && top.has_parent_path()) top = top.parent_path();
    if (folder && !fs::is_directory(output.path, none)) check_target(top, false);
    if (!folder && (!output.in_folder || fs::is_directory(folder_of(output.path), none)))
      check_target(output.path, overwrite_);
  }
}

void OutputFiles::make_folder(const fs::path& folder, bool deep) {
  std::error_code error;
  if (folder.empty() || fs::is_directory(folder, error)) return;
  if (deep) make_folder(folder.parent_path(), true);
  if (fs::create_directory(folder, error)) made_.push_back(folder);
  if (error) throw IoError("cannot make the folder '" + folder.string() + "': " + error.message(), folder.string());
}

void OutputFiles::write(const fs::path& path, std::string_view bytes) {
  for (const Output& output : outputs_)
    if (output.path == path && output.in_folder) make_folder(path.parent_path(), output.deep);
  parts_.push_back(std::make_unique<PartFile>(path, overwrite_));
  parts_.back()->write(bytes);
}

void OutputFiles::commit() {
  for (const auto& part : parts_) part->place();
  for (const auto& part : parts_) part->settle();
  parts_.clear();
  made_.clear();
}

}  // namespace hoopfield
