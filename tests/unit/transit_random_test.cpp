// SPDX-License-Identifier: BSD-3-Clause
// Random stacks over the whole ranges of the goods: every one gives an answer in bounded time.
#include "sim/transit/ride.hpp"
#include "sim/transit/statics.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/transit_stacks.hpp"

#include <cmath>
#include <random>

using namespace hoopfield;

namespace {

/// Over the ranges that are declared for the goods, with masses from light tissue to bagged cement.
TransitStack random_stack(std::mt19937& random) {
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  const auto between = [&](double low, double high) { return low + (high - low) * uniform(random); };
  const auto evenly_in_log = [&](double low, double high) { return low * std::pow(high / low, uniform(random)); };
  TransitStack stack;
  stack.side = between(0.6, 1.2);
  stack.sliding_share = between(0.65, 1.0);
  stack.sway_stiffness = evenly_in_log(3e5, 1e7);
  stack.tier_stiffness = evenly_in_log(1e6, 5e7);
  stack.damping = evenly_in_log(0.05, 0.25);
  stack.bearing_share = between(0.85, 1.0);
  stack.columns = 1 + static_cast<int>(between(0.0, 2.99));
  const int count = 1 + static_cast<int>(between(0.0, 15.99));
  const double mass = evenly_in_log(40.0, 1500.0) / count, tension = between(0.0, 1200.0),
               height = between(0.8, 2.2) / count;
  for (int i = 0; i < count; ++i)
    stack.tiers.push_back({height, mass, between(0.25, 0.6), tension, between(6.0, 16.0) * tension});
  stack.film_top = stack.height();
  return stack;
}

}  // namespace

TEST_CASE("transit ride: random stacks over the ranges of the goods all give an answer", "[transit]") {
  std::mt19937 random(20);
  const Blow pulse = held_blow(0.4 * standard_gravity, 0.05, 0.3);
  double slowest = 1.0;
  for (int i = 0; i < 400; ++i) {
    const TransitStack stack = random_stack(random);
    const StackMotion motion(stack);
    slowest = std::min(slowest, motion.step());
    CAPTURE(i, stack.tiers.size(), stack.mass(), stack.sway_stiffness, stack.tier_stiffness, stack.damping);
    // What ride() would take; riding all of them would take minutes.
    CHECK(ride_duration(stack, pulse) / motion.step() < 2e6);
    if (i % 20 != 0 || motion.step() < 5e-5) continue;
    const Ride done = ride(stack, pulse, {});
    for (const RideTier& tier : done.tiers) CHECK(std::isfinite(tier.peak));
    CHECK(done.lean < 10.0);
  }
  CHECK(slowest > 1e-6);
}

TEST_CASE("transit ride: damping is bounded for stiff light goods, and usual goods keep theirs", "[transit]") {
  const TransitStack usual = test::eight_tiers(1.0, 600.0);
  CHECK(bounded_damping(usual, fastest_mode(usual, interface_laws(usual))) == usual.damping);
  TransitStack stiff = usual;
  stiff.tier_stiffness = 5e7;
  stiff.sway_stiffness = 3e5;
  stiff.damping = 0.25;
  for (TransitTier& tier : stiff.tiers) tier.mass = 1.0;
  const double fastest = fastest_mode(stiff, interface_laws(stiff));
  const double left = bounded_damping(stiff, fastest);
  CHECK(left < stiff.damping);
  CHECK(left * fastest / slowest_sway(stiff) == Approx(5.0).epsilon(1e-12));
  // A load ridden with that damping in the first place does the same.
  TransitStack heavier = stiff;
  for (TransitTier& tier : heavier.tiers) tier.mass = 40.0;
  const double slower = fastest_mode(heavier, interface_laws(heavier));
  CHECK(bounded_damping(heavier, slower) * slower / slowest_sway(heavier) > 5.0);
  CHECK(stable_step(heavier, slower) >= 0.999e-5);
  TransitStack eased = stiff;
  eased.damping = left;
  const Blow pulse = held_blow(0.3 * standard_gravity, 0.05, 0.3);
  RideOptions options;
  options.duration = 0.8;
  const Ride bounded = ride(stiff, pulse, options), less = ride(eased, pulse, options);
  CHECK(bounded.lean == Approx(less.lean).epsilon(1e-9));
}
