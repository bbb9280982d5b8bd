// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A starter scenario from what anyone at a line knows.
#pragma once

#include "bindings/cli/words.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace hoopfield::cli {

/// One thing people at a line know, or that a scenario cannot do without.
struct StarterQuestion {
  std::string_view key;                 ///< scenario key
  std::string_view flag;                ///< "--length"
  std::string_view question;            ///< for a terminal
  std::string_view metric, inch_pound;  ///< stands in, as assumed, when nobody answers; empty = left out
  bool needed = false;                  ///< a size nobody but the user knows
};

[[nodiscard]] const std::vector<StarterQuestion>& starter_questions();

/// Answers by scenario key, as the user wrote them, with units.
using StarterAnswers = std::map<std::string, std::string>;

/// A film file to be written beside the scenario.
struct StarterFilm {
  std::string file_name;  ///< without folder
  std::string text;
};

/// Film by path (anything with a slash or ".toml") or by name from the library. Throws InputError or IoError.
[[nodiscard]] StarterFilm starter_film(const std::string& name_or_path);

/// Throws InputError, naming the flag, for an answer the scenario cannot have.
void check_starter(const StarterAnswers& answers, const StarterFilm& film, UnitStyle units);

/// Text of the scenario file: answers as given, the rest marked assumed with how to measure it.
[[nodiscard]] std::string starter_scenario(const StarterAnswers& answers, const StarterFilm& film, UnitStyle units);

}  // namespace hoopfield::cli
