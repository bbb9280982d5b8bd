// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The round-plate pull test, strand by strand.
#pragma once

#include "sim/buildup/load_stack.hpp"
#include "sim/buildup/schedule.hpp"
#include "sim/inputs/scenario.hpp"

#include <cstddef>
#include <vector>

namespace hoopfield {

/// Geometry of a pull test on one face. Lengths in m, rate in m/s.
struct PullTest {
  double height = 0.0;           ///< of the plate centre
  double face_length = 0.0;      ///< b
  double corner_distance = 0.0;  ///< a, plate centre from a corner
  double plate_radius = 0.0;     ///< R
  double pull_distance = 0.0;    ///< d
  double pull_rate = 0.0;
};

struct PullReading {
  double strand_force = 0.0;          ///< F_s, N
  double resting_force = 0.0;         ///< the same strands at the tension they had before the pull, N
  double stiffness_over_force = 0.0;  ///< EA/N of the film under the plate, elastic, weighted by tension
};

/// Strands of the plate's height pulled out by d: with `c = sqrt(R^2 - z^2)` a strand runs over
/// `path(z) = sqrt((a-c)^2 + d^2) + 2c + sqrt((b-a-c)^2 + d^2)` and pulls back with
/// `F_s = int_-R^R sum_i N_i [d/sqrt((a-c)^2+d^2) + d/sqrt((b-a-c)^2+d^2)] dz`, N_i through the film law at path/b in
/// the time d/rate. The load does not move and the length b is not closed. The pull is one move of constant plate
/// speed, cut into so many pieces of constant log rate that the tautest strand errs by less than the tolerance; what is
/// left of its error is taken off all strands. Film is a sheet, not strands: see tent_factor.
/// `patches`, where given, say where film lies in a slice that the plate's edge cuts.
/// Pinned by tests/unit/pull_test_test.cpp.
[[nodiscard]] PullReading pull_test(const PullTest& test, const StackSetup& setup,
                                    const std::vector<LoadStack::Slice>& slices, std::size_t face, double path_factor,
                                    double temperature, const std::vector<LaidPatch>* patches = nullptr);

/// What the tent round the plate depends on. Lengths in m.
struct Tent {
  double stiffness_over_force = 0.0;  ///< K = EA/N = d ln N / d ln l of the film under the plate
  double face_length = 0.0;           ///< b
  double plate_radius = 0.0;          ///< R
  double pull_distance = 0.0;         ///< d
  double edge_above = 0.0;            ///< z_u, from the plate's centre to the upper edge of the film
  double edge_below = 0.0;            ///< z_d, to the lower edge
  PullSlit slit = PullSlit::unknown;
};

/// Pull force of the sheet over the strand sum, dimensionless:
/// `k_t = 1 + c 0.278 K^0.364 (d/R)^0.804 (b/R)^0.323 [1 - exp(-z/l)]`, `l = 0.575 K^0.25 sqrt(d b)`,
/// `z = 2/(1/z_u + 1/z_d)`, from a membrane computation of film that wrinkles instead of carrying compression (c = 1:
/// held corners, free upper edge, no slit, frictionless plate, isotropic film; rms error 2.2 %, greatest 6.3 %). c is
/// the median over what is not known (corner friction 0.1 to 0.5, stiffness upwards 0.2 to 1 of that along, plate
/// friction 0 to 0.4, top edge free, folded or clamped), for a pull of 50 and 100 mm, linear between and constant
/// beyond: slit "none" 0.93 and 0.92 (5 to 95 %: 0.78 to 1.24 at 100 mm), "beside" the plate 0.42 and 0.55 (0.37 to
/// 0.81), "unknown" 0.66 and 0.72 (0.38 to 1.14; 0.66 = the mean of the other two at 50 mm, times what their mean is
/// off at 100 mm). Own assumptions, no data. Fitted over K 6 to 20, d 10 to 100 mm, b 0.8 to 1.2 m, R 50 to 100 mm, z
/// 0.2 to 0.75 m.
/// Special cases: no film above or below (z = 0) or no pull gives 1.
/// Pinned by tests/unit/pull_test_test.cpp and, against a membrane program, tests/consistency/test_membrane.py.
[[nodiscard]] double tent_factor(const Tent& tent);

}  // namespace hoopfield
