// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a deck that rolls adds to a push that tips a load.
#pragma once

namespace hoopfield {

/// Angular acceleration of a road vehicle's deck that rolls through 3 degrees in 1.5 s, 1/s^2 (Kaps,
/// validation/SOURCES.md).
inline constexpr double usual_roll = 1.0;

/// Side acceleration that tips a homogeneous block as much as the deck's angular acceleration alpha (1/s^2) does,
/// m/s^2: the moment `alpha m (b^2 + h^2)/12` about its centre over its mass and the height h/2 of that, `alpha (b^2 +
/// h^2)/(6 h)`. It counts against tipping, not against slip.
///
/// \param side b along the roll, m, > 0 \param height h, m, > 0
///
/// Check value: b 1.5 m, h 3 m, alpha 1: 0.0637 of gravity, below the 0.1 that Kaps calls enough. Pinned by
/// tests/unit/transit_statics_test.cpp, where the moment is that of a grid of points.
[[nodiscard]] constexpr double roll_allowance(double side, double height, double alpha) {
  return alpha * (side * side + height * height) / (6.0 * height);
}

}  // namespace hoopfield
