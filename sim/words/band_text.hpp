// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What the draws say, in words that command, page and Python share.
#pragma once

#include "sim/outputs/result.hpp"
#include "sim/words/display_units.hpp"

#include <string>

namespace hoopfield::words {

/// A number and the ends of its band, to the digits that the width of the band leaves: "530", "390", "680".
struct BandedNumber {
  std::string value, low, high;  ///< low and high are empty where there is no band
};
[[nodiscard]] BandedNumber banded_number(double si, const Result& result, const std::string& name,
                                         const DisplayUnit& unit);

/// "530 N/m (390 to 680 N/m nine times in ten)", or the quantity alone where there is no band.
[[nodiscard]] std::string banded_quantity(double si, const Result& result, const std::string& name,
                                          const DisplayUnit& unit);

/// "402 to 688 N/m"; empty where there is no band.
[[nodiscard]] std::string band_quantity(const Result& result, const std::string& name, const DisplayUnit& unit);
/// "402 to 688", for columns; empty where there is no band.
[[nodiscard]] std::string band_cell(const Result& result, const std::string& name, const DisplayUnit& unit);

/// "met", "MISSED", with the probability where there is one: "MISSED, reached in 63 % of draws, 90 % asked for".
[[nodiscard]] std::string verdict(const TargetResult& target, double wanted_probability);

/// What the bands are made of, how sharp they are and what they leave out; why there are none. Empty without draws.
[[nodiscard]] std::string bands_note(const Result& result);

}  // namespace hoopfield::words
