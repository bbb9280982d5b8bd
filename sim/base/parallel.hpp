// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Many predictions on all hardware threads under one observer.
#pragma once

#include "sim/base/observer.hpp"

#include <cstddef>
#include <functional>

namespace hoopfield {

/// Calls `work(i, observer)` for i = 0 .. count-1, in any order and at the same time; each call must write only its own
/// place. What a call throws ends the run and comes out. \param observer sees one course of progress from `from` to `to`
/// and may stop it (Interrupted).
void run_parallel(std::size_t count, Observer* observer, double from, double to, const char* stage,
                  const std::function<void(std::size_t, Observer*)>& work);

}  // namespace hoopfield
