// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A load turned by a quarter turn under the same machine.
#pragma once

#include "sim/base/faces.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace test {

using hoopfield::Result;
using hoopfield::Scenario;

/// A scenario with its outlet at (d, d), and the same turned by -90 degrees: the outlet goes to (d, -d), length and
/// width change places.
inline std::pair<Scenario, Scenario> quarter_turn(Scenario s, double d) {
  s.load.axis_offset = 0.0;
  s.delivery.offset = s.delivery.distance = d;
  Scenario t = s;
  t.delivery.offset = -d;
  std::swap(t.load.length, t.load.width);
  std::swap(t.load.stiffness_along_length, t.load.stiffness_along_width);
  return {std::move(s), std::move(t)};
}

/// Greatest difference of the hoop tensions of such a pair, over the greatest tension; front, left, back, right become
/// right, front, left, back.
inline double turned_difference(const Result& a, const Result& b) {
  using namespace hoopfield;
  constexpr std::array<std::size_t, face_count> turned_face = {right, front, left, back};
  const Field &x = a.hoop_tension, &y = b.hoop_tension;
  double worst = 0.0, greatest = 1e-300;
  for (std::size_t m = 0; m < x.shape[0]; ++m)
    for (std::size_t f = 0; f < face_count; ++f)
      for (std::size_t h = 0; h < x.shape[2]; ++h) {
        greatest = std::max(greatest, x.at(m, f, h));
        worst = std::max(worst, std::abs(x.at(m, f, h) - y.at(m, turned_face[f], h)));
      }
  return worst / greatest;
}

/// The same of the means of the four faces, which a turn leaves as they are.
inline double turned_mean_difference(const Result& a, const Result& b) {
  using namespace hoopfield;
  const Field &x = a.hoop_tension, &y = b.hoop_tension;
  double worst = 0.0, greatest = 1e-300;
  for (std::size_t m = 0; m < x.shape[0]; ++m)
    for (std::size_t h = 0; h < x.shape[2]; ++h) {
      double sum = 0.0, other = 0.0;
      for (std::size_t f = 0; f < face_count; ++f) sum += x.at(m, f, h), other += y.at(m, f, h);
      greatest = std::max(greatest, sum);
      worst = std::max(worst, std::abs(sum - other));
    }
  return worst / greatest;
}

}  // namespace test
