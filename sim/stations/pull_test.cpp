// SPDX-License-Identifier: BSD-3-Clause
#include "sim/stations/pull_test.hpp"

#include <boost/math/quadrature/gauss.hpp>

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

struct Strand {
  double path = 0.0;   // length over the plate, m
  double share = 0.0;  // sum of the sines of both ends
};

Strand strand_at(const PullTest& t, double z, double pulled) {
  const double c = std::sqrt(std::max(0.0, t.plate_radius * t.plate_radius - z * z));
  const double near = std::hypot(t.corner_distance - c, pulled);
  const double far = std::hypot(t.face_length - t.corner_distance - c, pulled);
  return {near + 2.0 * c + far, pulled / near + pulled / far};
}

// The plate moves at constant speed but the path grows with its square: the pull is cut so that the film sees that course.
constexpr int pull_pieces = 12;

}  // namespace

double tent_factor(double stiffness_over_force, double pull_distance, double plate_radius) {
  return 1.0 + 0.74 * std::pow(stiffness_over_force, 0.28) * std::pow(pull_distance / plate_radius, 0.86);
}

PullReading pull_test(const PullTest& test, const StackSetup& setup, const std::vector<LoadStack::Slice>& slices,
                      std::size_t face, double path_factor, double temperature) {
  PullReading reading;
  const double dt = test.pull_distance / test.pull_rate;
  const std::size_t branches = setup.law->branch_count();
  const std::size_t direction = face == left || face == right ? 0 : 1;
  const double plan = direction == 0 ? setup.length : setup.width;
  double weighted_stiffness = 0.0, tension = 0.0;
  for (std::size_t s = 0; s < slices.size(); ++s) {
    const double low = std::max(static_cast<double>(s) * setup.slice_height - test.height, -test.plate_radius);
    const double high = std::min(static_cast<double>(s + 1) * setup.slice_height - test.height, test.plate_radius);
    if (!(high > low)) continue;
    const LoadStack::Slice& slice = slices[s];
    for (std::size_t i = 0; i < slice.film.size; ++i) {
      if (slice.face[i] != face) continue;
      FilmState state;
      state.stretch = slice.film.stretch[i];
      for (std::size_t k = 0; k < branches; ++k) state.strain[k] = slice.film.strain[k * slice.film.stride + i];
      const double path_stretch = slice.reference_stretch[i] * (plan - slice.closing[direction]) * path_factor /
                                  slice.reference_path[i];
      const auto pulled = [&](double z) {
        FilmState moved = state;
        double stress = 0.0;
        for (int piece = 1; piece <= pull_pieces; ++piece) {
          const Strand strand = strand_at(test, z, test.pull_distance * piece / pull_pieces);
          FilmState trial = moved;
          stress = setup.law
                       ->step(trial, path_stretch * strand.path / test.face_length, dt / pull_pieces, setup.mode,
                              temperature, temperature)
                       .nominal;
          if (stress > 0.0) moved = trial;  // slack film waits until the plate has taken up its slack
        }
        return std::max(0.0, stress) * strand_at(test, z, test.pull_distance).share;
      };
      using Gauss = boost::math::quadrature::gauss<double, 5>;
      reading.strand_force += slice.weight[i] * Gauss::integrate(pulled, low, high);
      reading.resting_force += slice.weight[i] * slice.nominal[i] *
                               Gauss::integrate([&](double z) { return strand_at(test, z, test.pull_distance).share; }, low, high);
      if (slice.nominal[i] > 0.0) {
        const double share = slice.weight[i] * (high - low);
        weighted_stiffness += share * setup.law->stress(state, setup.mode, temperature).slope;
        tension += share * slice.nominal[i];
      }
    }
  }
  reading.stiffness_over_force = tension > 0.0 ? weighted_stiffness / tension : 0.0;
  return reading;
}

}  // namespace hoopfield
