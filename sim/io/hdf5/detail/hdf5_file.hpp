// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A small netCDF-shaped layer over HDF5: named dimensions, variables on them, attributes. Private to sim/io.
#pragma once

#include <H5Cpp.h>

#include <cstdint>
#include <map>
#include <mutex>
#include <string>
#include <vector>

namespace hoopfield::hdf5 {

/// The C++ layer of the library keeps global state of its own: whoever calls it holds this.
[[nodiscard]] std::mutex& library_mutex();

void set_attribute(const H5::H5Object& object, const std::string& name, const std::string& value);

/// Text, as UTF-8 of any length.
[[nodiscard]] H5::StrType utf8();

/// Fills an empty file that create_new_file() made, in the format that survives a killed writer best. Its writes do not
/// fail: ask disk_error() of steady_driver.hpp after each flush.
[[nodiscard]] H5::H5File create_disk_file(const std::string& path);

/// One group with its dimensions. A variable may use dimensions of its own group and of the groups above.
class Node {
 public:
  Node(const H5::Group& group, const Node* parent) : group_(group), parent_(parent) {}

  [[nodiscard]] Node child(const std::string& name) const;
  void attribute(const std::string& name, const std::string& value) const;

  void dimension(const std::string& name, const std::vector<double>& values, const std::string& units,
                 const std::string& long_name);
  void dimension(const std::string& name, const std::vector<std::int32_t>& values, const std::string& long_name);
  void dimension(const std::string& name, const std::vector<std::string>& values, const std::string& long_name);

  void variable(const std::string& name, const std::vector<std::string>& dimensions, const std::vector<double>& values,
                const std::string& units, const std::string& long_name) const;
  void variable(const std::string& name, const std::vector<std::string>& dimensions,
                const std::vector<std::int32_t>& values, const std::string& long_name) const;
  void variable(const std::string& name, const std::vector<std::string>& dimensions,
                const std::vector<std::string>& values, const std::string& long_name) const;
  /// A dimension that starts empty and grows; its values are 1, 2, ...
  void growing_dimension(const std::string& name, const std::string& long_name);
  /// Makes a growing dimension at least this long.
  void grow(const std::string& name, std::size_t length) const;
  [[nodiscard]] std::size_t length(const std::string& name) const;
  /// A variable in chunks, filled with NaN, shuffled and deflated, for writing piece by piece.
  [[nodiscard]] H5::DataSet chunked(const std::string& name, const std::vector<std::string>& dimensions,
                                    const std::vector<hsize_t>& chunk, const std::string& units,
                                    const std::string& long_name) const;
  /// The same for texts (empty) and small whole numbers (`fill`); along one dimension, without a filter for texts.
  [[nodiscard]] H5::DataSet chunked_texts(const std::string& name, const std::string& dimension, hsize_t chunk,
                                          const std::string& long_name) const;
  [[nodiscard]] H5::DataSet chunked_flags(const std::string& name, const std::string& dimension, hsize_t chunk,
                                          std::int8_t fill, const std::string& long_name) const;
  void scalar(const std::string& name, double value, const std::string& units, const std::string& long_name) const {
    variable(name, {}, std::vector<double>{value}, units, long_name);
  }
  void text(const std::string& name, const std::string& value, const std::string& long_name) const {
    variable(name, {}, std::vector<std::string>{value}, long_name);
  }

 private:
  [[nodiscard]] const H5::DataSet& scale(const std::string& name) const;
  [[nodiscard]] H5::DataSpace space(const std::string& name, const std::vector<std::string>& dimensions,
                                    std::size_t size) const;
  void attach(const H5::DataSet& data, const std::vector<std::string>& dimensions) const;
  void add_scale(const std::string& name, const H5::DataSet& data);
  H5::Group group_;
  const Node* parent_ = nullptr;
  std::map<std::string, H5::DataSet> scales_;
};

/// A file held in memory, so that a full disk can never reach the library half-way through its own book-keeping.
class MemoryFile {
 public:
  MemoryFile();
  [[nodiscard]] Node root() const;
  /// The finished file. Call it when every Node is gone.
  [[nodiscard]] std::string bytes();

 private:
  H5::H5File file_;
};

}  // namespace hoopfield::hdf5
