// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Scenario files (TOML) to scenarios.
#pragma once

#include "sim/inputs/scenario.hpp"

#include <string>

namespace hoopfield {

/// Reads and validates a scenario file and the film file it names. Throws IoError when the scenario file cannot be
/// read, InputError or OutOfRange, with the place, for everything wrong inside (a film file that cannot be read is
/// wrong inside).
[[nodiscard]] Scenario read_scenario(const std::string& path);

/// The same for a text. \param name shown in messages and kept as `Scenario::path` \param base_dir folder that film
/// paths start from
[[nodiscard]] Scenario read_scenario_text(const std::string& text, const std::string& name,
                                          const std::string& base_dir);

/// The same with the film's text instead of its file, which need not exist.
[[nodiscard]] Scenario read_scenario_with_film(const std::string& text, const std::string& name,
                                               const std::string& film_text);

/// Reads the film file `scenario.film.file` names into the scenario. \param base_dir as above
void read_film_of(Scenario& scenario, const std::string& base_dir);

}  // namespace hoopfield
