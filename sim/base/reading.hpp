// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// One reading taken on a real load.
#pragma once

#include <optional>
#include <string>

namespace hoopfield {

/// One line of a readings file, SI (stretch as strain).
struct Reading {
  std::string quantity;          ///< "pull_force", "film_mass", ... of models/reading_quantity.hpp
  std::optional<double> height;  ///< m above the deck
  std::string face;              ///< one of face_names; empty when it is about the whole load
  double value = 0.0;
  std::string load_id;                ///< empty: all such lines are one load
  std::optional<double> error;        ///< half of the central 90 %, in the unit of the value; absent = declared
  std::optional<double> time;         ///< s after wrapping; absent = not written
  std::optional<double> temperature;  ///< K, at the reading
  std::string instrument, note;
  std::string file;
  int line = 0;
};

}  // namespace hoopfield
