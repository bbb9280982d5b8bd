// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How fast a turning rectangle takes film up, and when a face is laid.
#pragma once

#include <cstddef>
#include <vector>

namespace hoopfield {

/// Plan of the load and place of the outlet. All lengths in m.
struct TakeUpPlan {
  double length = 0.0;  ///< along x
  double width = 0.0;   ///< along y
  double distance = 0.0;     ///< outlet to rotation axis
  double offset = 0.0;       ///< sideways offset of the outlet
  double axis_offset = 0.0;  ///< centre of the load from the rotation axis, along x
  double corner_radius = 0.0;
};

/// The moment the span comes flush with a face: the face is laid and contact jumps to the next corner.
struct FaceEvent {
  double angle = 0.0;         ///< rotation since the outlet stood on the +x axis, rad, in [0, 2 pi)
  std::size_t face = 0;       ///< Face (see sim/result.hpp)
  double span_before = 0.0;   ///< free span just before, m
  double span_after = 0.0;    ///< free span just after, m
};

/// Take-up geometry of one turn. The load turns counter-clockwise seen from above, so in the frame of the load the outlet
/// runs clockwise and the faces are laid in the order front, right, back, left. Rotation angle 0: outlet on the +x axis.
class TakeUp {
 public:
  /// Throws OutOfRange when the outlet would touch the load.
  explicit TakeUp(const TakeUpPlan& plan);
  [[nodiscard]] double lever_arm(double angle) const;    ///< p(theta), m: take-up speed over angular speed
  [[nodiscard]] double span_length(double angle) const;  ///< free span from outlet to contact corner, m
  [[nodiscard]] std::size_t contact_corner(double angle) const;  ///< 0: +x+y, 1: -x+y, 2: -x-y, 3: +x-y
  [[nodiscard]] const std::vector<FaceEvent>& events() const { return events_; }  ///< the four of a turn, by angle
  [[nodiscard]] double mean_span() const { return mean_span_; }  ///< over one turn, m

 private:
  TakeUpPlan plan_;
  std::vector<FaceEvent> events_;
  double mean_span_ = 0.0;
};

}  // namespace hoopfield
