// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Winding stage: what force and what film each face really receives, face event by face event.
#pragma once

#include "models/delivery/control.hpp"
#include "models/film/film_law.hpp"
#include "sim/winding/laid_film.hpp"
#include "sim/winding/span.hpp"
#include "sim/winding/take_up.hpp"

#include <array>
#include <cstddef>
#include <limits>
#include <memory>
#include <optional>
#include <vector>

namespace hoopfield {

/// How the delivery is controlled; force and stretch of `follow` are filled in by the winding stage.
struct WindingControl {
  enum class Kind { constant, fixed_length, follow, own };
  Kind kind = Kind::constant;
  double lag = 0.15;             ///< s (follow)
  double gain = 1.0;             ///< (follow)
  double length_per_turn = 0.0;  ///< film on the roll per turn over the perimeter of the load (fixed_length)
  double speed_limit = std::numeric_limits<double>::infinity();         ///< m/s on the roll (follow)
  double acceleration_limit = std::numeric_limits<double>::infinity();  ///< m/s^2 on the roll (follow)
  std::shared_ptr<const DeliveryControl> law;                           ///< a law of one's own (own)
};

struct WindingInput {
  TakeUpPlan plan;
  double speed = 0.0;       ///< angular speed once up to it, rad/s, > 0
  double ramp_turns = 0.0;  ///< turns of constant angular acceleration from rest
  double turns = 0.0;       ///< turns to wind, > 0; part turns allowed
  std::shared_ptr<const FilmLaw> law;
  FilmState drawn;  ///< film as it leaves the last roller: after the dwell, not yet at the span force
  /// Drawn film crept on its way to the load, when already known: at the set force, or (fixed_length) to the stretch
  /// that lays the fed length.
  std::optional<FilmState> laid;
  WidthMode mode = WidthMode::free();
  double roll_section = 0.0;    ///< roll width times roll thickness, m^2, > 0
  double temperature = 296.15;  ///< K
  double force = 0.0;           ///< set force, N, > 0; fixed_length does not use it
  double internal_path = 0.5;   ///< film between last roller and outlet, m, >= 0
  WindingControl control;
  std::optional<double> film_on_load;  ///< friction; absent = stuck
  std::optional<double> film_on_film;  ///< friction; absent = stuck
  double turns_on_load = 1.0;          ///< turns that lie on the load itself; later ones lie on film
  bool covered_film_sticks = true;     ///< a face with a whole turn of film over it no longer slips
  double tolerance = 1e-3;             ///< of the span force over one face, relative to the set force
  std::size_t film_steps_before = 0;   ///< taken by an earlier winding of the same wrap: they count towards the limit
  /// A hundred times the work of a usual prediction; as the root of 1e-3/tolerance more at a finer one.
  double most_film_steps = 1e6;
  bool repeat_settled = true;  ///< a turn that repeats the one before to a tenth of the tolerance is copied
};

/// Counters for benchmarks and reports.
struct WindingCounters {
  std::size_t steps = 0;       ///< steps of the span computed
  std::size_t discarded = 0;   ///< of these, steps of solutions found too coarse
  std::size_t slips = 0;       ///< increments in which film slipped
  std::size_t film_steps = 0;  ///< steps of the film law, with those of solutions found too coarse
  std::size_t copied_turns = 0;
};

struct WindingResult {
  std::vector<LaidFace> faces;                     ///< one per face event, in order; force and film as kept after slip
  std::vector<SpanPoint> trace;                    ///< the last whole turn computed, by angle in [0, 2 pi)
  double force_set = 0.0;                          ///< N
  double force_mean = 0.0;                         ///< time mean over that turn, N
  double force_min = 0.0, force_max = 0.0;         ///< over that turn, N
  double least_force = 0.0, greatest_force = 0.0;  ///< over the whole wrap, at the points computed, N
  bool went_slack = false;                         ///< the span lost all force somewhere
  FilmState reference;                             ///< film laid by a control that holds the set force
  std::size_t turn_begin = 0, turn_end = 0;        ///< faces of the last whole turn of film that no longer slips
  double stretch_mean = 1.0;  ///< length on the load over length on the roll, of that turn with its corner rounds
  double stretch_min = 1.0, stretch_max = 1.0;  ///< of any face
  double film_fed = 0.0;                        ///< on the roll, since the start, m
  double film_used = 0.0;  ///< on the roll, laid on faces and corners and cut off with the last span, m
  double end_time = 0.0;   ///< s at the end of rotation
  WindingCounters counters;
};

/// Everything that changes while winding: a value; a copy is a checkpoint from which the run goes on identically.
struct WindingState {
  SpanState span;
  double time = 0.0;       ///< s
  std::size_t events = 0;  ///< face events so far
  std::vector<LaidFace> faces;
  std::vector<std::vector<SpanPoint>> trace;  ///< points of the latest legs between events, at most five
  std::array<std::size_t, 4> steps{};         ///< per event of the turn: steps that met the tolerance last time
  double rounds_at_event = 0.0;               ///< film on corner rounds at the last event, m on the roll
  double least_force = 0.0, greatest_force = 0.0;
  bool went_slack = false;
  std::vector<LaidFace> last_turn;  ///< the four newest faces as they were at the last full turn
  WindingCounters counters;
};

/// Winds event by event. Constant after construction; all that changes is in WindingState.
///
/// Start: the tail is clamped at the corner in contact at angle 0 (nothing slips past the clamp, tension zero behind
/// it), the film stands at the set force (fixed_length: at the one that lays the fed length). End: the span is cut at
/// the last angle; the corner in contact keeps the last face, the film beyond it has tension zero (cling holds the
/// end; capstan friction alone could not, as it is proportional to the tension beyond). Laid film relaxes from its
/// event on while its corners are decided; the build-up stage starts from the film as it was laid (`LaidFace::film`,
/// with what slipped later) and relaxes it itself. The slope of the helix (about 3 degrees) is neglected: the hoop
/// component is cos 3 deg = 0.9986 of the force, the vertical one 5 %, carried by friction at the corners.
class Winder {
 public:
  /// Throws OutOfRange and InputError for inputs out of bounds, SolverError when the film cannot carry the set force.
  explicit Winder(const WindingInput& input);
  Winder(const Winder&) = delete;
  Winder& operator=(const Winder&) = delete;

  [[nodiscard]] WindingState start() const;
  /// Up to the next face event, or to the end of the wrap; false when the wrap had already ended.
  bool advance(WindingState& state) const;
  [[nodiscard]] WindingResult result(WindingState state) const;
  [[nodiscard]] const Span& span() const { return *span_; }
  [[nodiscard]] const TakeUp& take_up() const { return take_up_; }

 private:
  struct Leg;
  [[nodiscard]] Leg try_leg(const WindingState& state, const SpanInterval& interval, std::size_t steps) const;
  [[nodiscard]] Leg extrapolated(const Leg& coarse, const Leg& fine, std::size_t corner) const;
  [[nodiscard]] double error_between(const std::vector<SpanPoint>& points, std::size_t corner) const;
  void run_leg(WindingState& state, const SpanInterval& interval) const;
  void keep(WindingState& state, Leg&& leg) const;
  [[nodiscard]] std::vector<SpanPoint> dense(const std::vector<SpanPoint>& leg) const;
  void hold_leg(WindingState& state, const SpanInterval& interval) const;
  void lay_face(WindingState& state, const FaceEvent& event, double angle) const;
  void find_stretches(const std::vector<LaidFace>& faces, WindingResult& out) const;
  [[nodiscard]] bool can_slip(const WindingState& state) const;
  [[nodiscard]] bool slips_in(const WindingState& state, const SpanInterval& interval) const;
  [[nodiscard]] double on_round(const WindingState& state, double angle) const;
  [[nodiscard]] SpanReference reference_row(const SpanFilm& film, const FilmState& laid) const;
  [[nodiscard]] bool slips() const;  ///< whether film on film can slip at all
  [[nodiscard]] bool settled(const WindingState& state) const;
  void copy_settled_turns(WindingState& state) const;
  [[nodiscard]] double friction(std::size_t crossing) const;
  [[nodiscard]] const FaceEvent& event(std::size_t index) const { return take_up_.events()[(index + skipped_) % 4]; }
  [[nodiscard]] double event_angle(std::size_t index) const;

  WindingInput input_;
  TakeUp take_up_;
  std::unique_ptr<Span> span_;
  std::size_t skipped_ = 0;  ///< 1 when the film lies flush at angle 0 already
  double end_angle_ = 0.0;
};

/// Winds a whole wrap. With control "constant" every face receives exactly the set force and the same film.
[[nodiscard]] WindingResult wind(const WindingInput& input);

}  // namespace hoopfield
