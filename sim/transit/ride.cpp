// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/ride.hpp"

#include "models/error.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace hoopfield {
namespace {

constexpr double most_steps = 2e6;

/// Follows a motion and notes what it did.
class Watch {
 public:
  Watch(const StackMotion& motion, const Blow& blow, const RideOptions& options, double after)
      : motion_(motion), blow_(blow), options_(options), height_(motion.stack().height()), after_(after) {
    ride_.tiers.resize(motion.tiers().size());
    resting_.resize(ride_.tiers.size());
    if (options_.record_interval > 0.0) before_ = state();
  }

  void note(const Drive& drive) {
    for (std::size_t i = 0; i < ride_.tiers.size(); ++i) note_tier(i, drive);
    const double lean = std::abs(motion_.top_shift());
    if (lean > ride_.lean) ride_.lean = lean, ride_.lean_time = motion_.time();
    if (motion_.time() > after_) ++resting_count_;
    if (options_.record_interval > 0.0) record();
  }

  /// The first limit that is exceeded so far.
  [[nodiscard]] RideFailure exceeded() const {
    for (const RideTier& tier : ride_.tiers)
      if (tier.slip_peak > options_.limits.shift * height_) return RideFailure::shift;
    return ride_.lean > options_.limits.lean * height_ ? RideFailure::lean : RideFailure::none;
  }

  Ride finish(bool fallen) {
    ride_.fallen = fallen;
    ride_.end = motion_.time();
    for (std::size_t i = 0; i < ride_.tiers.size(); ++i) {
      RideTier& tier = ride_.tiers[i];
      tier.slip = motion_.interfaces()[i].slip.slip;
      tier.permanent = resting_count_ > 0 ? resting_[i] / resting_count_ : motion_.tiers()[i].shift;
      if (tier.slip_time >= 0.0 && (!ride_.first_slip || tier.slip_time < ride_.tiers[*ride_.first_slip].slip_time))
        ride_.first_slip = i;
    }
    judge();
    return std::move(ride_);
  }

 private:
  void note_tier(std::size_t i, const Drive& drive) {
    RideTier& tier = ride_.tiers[i];
    const double shift = motion_.tiers()[i].shift;
    if (std::abs(shift) > std::abs(tier.peak)) tier.peak = shift;
    if (motion_.time() > after_) resting_[i] += shift;
    const StackMotion::Interface& at = motion_.interfaces()[i];
    tier.slip_peak = std::max(tier.slip_peak, std::abs(at.slip.slip));
    if (at.slip.sliding != 0 && tier.slip_time < 0.0) tier.slip_time = motion_.time();
    if (const double force = std::abs(at.film_force); force > tier.film_force) {
      tier.film_force = force;
      const InterfaceLaw& law = motion_.laws()[i];
      const double need = law.mass_above * (std::abs(drive.along) - law.shear.sliding_friction * drive.normal);
      tier.film_share = need > 0.0 ? force / need : 0.0;
    }
  }

  struct State {
    double time = 0.0;
    std::array<std::vector<double>, 4> of_tiers;  ///< shift, turn, slip, film force
  };
  [[nodiscard]] State state() const {
    State now;
    now.time = motion_.time();
    for (std::size_t i = 0; i < ride_.tiers.size(); ++i) {
      const StackMotion::Interface& at = motion_.interfaces()[i];
      const double values[] = {motion_.tiers()[i].shift, motion_.tiers()[i].turn, at.slip.slip, at.film_force};
      for (std::size_t k = 0; k < now.of_tiers.size(); ++k) now.of_tiers[k].push_back(values[k]);
    }
    return now;
  }

  /// Moments that lie in the step just taken.
  void record() {
    State now = state();
    const double step = now.time - before_.time, soon = now.time + 1e-6 * step;
    std::vector<double>* const kept[] = {&ride_.shift, &ride_.turn, &ride_.slip, &ride_.film_force};
    for (double t = next_record(); t <= soon; t = next_record()) {
      const double share = std::clamp((t - before_.time) / step, 0.0, 1.0);
      ride_.time.push_back(t);
      ride_.along.push_back(blow_.at(t).along);
      for (std::size_t k = 0; k < now.of_tiers.size(); ++k)
        for (std::size_t i = 0; i < ride_.tiers.size(); ++i)
          kept[k]->push_back(std::lerp(before_.of_tiers[k][i], now.of_tiers[k][i], share));
    }
    before_ = std::move(now);
  }
  [[nodiscard]] double next_record() const { return options_.record_interval * static_cast<double>(ride_.time.size()); }

  void judge() {
    ride_.failure = exceeded();
    if (ride_.fallen) {
      const auto slid_off = [](const StackMotion::Interface& at) { return !(at.bed_width > 0.0); };
      ride_.tipped = std::none_of(motion_.interfaces().begin(), motion_.interfaces().end(), slid_off);
      ride_.failure = ride_.tipped ? RideFailure::tip : RideFailure::slip;
    }
    if (ride_.failure != RideFailure::none) return;
    for (const RideTier& tier : ride_.tiers)
      if (std::abs(tier.permanent) > options_.limits.permanent * height_) ride_.failure = RideFailure::permanent;
  }

  const StackMotion& motion_;
  const Blow& blow_;
  const RideOptions& options_;
  double height_, after_;
  State before_;                 ///< a step ago
  std::vector<double> resting_;  ///< sum of displacements after `after_`
  int resting_count_ = 0;
  Ride ride_;
};

}  // namespace

double ride_duration(const TransitStack& stack, const Blow& blow) {
  constexpr double least = 1.1, most = 6.0;  // s
  const double decay = stack.damping > 0.0 ? 3.0 / (stack.damping * slowest_sway(stack)) : most;
  return blow.end + std::clamp(decay, least, most);
}

double Ride::greatest_slip() const {
  double greatest = 0.0;
  for (const RideTier& tier : tiers) greatest = std::max(greatest, tier.slip_peak);
  return greatest;
}

Ride ride(const TransitStack& stack, const Blow& blow, const RideOptions& options) {
  StackMotion motion(stack, options.step);
  const double duration = options.duration > 0.0 ? options.duration : ride_duration(stack, blow);
  // What stays is the mean over the last quarter of the time after the blow.
  Watch watch(motion, blow, options, duration - 0.25 * std::max(0.0, duration - blow.end));
  const double count = std::ceil(duration / motion.step());
  if (!(count <= most_steps))
    throw SolverError(
        "the load in transit would take " + short_number(count) + " steps in time: its goods are too stiff",
        "stiff goods hardly move: take transit.sway_stiffness, transit.tier_stiffness or transit.damping "
        "lower, down to where results no longer change");
  const auto steps = static_cast<long>(count);
  bool fallen = false;
  for (long k = 0; k < steps && !fallen; ++k) {
    const Drive drive = blow.at(motion.time());
    fallen = !motion.advance(drive);
    if (!fallen) watch.note(drive);
    if (options.stop_at_failure && watch.exceeded() != RideFailure::none) break;
  }
  return watch.finish(fallen);
}

double largest_blow(const TransitStack& stack, const std::function<Blow(double)>& blow_of, const RideLimits& limits) {
  constexpr double accuracy = 0.002 * standard_gravity, most = 4.0 * standard_gravity;
  RideOptions options;
  options.limits = limits;
  options.stop_at_failure = true;
  const auto held = [&](double level) { return ride(stack, blow_of(level), options).failure == RideFailure::none; };
  double low = 0.0, high = 0.5 * standard_gravity;
  while (high < most && held(high)) low = high, high *= 2.0;
  if (low >= most) return low;
  while (high - low > accuracy) {
    const double middle = 0.5 * (low + high);
    (held(middle) ? low : high) = middle;
  }
  return low;
}

}  // namespace hoopfield
