// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// When a load is weakest, in words.
#pragma once

#include "sim/outputs/result.hpp"
#include "sim/words/display_units.hpp"

#include <string>

namespace hoopfield::words {

/// Share by which the weakest moment must lie below both ends of storage to be worth a line of its own.
inline constexpr double weaker_share = 0.005;

/// True when a station holds less by `weaker_share` at some time in storage than at its beginning and end.
[[nodiscard]] bool is_weaker_in_storage(const Result& result);
[[nodiscard]] bool is_weaker_in_storage(const Result& result, std::size_t station);

/// "at the end of wrapping", "after storage", "at its weakest in storage": the moment of a target.
[[nodiscard]] std::string moment_words(const std::string& moment);

/// "after 3.5 days, at 38 degC"
[[nodiscard]] std::string when_weakest(const StationResult& station, const DisplayUnits& units);

}  // namespace hoopfield::words
