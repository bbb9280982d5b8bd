// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How fast a turning rectangle takes film up, and when a face is laid.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

namespace hoopfield {

/// Plan of the load and place of the outlet. All lengths in m.
struct TakeUpPlan {
  double length = 0.0;       ///< along x
  double width = 0.0;        ///< along y
  double distance = 0.0;     ///< outlet to rotation axis
  double offset = 0.0;       ///< sideways offset of the outlet: at rotation 0 it stands at (distance, offset)
  double axis_offset = 0.0;  ///< centre of the load from the rotation axis, along x
  double corner_radius = 0.0;
};

/// The moment the span comes flush with a face: the face is laid and contact jumps to the next corner.
struct FaceEvent {
  double angle = 0.0;        ///< rotation since the outlet stood on the +x axis, rad, in [0, 2 pi)
  std::size_t face = 0;      ///< Face (see sim/base/faces.hpp)
  double span_before = 0.0;  ///< free span just before, m
  double span_after = 0.0;   ///< free span just after, m; shorter by the flat of the face
};

/// Everything the span needs to know at one rotation angle.
struct TakeUpPoint {
  double lever_arm = 0.0;     ///< p, m: distance of the film line from the axis = take-up speed over angular speed
  double span = 0.0;          ///< outlet to the point where the film touches the load, m
  double wrap_rate = 0.0;     ///< rad of film direction per rad of rotation; times the corner radius: film laid on it
  double normal_angle = 0.0;  ///< of the film line's outward normal in the frame of the load, rad, unwrapped
  std::size_t corner = 0;     ///< 0: +x+y, 1: -x+y, 2: -x-y, 3: +x-y
};

/// Take-up geometry of one turn: film line tangent to the load from a point outlet.
///
/// The load turns counter-clockwise seen from above, so in the frame of the load the outlet runs clockwise and the
/// faces are laid in the order front, right, back, left. With the outward normal of the film line at angle psi and
/// the support function `p(psi) = max_V V n + r` (V: centres of the corner rounds, r their radius), R = outlet radius:
/// - rotation `theta(psi) = atan2(offset, distance) + arccos(p/R) - psi`, so a face event (psi = normal of the face)
///   is found in closed form and never stepped past;
/// - take-up speed over angular speed `p`; free span `sqrt(R^2 - p^2) + dp/dpsi`; wrap rate `sqrt(R^2 - p^2)/span`;
/// - over a turn `integral p dtheta = perimeter` for any outlet (Cauchy), whatever the distance.
/// At an event p is continuous and the free span drops by the flat length of the face.
/// Pinned by tests/unit/take_up_test.cpp (values derived from convex geometry, computed independently).
class TakeUp {
 public:
  /// Throws OutOfRange when the outlet would touch the load, the axis lies outside it or a corner is too round.
  explicit TakeUp(const TakeUpPlan& plan);

  /// All quantities at a rotation angle (rad, any number of turns; at an event: just after it).
  [[nodiscard]] TakeUpPoint at(double angle) const;
  /// The same for a known contact corner, without reducing the angle: for integration between two events.
  [[nodiscard]] TakeUpPoint at(double angle, std::size_t corner) const;

  [[nodiscard]] double lever_arm(double angle) const { return at(angle).lever_arm; }  ///< p(theta), m
  [[nodiscard]] double span_length(double angle) const { return at(angle).span; }     ///< free span, m
  [[nodiscard]] std::size_t contact_corner(double angle) const;  ///< 0: +x+y, 1: -x+y, 2: -x-y, 3: +x-y
  [[nodiscard]] const std::vector<FaceEvent>& events() const { return events_; }  ///< the four of a turn, by angle
  [[nodiscard]] double mean_span() const { return mean_span_; }                   ///< over one turn of rotation, m
  [[nodiscard]] double perimeter() const { return perimeter_; }                   ///< with the corner rounds, m
  [[nodiscard]] double face_flat(std::size_t face) const { return flat_[face]; }  ///< straight part of a face, m
  [[nodiscard]] const TakeUpPlan& plan() const { return plan_; }

 private:
  void find_events();
  void find_mean_span();

  TakeUpPlan plan_;
  double reach_ = 0.0;                             ///< outlet radius R
  double start_angle_ = 0.0;                       ///< direction of the outlet at rotation 0
  std::array<double, 4> corner_x_{}, corner_y_{};  ///< centres of the corner rounds
  std::array<double, 4> flat_{};
  std::vector<FaceEvent> events_;
  double mean_span_ = 0.0;
  double perimeter_ = 0.0;
};

/// Corner the span turns to when a face has been laid, and the one it leaves (load counter-clockwise).
[[nodiscard]] constexpr std::size_t corner_after_face(std::size_t face) { return (face + 3) % 4; }
[[nodiscard]] constexpr std::size_t corner_before_face(std::size_t face) { return face; }

}  // namespace hoopfield
