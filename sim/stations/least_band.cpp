// SPDX-License-Identifier: BSD-3-Clause
#include "sim/stations/least_band.hpp"

#include <limits>
#include <utility>

namespace hoopfield {

LeastBandSearch::LeastBandSearch(const StationMoment& m, double band) : band_(band) {
  least_.hoop_tension = std::numeric_limits<double>::infinity();
  for (std::size_t f = 0; f < face_count; ++f) {
    const auto [low, high] = m.film_edges[f];
    FaceProfile profile(m, f, low, high);
    const FaceProfile::Band found = profile.least_band(low, high, band);
    if (high > low && found.tension < least_.hoop_tension * (1.0 - 1e-12)) least_ = {found.tension, found.height, f};
    faces_.push_back({std::move(profile), m.film_edges[f], high > low ? found.tension : least_.hoop_tension});
  }
  if (least_.hoop_tension == std::numeric_limits<double>::infinity()) least_.hoop_tension = 0.0;
}

std::optional<LeastBand> LeastBandSearch::below(double bound, std::size_t face,
                                                const std::vector<double>& slice_tension) const {
  const auto& [profile, edges, least] = faces_[face];
  if (!(edges[1] > edges[0]) || profile.least_ratio(slice_tension) * least >= bound) return std::nullopt;
  const FaceProfile::Band found = profile.with(slice_tension).least_band(edges[0], edges[1], band_);
  if (!(found.tension < bound)) return std::nullopt;
  return LeastBand{found.tension, found.height, face};
}

}  // namespace hoopfield
