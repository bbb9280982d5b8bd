// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a reader is told first, in the same words on the terminal, on the page and in Python.
#pragma once

#include "sim/compare/compare.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"
#include "sim/words/display_units.hpp"

#include <string>
#include <string_view>

namespace hoopfield::words {

/// How a wrap stands against a target: by the share of draws that reach it, where there are draws. A share between the
/// one asked for and its complement tells neither.
enum class Holding { holds, misses, open };
[[nodiscard]] Holding holding(const TargetResult& target, double wanted_probability);

/// An input as a reader knows it: its declared label, else the last part of its key ("settling").
[[nodiscard]] std::string input_words(std::string_view key);

/// A text in which every key of an input is replaced by its words in quotation marks.
[[nodiscard]] std::string without_keys(std::string_view text);

/// "The wrap holds: ...", "The wrap misses its target: ...", "It cannot be told whether the wrap holds: ..." in the
/// quantity of the nearest target with its band, and what makes the band so wide; empty without targets.
[[nodiscard]] std::string target_verdict(const Scenario& scenario, const Result& result, UnitStyle style);

/// What the three stations hold, now and after storage.
[[nodiscard]] std::string stations_sentence(const Scenario& scenario, const Result& result, UnitStyle style);

/// The first sentence about a prediction: the verdict on its targets, else what the stations hold.
[[nodiscard]] std::string first_sentence(const Scenario& scenario, const Result& result, UnitStyle style);

/// The first words about a candidate of a comparison: the verdict on its targets, then how it stands against the
/// present wrap.
[[nodiscard]] std::string first_sentence(const Comparison& comparison, std::size_t candidate, UnitStyle style);

/// The largest unknown of a prediction in plain words; empty where none was ranked.
[[nodiscard]] std::string largest_unknown(const Result& result);

}  // namespace hoopfield::words
