// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// `hoopfield new`: a folder with a starter scenario and its film file.
#pragma once

#include "bindings/cli/program.hpp"
#include "bindings/cli/starter.hpp"

#include <iosfwd>
#include <string>

namespace hoopfield::cli {

struct NewOptions {
  std::string folder;
  std::string film = "general-film";
  StarterAnswers answers;
};

/// Asks every question; an empty line leaves it open, an answer that cannot be used is asked again. Throws InputError
/// when the input ends before the last question.
[[nodiscard]] StarterAnswers ask_questions(std::istream& in, std::ostream& out, const StarterFilm& film,
                                           UnitStyle units);

/// Writes scenario.toml and the film file into the folder and reads them back. Throws Error; then nothing new is left
/// behind.
int write_starter(const NewOptions& options, const CommonOptions& common, std::ostream& out);

void add_new_command(Program& program);

}  // namespace hoopfield::cli
