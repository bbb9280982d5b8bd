// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Whole variables and attributes read back from files of our own. Private to sim/io.
#pragma once

#include "sim/io/hdf5/detail/hdf5_file.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace hoopfield::hdf5 {

[[nodiscard]] bool has_attribute(const H5::H5Object& object, const std::string& name);
/// Throws H5::Exception when it is missing.
[[nodiscard]] std::string text_attribute(const H5::H5Object& object, const std::string& name);

[[nodiscard]] bool is_text(const H5::DataSet& data);
[[nodiscard]] std::vector<double> numbers(const H5::DataSet& data);
[[nodiscard]] std::vector<std::int32_t> whole_numbers(const H5::DataSet& data);
[[nodiscard]] std::vector<std::string> texts(const H5::DataSet& data);

}  // namespace hoopfield::hdf5
