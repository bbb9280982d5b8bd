// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/program.hpp"

#include "bindings/cli/progress.hpp"
#include "models/error.hpp"
#include "sim/base/shown_text.hpp"
#include "sim/io/text/report_page.hpp"

#include <csignal>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <iostream>
#include <new>

#include <unistd.h>

namespace hoopfield::cli {

namespace {

int report(const std::string& text, int code) {
  std::cout.flush();
  std::cerr << "hoopfield: " << shown_text(text) << '\n';
  return code;
}

int run_action(const std::function<int()>& action) {
  try {
    const int code = action();
    std::cout.flush();
    if (!std::cout) return report("cannot write to standard output", exit_file_error);
    return code;
  } catch (const InputError& error) {
    return report(error.what(), exit_bad_input);
  } catch (const SolverError& error) {
    return report(error.what(), exit_not_computed);
  } catch (const IoError& error) {
    return report(error.what(), exit_file_error);
  } catch (const std::filesystem::filesystem_error& error) {
    return report("'" + error.path1().string() + "': " + error.code().message(), exit_file_error);
  } catch (const Interrupted&) {
    return report("stopped on request; no file was written", exit_interrupted);
  } catch (const std::bad_alloc&) {
    return report("not enough memory", exit_not_computed);
  } catch (const std::exception& error) {
    return report(std::string("unexpected error: ") + error.what(), exit_not_computed);
  }
}

}  // namespace

void warn_of_plain_report() {
  if (!report_page_absence().empty())
    std::cerr << "hoopfield: the report has plain tables only: " << report_page_absence() << '\n';
}

bool styled_output() {
  const char* plain = std::getenv("NO_COLOR");
  const char* terminal = std::getenv("TERM");
  if ((plain != nullptr && *plain != '\0') || terminal == nullptr || std::strcmp(terminal, "dumb") == 0) return false;
  return ::isatty(STDOUT_FILENO) == 1;
}

int run(Program& program, int argc, const char* const* argv) {
  // A file that grows too large must come back as an error of write(), not end the program.
  std::signal(SIGXFSZ, SIG_IGN);
  catch_interrupts();
  return run_action([&] {
    if (const std::optional<int> done = program.parse(argc, argv)) return *done;
    if (program.action) return program.action();
    std::cout << program.help();
    return static_cast<int>(exit_bad_input);
  });
}

}  // namespace hoopfield::cli
