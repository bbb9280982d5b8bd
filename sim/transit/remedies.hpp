// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What would mend a load that is predicted to move: the stack changed in one way at a time.
#pragma once

#include "sim/transit/levels.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hoopfield {

/// A name for a table and the change: of what is wound (turns or scenario), which is then predicted again, or of the
/// stack that comes of it.
struct Remedy {
  std::string name;
  DenserTurns denser;
  std::function<void(Scenario&)> rewind;
  std::function<void(TransitStack&)> apply;
};

/// Those that would change this load, "as it is" first: half as many turns again over all or a third of the height,
/// film on the pallet, a lock, a held fold, a friction sheet under the lowest tier or every tier, interlock.
[[nodiscard]] std::vector<Remedy> remedies_of(const TransitStack& stack);

/// What the load so changed withstands at its least hoop tension. `wound` is the prediction of the scenario as it is;
/// `predictor` makes that of one that is wound anew. Where that has no solution the remedy says so in `message`.
[[nodiscard]] TransitRemedy try_remedy(const Remedy& remedy, const Scenario& scenario, const Result& wound,
                                       const Predictor& predictor);

}  // namespace hoopfield
