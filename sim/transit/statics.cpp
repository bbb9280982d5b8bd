// SPDX-License-Identifier: BSD-3-Clause
#include "sim/transit/statics.hpp"

#include "sim/transit/blows.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield {
namespace {

constexpr double lift_at_tipping = 0.01;  // m

/// Acceleration at which an interface starts to slip: friction, its clamp and the film depend on one another.
double first_slip(const InterfaceLaw& law) {
  const double weight = law.mass_above * standard_gravity;
  double friction = law.shear.static_friction * weight, film = 0.0;
  for (int round = 0; round < 30; ++round) {  // the film takes a hundredth of the goods' shear: three rounds settle it
    film = law.film.first_loading(friction / law.shear.stiffness);
    const double next = law.shear.static_friction * (weight + law.film.clamp(film));
    const bool settled = std::abs(next - friction) <= 1e-12 * next;
    friction = next;
    if (settled) break;
  }
  return (friction + film) / law.mass_above;
}

double tipping(const TransitStack& stack, const std::vector<InterfaceLaw>& laws, std::size_t i) {
  const InterfaceLaw& law = laws[i];
  const double weight = law.mass_above * standard_gravity, bearing = stack.bearing_share * stack.side;
  const double lever = law.mass_above * law.centre_above;
  const double whole = (0.5 * weight * bearing + law.lift.force(lift_at_tipping) * bearing) / lever;
  if (stack.columns == 1) return whole;
  double between = 0.0;
  for (std::size_t j = i; j < laws.size(); ++j) between += laws[j].column_limit;
  const double columns = stack.columns;
  const double apart = (0.5 * weight * bearing / columns + (columns - 1.0) * stack.side / columns * between) / lever;
  return std::min(whole, apart);
}

}  // namespace

StackStatics stack_statics(const TransitStack& stack, double slip_allowed) {
  return stack_statics(stack, interface_laws(stack), slip_allowed);
}

StackStatics stack_statics(const TransitStack& stack, const std::vector<InterfaceLaw>& laws, double slip_allowed) {
  StackStatics out;
  out.first_slip = out.held = out.sliding = out.tipping = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < laws.size(); ++i) {
    const InterfaceLaw& law = laws[i];
    const double weight = law.mass_above * standard_gravity;
    InterfaceStatics at;
    at.height = law.height;
    at.first_slip = first_slip(law);
    at.film_force = law.film.first_loading(slip_allowed);
    at.held = (law.shear.sliding_friction * (weight + law.film.clamp(at.film_force)) + at.film_force) / law.mass_above;
    at.tipping = tipping(stack, laws, i);
    if (at.held < out.held) {
      out.weakest = i;
      out.film_share = at.film_force / (at.held * law.mass_above);
    }
    out.first_slip = std::min(out.first_slip, at.first_slip);
    out.held = std::min(out.held, at.held);
    out.sliding = std::min(out.sliding, std::max(at.first_slip, at.held));
    out.tipping = std::min(out.tipping, at.tipping);
    out.interfaces.push_back(at);
  }
  return out;
}

}  // namespace hoopfield
