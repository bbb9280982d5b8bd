// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/program.hpp"
#include "bindings/cli/selftest.hpp"
#include "bindings/cli/words.hpp"
#include "models/error.hpp"
#include "sim/base/build_info.hpp"
#include "sim/base/number_text.hpp"

#include <algorithm>
#include <cmath>
#include <iostream>

namespace hoopfield::cli {

namespace {

std::string digits(double value) { return significant(value, 9); }

std::vector<SelfCheck> all_checks() {
  std::vector<SelfCheck> checks;
  for (const auto& group : {film_checks, wrap_checks, edge_checks})
    for (SelfCheck& check : group()) checks.push_back(std::move(check));
  return checks;
}

int run_selftest() {
  std::cout << "hoopfield " << build_version() << ", " << build_compiler() << ", " << build_simd() << "\n\n"
            << std::flush;
  const std::vector<SelfCheck> checks = all_checks();
  std::cout << selftest_text(checks);
  const auto failed = std::count_if(checks.begin(), checks.end(), [](const SelfCheck& c) { return !c.passed(); });
  if (failed > 0)
    throw SolverError(std::to_string(failed) + " of " + std::to_string(checks.size()) + " self-checks failed",
                      "this build gives wrong results: build it with another compiler or without extra flags");
  std::cout << "All " << checks.size() << " checks passed. They verify closed forms, not predictions.\n";
  return exit_done;
}

}  // namespace

bool SelfCheck::passed() const {
  return std::isfinite(found) && std::abs(found - expected) <= tolerance * std::max(std::abs(expected), scale);
}

std::string selftest_text(const std::vector<SelfCheck>& checks) {
  std::string text;
  for (const SelfCheck& c : checks) {
    text += wrap(c.name, c.passed() ? "ok      " : "FAILED  ", "        ");
    text += wrap(c.formula, "        ", "        ");
    text += wrap("expected " + digits(c.expected) + ", found " + digits(c.found) +
                     (c.unit.empty() ? "" : " " + c.unit) + ", tolerance " + shortest(c.tolerance),
                 "        ", "        ");
    text += '\n';
  }
  return text;
}

void add_selftest_command(Program& program) {
  const Command command =
      program.root().add_command("selftest", "Check closed forms with this program", "hoopfield selftest");
  command.runs(run_selftest);
}

}  // namespace hoopfield::cli
