// SPDX-License-Identifier: BSD-3-Clause
// The network against measured rubber: Treloar 1944, Trans. Faraday Soc. 40:59 (not read), as tabulated in the file
// examples/hyperelasticity/comparison/Treloar.txt of the repository 3MAH/simcoon (commit 3b62e075; read in full).
// Uniaxial = free width (n = 1/2), pure shear = width held (n = 0): two width modes of one material.
#include "models/film/equilibrium.hpp"
#include "tests/support/catch.hpp"

#include <cmath>
#include <utility>
#include <vector>

using namespace hoopfield;

namespace {

using Table = std::vector<std::pair<double, double>>;  // stretch, nominal stress in MPa

const Table uniaxial = {{1.01, 0.03}, {1.12, 0.14}, {1.24, 0.23}, {1.39, 0.32}, {1.61, 0.41}, {1.89, 0.50},
                        {2.17, 0.58}, {2.42, 0.67}, {3.01, 0.85}, {3.58, 1.04}, {4.03, 1.21}, {4.76, 1.58},
                        {5.36, 1.94}, {5.76, 2.29}, {6.16, 2.67}, {6.40, 3.02}, {6.62, 3.39}, {6.87, 3.75},
                        {7.05, 4.12}, {7.16, 4.47}, {7.27, 4.85}, {7.43, 5.21}, {7.50, 5.57}, {7.61, 6.30}};
const Table planar = {{1.06, 0.07}, {1.14, 0.16}, {1.21, 0.24}, {1.32, 0.33}, {1.46, 0.42}, {1.87, 0.59}, {2.40, 0.76},
                      {2.98, 0.93}, {3.48, 1.11}, {3.96, 1.28}, {4.36, 1.46}, {4.69, 1.62}, {4.96, 1.79}};

double nominal(double modulus, double limit, double stretch, const WidthMode& mode) {
  return GentNetwork({modulus, limit}).at(stretch, mode).stress / stretch;
}

/// Root mean square of the misses.
double rms(const Table& table, double modulus, double limit, const WidthMode& mode) {
  double sum = 0.0;
  for (const auto& [stretch, stress] : table) sum += std::pow(nominal(modulus, limit, stretch, mode) - stress, 2);
  return std::sqrt(sum / static_cast<double>(table.size()));
}

/// Least-squares modulus at a limit.
double best_modulus(const Table& table, double limit, const WidthMode& mode) {
  double top = 0.0, bottom = 0.0;
  for (const auto& [stretch, stress] : table) {
    const double unit = nominal(1.0, limit, stretch, mode);
    top += unit * stress;
    bottom += unit * unit;
  }
  return top / bottom;
}

}  // namespace

TEST_CASE("network: Treloar's uniaxial curve is fitted, his planar curve foretold", "[equilibrium]") {
  const WidthMode free = WidthMode::free(), held = WidthMode::power(0.0);
  double limit = 60.0;
  for (double trial = 57.0; trial < 200.0; trial += 0.01)
    if (rms(uniaxial, best_modulus(uniaxial, trial, free), trial, free) <
        rms(uniaxial, best_modulus(uniaxial, limit, free), limit, free))
      limit = trial;
  const double modulus = best_modulus(uniaxial, limit, free);
  // Start values of Hyperelastics.jl for this law and these data: 0.240 MPa, 80.
  CHECK(modulus == Approx(0.245).epsilon(0.02));
  CHECK(limit == Approx(79.4).epsilon(0.02));
  CHECK(rms(uniaxial, modulus, limit, free) < 0.085);
  CHECK(rms(planar, modulus, limit, held) < 0.12);
  for (const auto& [stretch, stress] : planar) {
    INFO("planar at " << stretch);
    CHECK(nominal(modulus, limit, stretch, held) == Approx(stress).epsilon(0.35));
  }
}

TEST_CASE("network: small-strain modulus of Treloar's curves", "[equilibrium]") {
  Table low, low_planar;
  for (const auto& p : uniaxial)
    if (p.first <= 1.5) low.push_back(p);
  for (const auto& p : planar)
    if (p.first <= 1.5) low_planar.push_back(p);
  CHECK(best_modulus(low, 1e9, WidthMode::free()) == Approx(0.380).epsilon(0.05));
  CHECK(best_modulus(low_planar, 1e9, WidthMode::power(0.0)) == Approx(0.368).epsilon(0.05));
}
