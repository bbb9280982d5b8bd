// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/remedies.hpp"

#include <algorithm>
#include <numbers>

namespace hoopfield {
namespace {

// Own assumptions, said with each remedy.
constexpr double more_turns = 1.5, on_pallet = 0.1, lock = 2000.0, sheet = 0.6, fold_share = 0.25;

/// Tiers whose centre lies between two shares of the height.
void add_turns(TransitStack& stack, double from, double to) {
  const double height = stack.height();
  double below = 0.0;
  for (TransitTier& tier : stack.tiers) {
    const double centre = (below + 0.5 * tier.height) / height;
    if (centre >= from && centre < to) tier.hoop_tension *= more_turns, tier.stiffness *= more_turns;
    below += tier.height;
  }
}

void lay_sheet(TransitTier& tier) { tier.friction = std::max(tier.friction, sheet); }

double fold_hold(const TransitStack& stack) {
  double sum = 0.0;
  for (const TransitTier& tier : stack.tiers) sum += tier.hoop_tension * tier.height;
  return fold_share * 4.0 * std::numbers::sqrt2 * stack.film_friction * sum;
}

}  // namespace

std::vector<Remedy> remedies_of(const TransitStack& stack) {
  std::vector<Remedy> list = {{"as it is", [](TransitStack&) {}}};
  list.push_back({"half as many turns again everywhere", [](TransitStack& s) { add_turns(s, 0.0, 1.0); }});
  if (stack.tiers.size() >= 3) {
    list.push_back({"half as many turns again, lower third", [](TransitStack& s) { add_turns(s, 0.0, 1.0 / 3.0); }});
    list.push_back(
        {"half as many turns again, middle third", [](TransitStack& s) { add_turns(s, 1.0 / 3.0, 2.0 / 3.0); }});
    list.push_back({"half as many turns again, upper third", [](TransitStack& s) { add_turns(s, 2.0 / 3.0, 1.0); }});
  }
  if (stack.film_bottom > -on_pallet)
    list.push_back({"film 100 mm down on the pallet", [](TransitStack& s) { s.film_bottom = -on_pallet; }});
  if (stack.pallet_lock < lock)
    list.push_back({"film on the pallet and locked to it (2 kN)", [](TransitStack& s) {
                      s.film_bottom = std::min(s.film_bottom, -on_pallet);
                      s.pallet_lock = lock;
                    }});
  if (stack.top_fold_hold <= 0.0)
    list.push_back({"film folded over the top and held", [](TransitStack& s) { s.top_fold_hold = fold_hold(s); }});
  if (stack.tiers.front().friction < sheet)
    list.push_back({"friction sheet (0.6) under the lowest tier", [](TransitStack& s) { lay_sheet(s.tiers.front()); }});
  list.push_back({"friction sheet (0.6) under every tier", [](TransitStack& s) {
                    for (TransitTier& tier : s.tiers) lay_sheet(tier);
                  }});
  if (stack.columns > 1) list.push_back({"tiers interlocked", [](TransitStack& s) { s.columns = 1; }});
  return list;
}

}  // namespace hoopfield
