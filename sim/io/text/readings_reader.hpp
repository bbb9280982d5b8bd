// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Readings taken on real loads (CSV) and the measured sides of a comparison that name them.
#pragma once

#include "sim/base/input_text.hpp"
#include "sim/compare/measured.hpp"

#include <string>
#include <vector>

namespace hoopfield {

/// Reads `quantity,height,face,value,unit,load_id,error,time,temperature,instrument,note`: columns in any order, all
/// but quantity, value and unit may be left out; one reading a line, `#` starts a comment line. Heights, times and
/// temperatures carry a unit ("0.75 m", "10 min"); an error is in the unit of its value. Quantities are those of
/// models/reading_quantity.hpp. Throws InputError or OutOfRange with file, line and column.
[[nodiscard]] std::vector<Reading> read_readings_text(const InputText& input);

/// Reads a `kind = "measured"` file and its readings. Throws IoError when the file cannot be read, InputError or
/// OutOfRange for everything wrong inside.
[[nodiscard]] MeasuredSide read_measured(const std::string& path);

}  // namespace hoopfield
