// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The files one call writes: none of them an input of the call or another of its outputs, and all of them or none.
#pragma once

#include "sim/inputs/scenario.hpp"
#include "sim/io/text/part_file.hpp"

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace hoopfield {

/// Scenario and film file of a scenario that was read from a file; empty for one made in memory.
[[nodiscard]] std::vector<std::filesystem::path> files_of(const Scenario& scenario);

/// Declares the files first (`reads`, `add`, `add_folder`), is asked with `check()` before the work, takes the contents
/// with `write()` and puts all in place with `commit()`. When anything fails, files that were there before stand there
/// as before and no new one is left; a folder made for them goes as well.
class OutputFiles {
 public:
  explicit OutputFiles(bool overwrite) : overwrite_(overwrite) {}
  ~OutputFiles();
  OutputFiles(const OutputFiles&) = delete;
  OutputFiles& operator=(const OutputFiles&) = delete;

  /// A file this call reads: no output may replace it.
  void reads(const std::filesystem::path& path) { inputs_.push_back(path); }
  void reads(const std::vector<std::filesystem::path>& paths) {
    inputs_.insert(inputs_.end(), paths.begin(), paths.end());
  }
  /// An output and the option that names it, "--report".
  void add(const std::string& option, const std::filesystem::path& path);
  /// Files in a folder that may still have to be made; the folders above it as well when `deep`.
  void add_folder(const std::string& option, const std::filesystem::path& folder, const std::vector<std::string>& names,
                  bool deep = false);

  /// Throws InputError for an empty name, for two outputs that are one file and for an output that is an input, by
  /// whatever links and paths, `overwrite` or not.
  void check_names() const;
  /// check_names(), and IoError as far as a failure to write can be known beforehand.
  void check() const;

  /// Writes what an output is to hold; makes its folder when that was added. Throws IoError.
  void write(const std::filesystem::path& path, std::string_view bytes);
  /// Puts every file written in its place. Throws IoError.
  void commit();

 private:
  struct Output {
    std::string option;
    std::filesystem::path path;
    bool in_folder = false, deep = false;
  };
  void make_folder(const std::filesystem::path& folder, bool deep);
  bool overwrite_;
  std::vector<std::filesystem::path> inputs_, folders_, made_;
  std::vector<Output> outputs_;
  std::vector<std::unique_ptr<PartFile>> parts_;
};

}  // namespace hoopfield
