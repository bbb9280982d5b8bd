// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The group `inputs` of every result file.
#pragma once

#include "sim/inputs/scenario.hpp"
#include "sim/io/hdf5/detail/hdf5_file.hpp"

namespace hoopfield {

/// Resolved inputs with origin and place, scenario and film text, version, compiler and hash.
void write_inputs(hdf5::Node group, const Scenario& scenario);

}  // namespace hoopfield
