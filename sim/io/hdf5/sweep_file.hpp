// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The HDF5 file of a sweep: written piece by piece, readable by xarray at every flush. No HDF5 types show.
#pragma once

#include "sim/io/hdf5/sweep_head.hpp"
#include "sim/sweep/layout.hpp"
#include "sim/sweep/sweep.hpp"

#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace hoopfield {

class SweepFileWriter {
 public:
  /// Fills a file that create_new_file() made, every case pending. Throws IoError.
  SweepFileWriter(const std::filesystem::path& path, const SweepHead& head, const SweepLayout& layout);
  ~SweepFileWriter();
  /// Writes records sorted by case and hands them to the system: data first, then their status. Throws IoError.
  void write(std::span<const CaseRecord> records);
  /// The open file has got another name.
  void renamed(const std::filesystem::path& path);
  /// Closes and forces everything to the disk. Throws IoError.
  void close();

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

class SweepFileReader {
 public:
  /// Opens for reading; throws IoError when that is not possible.
  SweepFileReader(const std::filesystem::path& path, std::size_t cases, const SweepLayout& layout);
  ~SweepFileReader();
  [[nodiscard]] const std::string& hash() const;
  /// Finished cases among `count` from `first`, as far as they can be read. Throws IoError.
  [[nodiscard]] std::vector<CaseRecord> read(std::size_t first, std::size_t count);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace hoopfield
