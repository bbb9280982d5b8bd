// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Hoop tension of one face over the height of the load, film read by its edges.
#pragma once

#include "sim/stations/containment.hpp"

#include <cstddef>
#include <vector>

namespace hoopfield {

/// Hoop tension (N/m) of a face at every height from one to another, mean along the face: the sum over the film that
/// lies at that height of its section per width times the share of the face's length it covers times its stress. The
/// stress is that of the film's slice, so between the edges of film and of slices the profile is straight; at those it
/// may jump. Without patches film is spread evenly over its slice. Pinned by tests/unit/face_profile_test.cpp.
class FaceProfile {
 public:
  /// Heights in m, within the load; none when high = low.
  FaceProfile(const StationMoment& moment, std::size_t face, double low, double high);

  /// Least at any height; 0 without a height.
  [[nodiscard]] double least() const;

  struct Band {
    double tension = 0.0;  ///< N/m, mean over the band
    double height = 0.0;   ///< m, middle of the band
  };
  /// The band `height` high (m, > 0) that holds least of all within [low, high], which the profile covers: exactly, for
  /// as the band slides up its mean changes by what enters less what leaves. Where less than its height is there, the
  /// band is what is there; no tension without a height.
  [[nodiscard]] Band least_band(double low, double high, double height) const;

  /// The same film with other hoop tensions of the slices (N/m, by number of slice): each piece holds as much more as
  /// its slice does; a slice that held nothing holds the same at every height.
  [[nodiscard]] FaceProfile with(const std::vector<double>& slice_tension) const;

  /// Least of other tensions of the slices over those here; infinite when none holds anything here.
  [[nodiscard]] double least_ratio(const std::vector<double>& slice_tension) const;

 private:
  struct Piece {
    std::size_t slice = 0;
    double low = 0.0, high = 0.0;        ///< m
    double at_low = 0.0, at_high = 0.0;  ///< N/m, just inside
    double slice_tension = 0.0;          ///< N/m, mean over the slice
    [[nodiscard]] double at(double height) const { return at_low + (at_high - at_low) * (height - low) / (high - low); }
  };
  void add_slice(const StationMoment& moment, std::size_t face, std::size_t slice, double low, double high);
  [[nodiscard]] double force_between(double low, double high) const;  ///< N
  /// First piece, from one on, that reaches above a height; the last when none does.
  [[nodiscard]] std::size_t piece_above(double height, std::size_t from) const;
  std::vector<Piece> pieces_;  ///< from below, each next to the one before
};

}  // namespace hoopfield
