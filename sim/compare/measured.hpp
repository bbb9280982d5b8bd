// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A side of a comparison that is known by readings only.
#pragma once

#include "sim/base/faces.hpp"
#include "sim/base/reading.hpp"
#include "sim/base/warning.hpp"
#include "sim/inputs/scenario.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

/// Mean over loads, with what says how far it can be trusted.
struct MeasuredValue {
  double mean = 0.0;
  std::optional<double> standard_error;  ///< of the mean; absent with one load
  std::size_t loads = 0;
};

/// A `kind = "measured"` file: readings, price and what the film on the roll is.
struct MeasuredSide {
  std::string title, notes, path;
  std::vector<std::string> files;           ///< of its readings, as found on the disk
  std::vector<Reading> end, after_storage;  ///< readings taken right after wrapping and after storage
  FilmInput film;                           ///< width and thickness 0 when not given
  std::optional<double> density;            ///< kg/m^3
  std::array<std::optional<double>, 3>
      stations;              ///< top, middle, bottom, m; absent = those of the first predicted side
  double band_height = 0.2;  ///< m, readings within half of it belong to a station
  CostInput cost;
  bool illustrative = false;  ///< invented readings
};

/// Readings gathered as a prediction shows them.
struct MeasuredNumbers {
  /// Pull force at the stations, least over the faces of a load, mean over loads, N: [end, after storage][station].
  std::array<std::array<std::optional<MeasuredValue>, 3>, 2> pull_force;
  std::optional<MeasuredValue> film_mass, stretch_on_load, laid_width, turns, girth_before, girth_after;
  bool mass_derived = false;  ///< from turns, girth, stretch and the film on the roll
  std::vector<Warning> warnings;
};

/// Gathers readings by station and load. \param stations heights (top, middle, bottom) for sides that give none
/// Throws InputError when heights are needed and there are none.
[[nodiscard]] MeasuredNumbers gather(const MeasuredSide& side, const std::array<std::optional<double>, 3>& stations);

}  // namespace hoopfield
