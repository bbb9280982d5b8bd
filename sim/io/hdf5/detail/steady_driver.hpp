// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A file driver for HDF5 that remembers the first error of the disk instead of raising it half-way through the
/// library's book-keeping: a full disk at the wrong moment makes the library crash when it closes the file. Private to
/// sim.
#pragma once

#include <H5Cpp.h>

namespace hoopfield::hdf5 {

/// Makes files opened with these properties use the driver. For new files only.
void use_steady_driver(const H5::FileAccPropList& access);

/// Error number (errno) of the first write to an open file that failed; 0 when all went well. What failed to reach the
/// disk is kept in memory, so that the file can still be closed; it is worth nothing then.
[[nodiscard]] int disk_error(const H5::H5File& file);

}  // namespace hoopfield::hdf5
