// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The actions of `hoopfield film`.
#pragma once

#include "bindings/cli/program.hpp"

#include <string>

namespace hoopfield::cli {

void add_film_test(const Command& film);
void add_film_fit(const Command& film);
void add_film_sheet(const Command& film);

/// "number unit" of an option into SI. Throws InputError that names the option.
[[nodiscard]] double read_option(const std::string& name, const std::string& text, const char* unit);

}  // namespace hoopfield::cli
