// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/motion.hpp"

#include "models/transit/leaned_gravity.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

constexpr double fallen_turn = 0.5;  // rad; own assumption: nothing comes back from there

}  // namespace

StackMotion::StackMotion(const TransitStack& stack, std::optional<double> step)
    : stack_(stack), laws_(interface_laws(stack)), tiers_(stack.tiers.size()), interfaces_(stack.tiers.size()) {
  const double fastest = fastest_mode(stack_, laws_);
  if (stack_.damping > 0.0) {
    const double left = bounded_damping(stack_, fastest) / stack_.damping;
    for (InterfaceLaw& law : laws_) law.shear.damping *= left, law.rocking_damping *= left;
  }
  step_ = step ? *step : stable_step(stack_, fastest);
}

double StackMotion::top_shift() const {
  return tiers_.back().shift + 0.5 * stack_.tiers.back().height * tiers_.back().turn;
}

bool StackMotion::load_interface(std::size_t i, double gravity) {
  const InterfaceLaw& law = laws_[i];
  Interface& at = interfaces_[i];
  const Tier& tier = tiers_[i];
  const Tier below = i > 0 ? tiers_[i - 1] : Tier{};
  const double half = 0.5 * stack_.tiers[i].height, half_below = i > 0 ? 0.5 * stack_.tiers[i - 1].height : 0.0;
  at.offset = tier.shift - below.shift - half * tier.turn - half_below * below.turn;
  at.offset_rate = tier.speed - below.speed - half * tier.turn_rate - half_below * below.turn_rate;
  at.rotation = tier.turn - below.turn;
  at.rotation_rate = tier.turn_rate - below.turn_rate;

  const double columns = stack_.columns, weight = law.mass_above * gravity;
  at.bed_width = stack_.bearing_share * stack_.side / columns - std::abs(at.offset);
  if (!(at.bed_width > 0.0) || std::abs(tier.turn) > fallen_turn) return false;
  at.film_force = law.film.force(at.offset, at.film);
  at.pressed = weight + law.film.clamp(at.film_force);
  const double touching =
      bed_reaction(at.rotation, at.pressed / columns, at.bed_width, law.bed_stiffness).contact_share;
  at.lift_force = law.lift.force(std::abs(at.rotation) * at.bed_width * (1.0 - touching));
  at.pressed += at.lift_force;
  at.friction = law.shear.move(at.slip, at.offset_rate, step_, at.pressed);
  at.shear = at.friction.force + at.film_force + leaned_shear(weight, tier.turn, below.turn);

  const BedReaction bed = bed_reaction(at.rotation, at.pressed / columns, at.bed_width, law.bed_stiffness);
  at.damping_moment = law.rocking_damping * std::pow(bed.contact_share, 3) * at.rotation_rate;
  at.moment = columns * bed.moment + std::copysign(at.lift_force * 0.5 * stack_.side, at.rotation) + at.damping_moment;
  if (stack_.columns > 1) {
    const double arm = stack_.side / columns, slid = arm * tier.turn;
    double between = law.column_stiffness * (slid - at.column_slip);
    if (std::abs(between) > law.column_limit) {
      between = std::copysign(law.column_limit, between);
      at.column_slip = slid - between / law.column_stiffness;
    }
    at.column_moment = (columns - 1.0) * arm * between;
  }
  return true;
}

void StackMotion::move_tier(std::size_t i, const Drive& drive) {
  const TransitTier& in = stack_.tiers[i];
  const Interface& here = interfaces_[i];
  const Interface on_top = i + 1 < interfaces_.size() ? interfaces_[i + 1] : Interface{};
  const double weight_on_top = i + 1 < laws_.size() ? laws_[i + 1].mass_above * drive.normal : 0.0;
  Tier& tier = tiers_[i];
  const double columns = stack_.columns;
  const double inertia = in.mass * (in.height * in.height + std::pow(stack_.side / columns, 2)) / 12.0;
  const double gravity = leaned_moment({in.height, in.mass * drive.normal, laws_[i].mass_above * drive.normal,
                                        here.offset, weight_on_top, on_top.offset},
                                       tier.turn);
  const double moment =
      0.5 * in.height * (here.shear + on_top.shear) - here.moment + on_top.moment - here.column_moment + gravity;
  tier.speed += step_ * (drive.along + (on_top.shear - here.shear) / in.mass);
  tier.turn_rate += step_ * moment / inertia;
}

bool StackMotion::advance(const Drive& drive) {
  for (std::size_t i = 0; i < interfaces_.size(); ++i)
    if (!load_interface(i, drive.normal)) return false;
  for (std::size_t i = 0; i < tiers_.size(); ++i) move_tier(i, drive);
  for (Tier& tier : tiers_) {
    tier.shift += step_ * tier.speed;
    tier.turn += step_ * tier.turn_rate;
  }
  time_ += step_;
  return true;
}

MotionEnergy energy_of(const StackMotion& motion) {
  MotionEnergy sum;
  const TransitStack& stack = motion.stack();
  const double columns = stack.columns;
  double turned = 0.0;  // sum of h th^2/2 of the tiers below
  for (std::size_t i = 0; i < motion.tiers().size(); ++i) {
    const TransitTier& in = stack.tiers[i];
    const StackMotion::Tier& tier = motion.tiers()[i];
    const StackMotion::Interface& at = motion.interfaces()[i];
    const InterfaceLaw& law = motion.laws()[i];
    const double inertia = in.mass * (in.height * in.height + std::pow(stack.side / columns, 2)) / 12.0;
    sum.kinetic += 0.5 * (in.mass * tier.speed * tier.speed + inertia * tier.turn_rate * tier.turn_rate);
    sum.sheared += 0.5 * law.shear.stiffness * at.slip.shear * at.slip.shear;
    sum.bed += columns * bed_reaction(at.rotation, at.pressed / columns, at.bed_width, law.bed_stiffness).energy;
    const double below = i > 0 ? motion.tiers()[i - 1].turn : 0.0;
    sum.gravity -= in.mass * standard_gravity * (turned + 0.25 * in.height * tier.turn * tier.turn) +
                   0.5 * law.mass_above * standard_gravity * at.offset * (tier.turn + below);
    turned += 0.5 * in.height * tier.turn * tier.turn;
  }
  return sum;
}

}  // namespace hoopfield
