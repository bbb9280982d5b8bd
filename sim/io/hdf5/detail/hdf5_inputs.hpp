// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The group `inputs` of every result file, to and from the file.
#pragma once

#include "sim/io/hdf5/detail/hdf5_file.hpp"
#include "sim/io/hdf5/hdf5_inputs.hpp"

namespace hoopfield {

void write_inputs(hdf5::Node group, const InputTable& inputs);
[[nodiscard]] InputTable read_inputs(const H5::Group& group);

}  // namespace hoopfield
