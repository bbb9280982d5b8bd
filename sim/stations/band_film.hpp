// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film between two heights of a wrapped load, cut where the heights are and not where slices meet.
#pragma once

#include "sim/stations/containment.hpp"

#include <array>
#include <utility>
#include <vector>

namespace hoopfield {

/// Part of a slice, or all of it, between two heights.
struct SlicePart {
  std::size_t slice = 0;
  double low = 0.0, high = 0.0;  ///< m
  bool is_whole = true;
};

/// Parts of the slices that reach into [low, high], from below; at least one, also where low = high. \param slice_count
/// > 0
[[nodiscard]] std::vector<SlicePart> slice_parts(double slice_height, std::size_t slice_count, double low, double high);

/// Section of film element `element` of a slice per height of a part of it, m: its weight over a whole slice, and the
/// film that covers the part where the part is less, for an edge of the film may run through the slice. Without patches
/// film counts as spread evenly over its slice.
[[nodiscard]] double section_in(const SlicePart& part, const LoadStack::Slice& slice, std::size_t element,
                                const std::vector<LaidPatch>* patches);

/// Ends of the band [height - band/2, height + band/2] cut to a load.
[[nodiscard]] std::pair<double, double> band_ends(double load_height, double height, double band);

/// Hoop tension over a band cut to the load; a band of no height reads the slice it stands in.
struct BandTension {
  std::array<double, face_count> mean{};  ///< per face, N/m
  [[nodiscard]] double mean_of_faces() const;
};
[[nodiscard]] BandTension band_tension(const StationMoment& moment, double height, double band);

}  // namespace hoopfield
