// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The round-plate pull test, strand by strand.
#pragma once

#include "sim/buildup/load_stack.hpp"

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
  double strand_force = 0.0;    ///< F_s, N
  double resting_force = 0.0;   ///< the same strands at the tension they had before the pull, N
  double stiffness_over_force = 0.0;  ///< EA/N of the film under the plate, elastic, weighted by tension
};

/// Strands of the plate's height pulled out by d: with `c = sqrt(R^2 - z^2)` a strand runs over
/// `path(z) = sqrt((a-c)^2 + d^2) + 2c + sqrt((b-a-c)^2 + d^2)` and pulls back with
/// `F_s = int_-R^R sum_i N_i [d/sqrt((a-c)^2+d^2) + d/sqrt((b-a-c)^2+d^2)] dz`, N_i through the film law at path/b in the
/// time d/rate. Film is a sheet, not strands: see tent_factor.
/// Pinned by tests/unit/pull_test_test.cpp.
[[nodiscard]] PullReading pull_test(const PullTest& test, const StackSetup& setup,
                                    const std::vector<LoadStack::Slice>& slices, std::size_t face, double path_factor,
                                    double temperature);

/// Pull force of the sheet over the strand sum: `k_t = 1 + 0.74 (EA/N)^0.28 (d/R)^0.86`, from a membrane computation for a tall
/// sheet held at the corners (range 1.6 to 2.9 by height of the sheet and hold at the corners). Dimensionless.
[[nodiscard]] double tent_factor(double stiffness_over_force, double pull_distance, double plate_radius);

}  // namespace hoopfield
