// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/film_commands.hpp"

namespace hoopfield::cli {

void add_film_command(Program& program) {
  const Command film = program.root().add_group("film", "Look at a film by itself");
  add_film_test(film);
  add_film_fit(film);
  add_film_sheet(film);
}

}  // namespace hoopfield::cli
