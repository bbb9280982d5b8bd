// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/transit_stack.hpp"

#include "models/error.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopfield {
namespace {

/// Vertical force that film on a height of load can hand over at its four corners.
double hold_of(const TransitStack& stack, double tension_times_height) {
  return 4.0 * std::numbers::sqrt2 * stack.film_friction * tension_times_height;
}

SlipPlane film_across(const TransitStack& stack, std::size_t i, double height) {
  const TransitTier& tier = stack.tiers[i];
  double above = 0.0, below = stack.tiers[0].hoop_tension * std::max(0.0, -stack.film_bottom);
  for (std::size_t j = 0; j < stack.tiers.size(); ++j)
    (j < i ? below : above) += stack.tiers[j].hoop_tension * stack.tiers[j].height;
  SlipPlaneInput in;
  in.side = stack.side;
  in.tension = tier.hoop_tension;
  in.stiffness = tier.stiffness;
  in.film_above = stack.film_top - height;
  in.film_below = height - stack.film_bottom;
  in.hold_above = hold_of(stack, above) + stack.top_fold_hold;
  in.hold_below = hold_of(stack, below) + stack.pallet_lock;
  in.held_at_top = stack.top_fold_hold > 0.0;
  in.held_at_bottom = stack.pallet_lock > 0.0;
  return SlipPlane(in);
}

void require_stack(const TransitStack& stack) {
  if (stack.tiers.empty()) throw OutOfRange("load.tiers: a stack needs a tier");
  for (const TransitTier& tier : stack.tiers)
    if (!(tier.height > 0.0 && tier.mass > 0.0)) throw OutOfRange("load.tier: a tier needs a height and a mass");
  if (!(stack.side > 0.0)) throw OutOfRange("load.length: a stack needs a side along its motion");
  if (stack.columns < 1) throw OutOfRange("transit.columns: a stack needs a column");
}

/// Matrix of the linear stack at rest over its masses; rows and columns go x_1, th_1, x_2, ...
Eigen::MatrixXd scaled_stiffness(const TransitStack& stack, const std::vector<InterfaceLaw>& laws) {
  const auto size = static_cast<Eigen::Index>(2 * laws.size());
  const double columns = stack.columns, width = stack.bearing_share * stack.side / columns;
  Eigen::MatrixXd k = Eigen::MatrixXd::Zero(size, size);
  Eigen::VectorXd root(size);
  for (Eigen::Index i = 0; i < size / 2; ++i) {
    const auto at = static_cast<std::size_t>(i);
    const TransitTier& tier = stack.tiers[at];
    Eigen::VectorXd offset = Eigen::VectorXd::Zero(size), rotation = Eigen::VectorXd::Zero(size);
    offset(2 * i) = 1.0, offset(2 * i + 1) = -0.5 * tier.height, rotation(2 * i + 1) = 1.0;
    if (i > 0)
      offset(2 * i - 2) = -1.0, offset(2 * i - 1) = -0.5 * stack.tiers[at - 1].height, rotation(2 * i - 1) = -1.0;
    const InterfaceLaw& law = laws[at];
    k += (law.shear.stiffness + law.film.stiffness()) * offset * offset.transpose();
    k += columns * law.bed_stiffness * width * width * width / 12.0 * rotation * rotation.transpose();
    k(2 * i + 1, 2 * i + 1) += law.column_stiffness * (columns - 1.0) * std::pow(stack.side / columns, 2);
    root(2 * i) = 1.0 / std::sqrt(tier.mass);
    root(2 * i + 1) =
        1.0 / std::sqrt(tier.mass * (std::pow(tier.height, 2) + std::pow(stack.side / columns, 2)) / 12.0);
  }
  return root.asDiagonal() * k * root.asDiagonal();
}

}  // namespace

double TransitStack::height() const {
  double sum = 0.0;
  for (const TransitTier& tier : tiers) sum += tier.height;
  return sum;
}

double TransitStack::mass() const {
  double sum = 0.0;
  for (const TransitTier& tier : tiers) sum += tier.mass;
  return sum;
}

double slowest_sway(const TransitStack& stack) {
  const auto count = static_cast<double>(stack.tiers.size());
  return 2.0 * std::sqrt(stack.sway_stiffness * count / stack.mass()) *
         std::sin(std::numbers::pi / (2.0 * (2.0 * count + 1.0)));
}

std::vector<InterfaceLaw> interface_laws(const TransitStack& stack) {
  require_stack(stack);
  std::vector<InterfaceLaw> laws(stack.tiers.size());
  const double sway = slowest_sway(stack), columns = stack.columns;
  const double width = stack.bearing_share * stack.side / columns;
  double height = 0.0;
  for (std::size_t i = 0; i < laws.size(); ++i) {
    const TransitTier& tier = stack.tiers[i];
    InterfaceLaw& law = laws[i];
    const double on_pallet = i == 0 ? 2.0 : 1.0;
    law.height = height;
    law.shear.stiffness = on_pallet * stack.sway_stiffness;
    law.shear.damping = 2.0 * stack.damping * law.shear.stiffness / sway;
    law.shear.static_friction = tier.friction;
    law.shear.sliding_friction = stack.sliding_share * tier.friction;
    law.bed_stiffness = on_pallet * stack.tier_stiffness / stack.side;
    law.rocking_damping = 2.0 * stack.damping * columns * law.bed_stiffness * std::pow(width, 3) / (12.0 * sway);
    law.film = film_across(stack, i, height);
    const double per_height = hold_of(stack, tier.hoop_tension);
    const double gripped = per_height > 0.0 ? law.film.hold() / per_height : 0.0;
    law.lift = EdgeLift(tier.stiffness, law.film.hold(), gripped, stack.side);
    law.column_stiffness = stack.columns > 1 ? stack.tier_stiffness : 0.0;
    law.column_limit = stack.case_friction * 2.0 * tier.hoop_tension * tier.height;
    height += tier.height;
  }
  double moment = 0.0, mass = 0.0;  // of the mass above, about the deck
  for (std::size_t i = laws.size(); i-- > 0;) {
    const TransitTier& tier = stack.tiers[i];
    mass += tier.mass;
    moment += tier.mass * (laws[i].height + 0.5 * tier.height);
    laws[i].mass_above = mass;
    laws[i].centre_above = moment / mass - laws[i].height;
  }
  return laws;
}

double fastest_mode(const TransitStack& stack, const std::vector<InterfaceLaw>& laws) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(scaled_stiffness(stack, laws), Eigen::EigenvaluesOnly);
  return std::sqrt(solver.eigenvalues().maxCoeff());
}

double bounded_damping(const TransitStack& stack, double fastest) {
  constexpr double always = 5.0;       // times critical
  constexpr double short_step = 1e-5;  // s
  const double at_short_step = 0.8 / (2.0 * short_step * fastest);
  return std::min(stack.damping, std::max(always, at_short_step) * slowest_sway(stack) / fastest);
}

double stable_step(const TransitStack& stack, double fastest) {
  const double damping = bounded_damping(stack, fastest);
  double step = std::min(2.5e-4, 0.8 / fastest);
  if (damping > 0.0) step = std::min(step, 0.8 * slowest_sway(stack) / (2.0 * damping * fastest * fastest));
  return step;
}

}  // namespace hoopfield
