// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The rate-independent part of a film law.
#pragma once

#include "models/film/description.hpp"
#include "models/film/width_mode.hpp"

#include <vector>

namespace hoopfield {

/// True stress and its derivative by ln l.
struct EquilibriumStress {
  double stress = 0.0;
  double slope = 0.0;
};

/// Gent network: `s_net = G Jm/(Jm-(I1-3)) g(l)`; G, Jm see NetworkParameters, I1 and g see WidthMode.
/// Special cases: Jm -> infinity is the neo-Hookean network; n = 1/2 gives `g = l^2 - 1/l`.
/// Source: Gent 1996 (form from memory); pinned by tests/unit/equilibrium_test.cpp.
class GentNetwork {
 public:
  explicit GentNetwork(const NetworkParameters& parameters) : parameters_(parameters) {}
  [[nodiscard]] EquilibriumStress at(double stretch, const WidthMode& mode) const {
    if (parameters_.modulus == 0.0) return {};
    const double limit = parameters_.stretch_limit;
    // Past the limit no film exists; a tiny rest keeps iterations finite and drives them back.
    const WidthMode::Values v = mode.at(stretch);
    const double rest = limit - (v.invariant - 3.0);
    const double room = rest > 1e-9 * limit ? rest : 1e-9 * limit;
    const double factor = parameters_.modulus * limit / room;
    return {factor * v.drive, factor * (v.drive_log_slope + v.drive * v.invariant_log_slope / room)};
  }
  [[nodiscard]] const NetworkParameters& parameters() const { return parameters_; }
  /// Stretch at which I1 - 3 reaches Jm, by Newton's steps from above; infinite without a network.
  [[nodiscard]] double stretch_limit(const WidthMode& mode) const;

 private:
  NetworkParameters parameters_;
};

/// Tabulated elastic curve of nominal stress against stretch, monotone cubic between the points (Fritsch & Carlson
/// 1980, from memory), straight beyond the last. Holds for the width mode it was measured in; the mode given is not
/// used. Pinned by tests/unit/equilibrium_test.cpp.
class TabulatedCurve {
 public:
  /// Throws InputError when stretch or stress do not rise.
  explicit TabulatedCurve(std::vector<CurvePoint> points);
  [[nodiscard]] EquilibriumStress at(double stretch, const WidthMode& mode) const;
  [[nodiscard]] double stretch_limit(const WidthMode& mode) const;

 private:
  std::vector<CurvePoint> points_;
  std::vector<double> slopes_;
};

}  // namespace hoopfield
