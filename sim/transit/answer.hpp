// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Does the wrapped load survive the truck? Blows in both directions, a requirement's levels, and what would mend it.
#pragma once

#include "models/pattern/pattern.hpp"
#include "sim/base/observer.hpp"
#include "sim/transit/ride.hpp"
#include "sim/transit/scenario_stack.hpp"

#include <array>
#include <cstddef>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

enum class TransitVerdict { hold, slip, fall };
[[nodiscard]] const char* verdict_name(TransitVerdict verdict);
/// "none", "slip", "lean", "tip" or "shift" (of a layer, or displacement that stays).
[[nodiscard]] const char* failure_name(RideFailure failure);

/// Shape of the blow and what the load may do under it; the level is open.
struct BlowShape {
  double rise = 0.05, hold = 0.3;  ///< s
  RideLimits limits{0.10, 0.05, 0.02};
};
/// That of the requirement's first pulse, or 50 ms rise, 0.3 s held; lean 10 %, permanent 5 %, shift 2 % of the height
/// (models/parameters/requirements/bench-eumos-40509.toml).
[[nodiscard]] BlowShape blow_shape(const TransitInput& input);
/// The greatest of that shape that a stack holds, m/s^2.
[[nodiscard]] double largest_of(const TransitStack& stack, const BlowShape& shape);

/// One level of the requirement in one direction of the load.
struct LevelAnswer {
  RequirementCase level;
  std::size_t direction = 0;
  double capacity = 0.0;  ///< m/s^2: the greatest level held
  TransitVerdict verdict = TransitVerdict::hold;
  RideFailure fails_by = RideFailure::none;
  [[nodiscard]] double margin() const { return capacity / level.level; }
};

/// Over all levels, or those that act in one direction of the load; nothing without any.
[[nodiscard]] std::optional<double> least_margin(const std::vector<LevelAnswer>& levels,
                                                 std::optional<std::size_t> direction = {});

/// Static levels of the requirement, each in the directions it acts in.
[[nodiscard]] std::vector<LevelAnswer> static_levels(const TransitInput& input,
                                                     const std::array<TransitSide, 2>& sides);

/// What the load does in one direction, at its weakest.
struct DirectionAnswer {
  double largest_blow = 0.0;  ///< m/s^2
  double ridden = 0.0;        ///< level of `ride`, m/s^2: the greatest pulse asked for, else 0.5 gn
  Ride ride;
  std::optional<double> tilt_slip, tilt_passed;  ///< rad: slip starts, and passes the allowed one; nothing below 45 deg
};

/// The load changed in one way, in both directions.
struct TransitRemedy {
  std::string name;
  std::array<double, 2> withstood{}, largest_blow{};  ///< m/s^2; static least of slip and tipping
  std::optional<double> margin;                       ///< against the requirement, least
  double more_film = 0.0;                             ///< kg, beyond the wrap as it is
  std::string message;                                ///< why there are no numbers; empty where there are
};
/// Predicts a load that is wound anew: predict_denser().
using Predictor = std::function<Result(const Scenario&, const DenserTurns&)>;

struct RequiredTension {
  double height = 0.0;   ///< m above the deck, of the interface
  double tension = 0.0;  ///< N/m
};

/// What the largest pulse of the weaker direction is with one input at the ends of its range.
struct PulseInfluence {
  std::string key;
  double low = 0.0, high = 0.0;        ///< SI
  double at_low = 0.0, at_high = 0.0;  ///< m/s^2
};

struct TransitAnswer {
  TransitStatics statics;
  std::array<DirectionAnswer, 2> direction;
  std::vector<LevelAnswer> levels;
  std::optional<double> margin;           ///< least of the levels
  std::vector<RequiredTension> required;  ///< from below; empty without a requirement or when film alone cannot meet it
  bool cannot_meet = false;
  std::vector<TransitRemedy> remedies;
  std::optional<BandResult> band;          ///< over what is uncertain, pulses among it; absent without draws
  std::vector<PulseInfluence> influences;  ///< the greatest first; empty without draws
};

/// In each direction: largest pulse, then lean and greatest slip in the pulse that is told. SI. A load that falls
/// counts as leaning and slipping by its height.
[[nodiscard]] std::vector<double> pulse_numbers(const Scenario& scenario, const Result& result);
/// "transit.weakest.along_width.largest_pulse", ... in that order.
[[nodiscard]] const std::vector<std::string>& pulse_names();

struct TransitOptions {
  bool tilt = false;
  Predictor predictor;             ///< for the remedies; none are tried without
  double record_interval = 0.005;  ///< s, of the rides kept
};

/// Throws InputError when something is missing, Interrupted on request.
[[nodiscard]] TransitAnswer answer_transit(const Scenario& scenario, const Result& result,
                                           const TransitOptions& options, Observer* observer = nullptr);

}  // namespace hoopfield
