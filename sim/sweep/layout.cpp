// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/layout.hpp"

#include <algorithm>
#include <vector>

namespace hoopfield {

SweepLayout sweep_layout(const SweepPlan& plan) {
  SweepLayout layout;
  layout.selected = select_outputs(plan.outputs);
  // An output that is itself varied (pattern.pitch) is there already, as a coordinate.
  std::erase_if(layout.selected.scalars, [&](const SummaryOutput* output) {
    return std::any_of(plan.axes.begin(), plan.axes.end(), [&](const SweepAxis& a) { return a.key == output->name; });
  });
  layout.fields = field_layout(plan, layout.selected);
  layout.hash = sweep_hash(plan);
  return layout;
}

}  // namespace hoopfield
