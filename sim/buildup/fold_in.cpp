// SPDX-License-Identifier: BSD-3-Clause
#include "sim/buildup/fold_in.hpp"

#include "sim/film_path/monotone_root.hpp"

#include <boost/math/quadrature/gauss.hpp>

#include <algorithm>
#include <cmath>

namespace hoopfield {

FilmState fold_in(const FilmLaw& law, const FilmState& laid, const WidthMode& mode, double temperature,
                  double laid_width, double overhang, double perimeter) {
  if (!(overhang > 0.0)) return laid;
  const double wanted = law.stress(laid, mode, temperature).nominal * laid_width;
  const double free_stretch = stretch_at_stress(law, laid, 0.0, mode, temperature);
  const auto stress_at = [&](double stretch) {
    FilmState moved = laid;
    return law.step(moved, stretch, 0.0, mode, temperature, temperature).nominal;
  };
  const auto carried = [&](double stretch) {
    // Strands higher than `taut` are slack; below it the stress is smooth and Gauss points suffice.
    const double taut = std::clamp(0.125 * perimeter * (1.0 - free_stretch / stretch), 0.0, overhang);
    double folded = 0.0;
    if (taut > 0.0)
      folded = boost::math::quadrature::gauss<double, 10>::integrate(
          [&](double u) { return stress_at(stretch * (1.0 - 8.0 * u / perimeter)); }, 0.0, taut);
    return (laid_width - overhang) * stress_at(stretch) + folded;
  };
  const double stretch = increasing_root([&](double l) { return carried(l) / wanted - 1.0; }, laid.stretch, 1e-13,
                                         "film folded over the top edge");
  FilmState folded = laid;
  law.step(folded, stretch, 0.0, mode, temperature, temperature);
  return folded;
}

}  // namespace hoopfield
