// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What writing and reading the file of a sweep share. Private to sim/sweep.
#pragma once

#include "models/error.hpp"
#include "sim/io/hdf5/detail/hdf5_file.hpp"
#include "sim/io/hdf5/sweep_head.hpp"

#include <string>
#include <vector>

namespace hoopfield::sweep_file {

inline constexpr const char* hash_attribute = "sweep_hash";
inline constexpr const char* shard_attribute = "shard";          // "3/16"
inline constexpr const char* whole_hash_attribute = "shard_of";  // hash of the sweep it is a share of

void write_attributes(const hdf5::Node& root, const SweepHead& head);

/// Every call of the library goes through here: one caller at a time, its errors as ours.
template <typename Action>
auto guarded(const std::string& path, const char* action, Action&& body) {
  const std::lock_guard lock(hdf5::library_mutex());
  H5::Exception::dontPrint();
  try {
    return body();
  } catch (const H5::Exception& error) {
    throw IoError(std::string(action) + " '" + path + "': HDF5: " + error.getDetailMsg(), path);
  }
}

inline H5::DataSpace select(H5::DataSet& data, const std::vector<hsize_t>& start, const std::vector<hsize_t>& count) {
  H5::DataSpace space = data.getSpace();
  space.selectHyperslab(H5S_SELECT_SET, count.data(), start.data());
  return space;
}

inline std::size_t product(const std::vector<std::size_t>& shape) {
  std::size_t n = 1;
  for (const std::size_t s : shape) n *= s;
  return n;
}

/// Copies between a field and its place in a larger block of the same rank, in both directions.
template <typename Copy>
void each_row(const std::vector<std::size_t>& small, const std::vector<std::size_t>& large, Copy&& copy) {
  const std::size_t row = small.back(), rows = row == 0 ? 0 : product(small) / row;
  for (std::size_t r = 0; r < rows; ++r) {
    std::size_t rest = r, at = 0, stride = large.back();
    for (std::size_t d = small.size() - 1; d-- > 0;) {
      at += rest % small[d] * stride;
      rest /= small[d];
      stride *= large[d];
    }
    copy(r * row, at, row);
  }
}

}  // namespace hoopfield::sweep_file
