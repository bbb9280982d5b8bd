// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/explain_command.hpp"

#include "sim/words/explain.hpp"

#include <iostream>
#include <memory>

namespace hoopfield::cli {

void add_explain_command(Program& program) {
  const Command command =
      program.root().add_command("explain", "Explain a key and how to measure it, or search for a word",
                                 "hoopfield explain load.stiffness_along_length");
  const auto key = std::make_shared<std::string>();
  Option word = command.add_option("key", *key, "Input, output, table or a word to search for; all keys when left out")
                    .type_name("KEY");
  const auto markdown = std::make_shared<bool>(false);
  Option page = command.add_flag("--markdown", *markdown, "Print all keys as one Markdown page");
  const auto guide = std::make_shared<bool>(false);
  Option measuring =
      command.add_flag("--guide", *guide, "Print how to measure everything unknown, as one Markdown page");
  word.excludes(page);
  word.excludes(measuring);
  page.excludes(measuring);
  Option units = command.takes_units();
  page.excludes(units);
  measuring.excludes(units);
  command.runs([command, key, markdown, guide] {
    std::cout << (*guide      ? measuring_guide()
                  : *markdown ? explain_markdown()
                              : explain_text(*key, command.common().units));
    return static_cast<int>(exit_done);
  });
}

}  // namespace hoopfield::cli
