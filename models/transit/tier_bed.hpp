// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Goods on goods that can press but not pull: a tier that rocks on the one below.
#pragma once

namespace hoopfield {

/// Moment of a tier that rocks, and what else follows from where it still touches.
struct BedReaction {
  double moment = 0.0;         ///< M against the rotation, N m
  double contact_share = 1.0;  ///< c/b_e, touching share of the width
  double energy = 0.0;         ///< integral of M over the rotation, J
};

/// Elastic bed without tension (Winkler) of width b_e and stiffness k_w per area of side and depth, under a central
/// load P' at a rotation phi.
///
///     |phi| <= 2 P'/(k_w b_e^2):  M = k_w b_e^3 phi/12
///     beyond:                     M = P' (b_e/2 - c/3),  c = sqrt(2 P'/(k_w |phi|))
///
/// \param rotation phi, rad \param load P', N, >= 0 \param width b_e, m, > 0 \param stiffness k_w, N/m^2, > 0
/// Special cases: no load or no width give no moment; a stiff bed carries P' b_e/2, the block on its edge.
/// Source: mechanics of an elastic bed. Pinned by tests/unit/transit_bed_test.cpp.
[[nodiscard]] BedReaction bed_reaction(double rotation, double load, double width, double stiffness);

}  // namespace hoopfield
