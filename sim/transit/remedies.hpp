// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What would mend a load that is predicted to move: the stack changed in one way at a time.
#pragma once

#include "sim/transit/levels.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hoopfield {

/// A name for a table and the change.
struct Remedy {
  std::string name;
  std::function<void(TransitStack&)> apply;
};

/// Those that would change this load, "as it is" first: half as many turns again over all or a third of the height,
/// film on the pallet, a lock, a held fold, a friction sheet under the lowest tier or every tier, interlock. More turns
/// count as so much more hoop tension and film stiffness there; the wrap is not computed again.
[[nodiscard]] std::vector<Remedy> remedies_of(const TransitStack& stack);

}  // namespace hoopfield
