// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/film_commands.hpp"

namespace hoopfield::cli {

void add_film_command(Program& program) {
  CLI::App* film = program.app.add_subcommand("film", "Look at a film by itself");
  film->require_subcommand(1);
  add_film_test(program, *film);
  add_film_fit(program, *film);
  add_film_sheet(program, *film);
}

}  // namespace hoopfield::cli
