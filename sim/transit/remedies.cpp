// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/remedies.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <numbers>

namespace hoopfield {
namespace {

// Own assumptions, said with each remedy.
constexpr double more_turns = 1.5, on_pallet = 0.1, lock = 2000.0, sheet = 0.6, fold_share = 0.25;

Remedy more_turns_over(const char* where, double from, double upto) {
  return {std::string("half as many turns again") + where, {more_turns, from, upto}, {}, {}};
}

void reach_down(Scenario& s) { s.pattern.start_height = std::min(s.pattern.start_height, -on_pallet); }

void lay_sheet(TransitTier& tier) { tier.friction = std::max(tier.friction, sheet); }

double fold_hold(const TransitStack& stack) {
  double sum = 0.0;
  for (const TransitTier& tier : stack.tiers) sum += tier.hoop_tension * tier.height;
  return fold_share * 4.0 * std::numbers::sqrt2 * stack.film_friction * sum;
}

}  // namespace

std::vector<Remedy> remedies_of(const TransitStack& stack) {
  std::vector<Remedy> list = {{"as it is", {}, {}, {}}, more_turns_over(" everywhere", 0.0, 1.0)};
  if (stack.tiers.size() >= 3) {
    list.push_back(more_turns_over(", lower third", 0.0, 1.0 / 3.0));
    list.push_back(more_turns_over(", middle third", 1.0 / 3.0, 2.0 / 3.0));
    list.push_back(more_turns_over(", upper third", 2.0 / 3.0, 1.0));
  }
  if (stack.film_bottom > -on_pallet) list.push_back({"film 100 mm down on the pallet", {}, reach_down, {}});
  if (stack.pallet_lock < lock)
    list.push_back({"film on the pallet and locked to it (2 kN)",
                    {},
                    [](Scenario& s) {
                      reach_down(s);
                      s.transit.pallet_lock = lock;
                    },
                    {}});
  if (stack.top_fold_hold <= 0.0)
    list.push_back(
        {"film folded over the top and held", {}, {}, [](TransitStack& s) { s.top_fold_hold = fold_hold(s); }});
  if (stack.tiers.front().friction < sheet)
    list.push_back(
        {"friction sheet (0.6) under the lowest tier", {}, {}, [](TransitStack& s) { lay_sheet(s.tiers.front()); }});
  list.push_back({"friction sheet (0.6) under every tier", {}, {}, [](TransitStack& s) {
                    for (TransitTier& tier : s.tiers) lay_sheet(tier);
                  }});
  if (stack.columns > 1) list.push_back({"tiers interlocked", {}, {}, [](TransitStack& s) { s.columns = 1; }});
  return list;
}

TransitRemedy try_remedy(const Remedy& remedy, const Scenario& scenario, const Result& wound,
                         const Predictor& predictor) {
  TransitRemedy out;
  out.name = remedy.name;
  Scenario changed = scenario;
  Result again;
  const bool anew = remedy.rewind || remedy.denser.times != 1.0;
  if (anew) {
    if (remedy.rewind) remedy.rewind(changed);
    try {
      again = predictor(changed, remedy.denser);
    } catch (const Error& error) {
      out.message = error.what();
      return out;
    }
    out.more_film = again.film.mass - wound.film.mass;
  }
  const Result& result = anew ? again : wound;
  BothStacks stacks;
  for (std::size_t d = 0; d < stacks.size(); ++d) {
    stacks[d] = transit_stack(changed, result, weakest_moment, d);
    if (remedy.apply) remedy.apply(stacks[d]);
    out.withstood[d] = stack_statics(stacks[d], scenario.transit.slip_allowed).withstood();
    out.largest_blow[d] = largest_of(stacks[d], blow_shape(scenario.transit));
  }
  out.margin = least_margin(judge_levels(scenario.transit, stacks, out.largest_blow));
  return out;
}

}  // namespace hoopfield
