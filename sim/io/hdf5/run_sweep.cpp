// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/run_sweep.hpp"

#include "sim/io/hdf5/sweep_store.hpp"

#include <memory>

namespace hoopfield {

SweepResult run_sweep(const SweepPlan& plan, const SweepOptions& options, SweepObserver* observer) {
  if (options.file.empty()) return compute_sweep(plan, options, observer);
  return compute_sweep(plan, options, observer, [&](const SweepLayout& layout, SweepMemory& memory) {
    return std::make_unique<SweepStore>(plan, layout, options, memory);
  });
}

}  // namespace hoopfield
