// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Numbers, units and the layout of text, shared with the other front ends, under their short names.
#pragma once

#include "sim/words/display_units.hpp"
#include "sim/words/inch_pound.hpp"
#include "sim/words/text_layout.hpp"

namespace hoopfield::cli {

using namespace words;  // NOLINT(google-build-using-namespace): one room, split so that others can use half of it

}  // namespace hoopfield::cli
