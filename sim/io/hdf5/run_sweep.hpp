// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A sweep in memory or to one resumable file.
#pragma once

#include "sim/sweep/collected_sweep.hpp"
#include "sim/sweep/sweep.hpp"

#include <memory>

namespace hoopfield {

/// compute_sweep(), and the file of `options` when it names one.
///
/// With `file`, blocks of cases go to `<file>.part`, each flushed and noted in the text journal `<file>.journal`; at
/// the end the part is moved to `file` and the journal removed. When stopped, or killed at any moment, both stay, and
/// the same call with `resume` goes on. Throws IoError when the file cannot be written, when an unfinished sweep is in
/// the way, when resuming another plan, and before the first case when the disk is too small; InputError for unknown
/// outputs.
[[nodiscard]] SweepResult run_sweep(const SweepPlan& plan, const SweepOptions& options = {},
                                    SweepObserver* observer = nullptr);

/// The same for cases that are computed elsewhere. Throws as run_sweep() does.
[[nodiscard]] std::unique_ptr<CollectedSweep> collect_sweep(const SweepPlan& plan, const SweepOptions& options);

}  // namespace hoopfield
