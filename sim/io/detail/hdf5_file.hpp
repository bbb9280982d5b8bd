// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A small netCDF-shaped layer over HDF5: named dimensions, variables on them, attributes. Private to sim/io.
#pragma once

#include <H5Cpp.h>

#include <cstdint>
#include <map>
#include <string>
#include <vector>

namespace hoopfield::hdf5 {

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
