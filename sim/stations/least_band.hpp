// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The weakest belt of film on a load.
#pragma once

#include "sim/base/faces.hpp"
#include "sim/stations/face_profile.hpp"

#include <array>
#include <optional>
#include <vector>

namespace hoopfield {

/// Where hoop tension is least over faces and heights.
struct LeastBand {
  double hoop_tension = 0.0;  ///< N/m, mean over the band
  double height = 0.0;        ///< m, middle of the band
  std::size_t face = 0;
};

/// Hoop tension at one moment in the band of film that holds least: on each face a band as high as those of the
/// stations slides from the lower to the upper edge of the film (the whole film where that is lower). It is the belt of
/// film that a strap or a pull test could meet, and hardly depends on the number of slices. The mean of the weakest
/// slice falls with its height, and what holds at a single height is no more than the edge of a film. Pinned by
/// tests/unit/band_least_test.cpp.
class LeastBandSearch {
 public:
  /// \param band m, > 0
  LeastBandSearch(const StationMoment& moment, double band);
  [[nodiscard]] const LeastBand& least() const { return least_; }

  /// The same film with other hoop tensions of the slices of one face, as at another time of storage; none when it
  /// cannot be less than `bound`, which is told without a search where every slice holds enough.
  [[nodiscard]] std::optional<LeastBand> below(double bound, std::size_t face,
                                               const std::vector<double>& slice_tension) const;

 private:
  struct Face {
    FaceProfile profile;
    std::array<double, 2> edges;  ///< of the film, m
    double least;                 ///< N/m
  };
  double band_;
  std::vector<Face> faces_;  ///< in the order of faces; without film no search
  LeastBand least_;
};

}  // namespace hoopfield
