// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/calibrate_command.hpp"
#include "bindings/cli/check_command.hpp"
#include "bindings/cli/compare_command.hpp"
#include "bindings/cli/explain_command.hpp"
#include "bindings/cli/new_command.hpp"
#include "bindings/cli/program.hpp"
#include "bindings/cli/sweep_command.hpp"
#include "bindings/cli/transit_command.hpp"
#include "bindings/cli/trial_command.hpp"
#include "sim/base/build_info.hpp"

// Setting the commands up throws for a mistake in them or for want of memory: nothing to be said better than by the
// system. NOLINTNEXTLINE(bugprone-exception-escape)
int main(int argc, char** argv) {
  using namespace hoopfield::cli;
  Program program;
  program.set_version("hoopfield " + hoopfield::build_version());
  program.set_footer(
      "Example:\n  hoopfield predict scenario.toml\nEach command has its own --help.\nExit codes: 0 done, 1 a target "
      "is missed (--require), 2 bad input, 3 could not be "
      "computed, 4 a file could not be read or written, 130 stopped by Ctrl-C or a termination request.");
  for (const auto& add : {add_new_command, add_check_command, add_predict_command, add_compare_command,
                          add_sweep_command, add_transit_command, add_calibrate_command, add_trial_command,
                          add_film_command, add_explain_command, add_selftest_command}) {
    add(program);
  }
  return run(program, argc, argv);
}
