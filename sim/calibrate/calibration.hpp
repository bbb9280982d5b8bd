// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// From readings on loads to a model of this line.
#pragma once

#include "sim/base/observer.hpp"
#include "sim/base/reading.hpp"
#include "sim/calibrate/predicted_readings.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

struct CalibrationOptions {
  std::vector<std::string> free;   ///< where not empty, these keys alone move
  std::vector<std::string> held;   ///< keys that stay; "film.file" holds the numbers of the film file
  std::size_t band_samples = 128;  ///< of the predictions before and after; 0 = without bands
};

/// A value with the ends of its band, 5 % and 95 %, SI.
struct Banded {
  double low = 0.0, value = 0.0, high = 0.0;
};

/// How far the readings settled an input: band after over band before at most 0.5, at most 0.9, more.
enum class Settled { determined, narrowed, not_determined };
[[nodiscard]] const char* settled_word(Settled settled);

struct CalibratedInput {
  std::string key;        ///< "film.file 3" for the third uncertain number of the film file
  bool is_film = false;   ///< its numbers are standard normals
  bool is_share = false;  ///< of what the formula of the tent factor adds to 1
  Banded before, after;
  double share = 1.0;  ///< deviation after over before, as standard normal numbers
  double pull = 0.0;   ///< how far the readings moved it, in deviations of what was expected: more than 2 is rare
  Settled settled = Settled::not_determined;
  std::string would_determine;  ///< a quantity to read; empty where none of them does
};

/// Two inputs that the readings tell apart badly.
struct ConfoundedInputs {
  std::string first, second;
  double correlation = 0.0;
};

struct CalibratedReading {
  Reading reading;
  ReadingPlace place;
  Banded before, after;   ///< predicted
  double residual = 0.0;  ///< reading less prediction after, in standard deviations of its own error
  double weight = 1.0;    ///< 1 = taken as it is, 0 = left out as a blunder
  bool is_off = false;
};

/// What one more reading would do to the band of the measure.
struct NextReading {
  ReadingPlace place;
  double share = 1.0;       ///< width of the band after over before
  double per_minute = 0.0;  ///< of work, part of the band that goes
};

/// Something the user should hear of.
struct CalibrationFlag {
  std::string code;  ///< "reading-off", "wrong-film", "input-off", "turns-off", "scatter-large"
  std::string text;
};

struct Calibration {
  Scenario scenario;  ///< with what was learned, origin "fitted"
  std::vector<CalibratedInput> inputs;
  std::vector<ConfoundedInputs> confounded;
  std::vector<CalibratedReading> readings;
  std::vector<NextReading> next;  ///< best first
  std::vector<CalibrationFlag> flags;
  double load_scatter = 0.0;  ///< standard deviation of hoop tension from load to load, share
  std::size_t loads = 0;      ///< on which forces were read
  std::string measure;        ///< output whose band `next` narrows: "containment.after_storage.bottom.hoop_tension"
  Result before, after;       ///< predictions, with bands unless none were asked for
  int iterations = 0;
};

/// The most probable inputs behind the readings, starting from what the scenario says of each
/// (sim/inputs/unknowns.hpp), with Student-t errors, errors that readings of one instrument share, scatter from load to
/// load and a model error (sim/calibrate/reading_errors.hpp, posterior.hpp). Counted turns are held. Throws InputError
/// for a scenario that is calibrated already, for no reading, a height that is not on the load, or a key to free or
/// hold that is not uncertain; SolverError where the scenario itself has no solution.
[[nodiscard]] Calibration calibrate(const Scenario& scenario, const std::vector<Reading>& readings,
                                    const CalibrationOptions& options = {}, Observer* observer = nullptr);

/// What readings can tell before any is taken: `next` of the scenario as it is.
[[nodiscard]] std::vector<NextReading> next_readings(const Scenario& scenario, Observer* observer = nullptr);

}  // namespace hoopfield
