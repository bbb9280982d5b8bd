// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The hot loop: closed-form steps of many film elements of law "eyring-network" in free width, several at a time.
#pragma once

#include "models/film/film_law.hpp"

#include <array>
#include <cstddef>

namespace hoopfield {

/// Constants of one block step; the law fills them once per call.
struct EyringBlockSetup {
  std::size_t branches = 0;
  bool is_jump = false;                        ///< no time passes: the branches only stretch
  double viscous_share = 0.0;                  ///< h
  double shape = 1.0;                          ///< q of the free mode
  double network_modulus = 0.0;                ///< G at the end temperature
  double stretch_limit = 1.0;                  ///< Jm
  std::array<double, max_branches> gain{};     ///< E/Y at the flow temperature (c = 1)
  std::array<double, max_branches> beta{};     ///< E r dt/Y
  std::array<double, max_branches> modulus{};  ///< E at the end temperature
};

/// Same mathematics as BranchedLaw<GentNetwork, EyringFlow>::step for one piece (|delta ln chi| small), on
/// structure-of-arrays data, in vectors of simd_path(). The blocks' padding is worked on, too. Pinned against the
/// scalar step by tests/unit/eyring_block_test.cpp to 1e-12.
void eyring_block_step(const EyringBlockSetup& setup, const FilmBlock& begin, FilmBlock& end, const double* stretch_end,
                       BlockStress& stress);

}  // namespace hoopfield
