// SPDX-License-Identifier: BSD-3-Clause
#include "sim/stations/blow_stiffness.hpp"

#include <algorithm>

namespace hoopfield {

Field blow_stiffness(const StackSetup& setup, const std::vector<LoadStack::Slice>& slices, double temperature) {
  Field stiffness;
  stiffness.resize({face_count, slices.size()}, 0.0);
  const std::size_t branches = setup.law->branch_count();
  FilmBlock end;
  BlockStress stress;
  for (std::size_t s = 0; s < slices.size(); ++s) {
    const LoadStack::Slice& slice = slices[s];
    if (slice.film.size == 0) continue;
    end.allocate(slice.film.stride, branches);
    stress.allocate(slice.film.stride, branches);
    setup.law->step_block(slice.film, end, slice.film.stretch.data(), blow_duration, setup.mode, temperature,
                          temperature, stress);
    for (std::size_t i = 0; i < slice.film.size; ++i)
      if (slice.nominal[i] > 0.0)
        stiffness.at(slice.face[i], s) += slice.weight[i] * std::max(0.0, stress.slope[i] - stress.nominal[i]);
  }
  return stiffness;
}

}  // namespace hoopfield
