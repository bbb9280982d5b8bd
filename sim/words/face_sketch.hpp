// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Which face is which, as a sketch for texts.
#pragma once

#include <string>

namespace hoopfield::words {

/// Plan of the load from above with its faces, and the sentence that defines them. Within 80 columns.
[[nodiscard]] std::string face_sketch();

}  // namespace hoopfield::words
