// SPDX-License-Identifier: BSD-3-Clause
#include "models/transit/tier_bed.hpp"

#include <cmath>

namespace hoopfield {

BedReaction bed_reaction(double rotation, double load, double width, double stiffness) {
  if (!(load > 0.0 && width > 0.0)) return {0.0, 0.0, 0.0};
  const double turn = std::abs(rotation), lift_off = 2.0 * load / (stiffness * width * width);
  const double linear = stiffness * width * width * width / 12.0;
  if (turn <= lift_off) return {linear * rotation, 1.0, 0.5 * linear * turn * turn};
  const double contact = std::sqrt(2.0 * load / (stiffness * turn));
  const double moment = load * (0.5 * width - contact / 3.0);
  const double root = std::sqrt(2.0 * load / stiffness);
  const double energy = 0.5 * linear * lift_off * lift_off + 0.5 * load * width * (turn - lift_off) -
                        2.0 / 3.0 * load * root * (std::sqrt(turn) - std::sqrt(lift_off));
  return {std::copysign(moment, rotation), contact / width, energy};
}

}  // namespace hoopfield
