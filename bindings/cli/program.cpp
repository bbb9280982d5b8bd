// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/program.hpp"

#include "bindings/cli/progress.hpp"
#include "bindings/cli/text_layout.hpp"
#include "models/error.hpp"
#include "sim/io/text/report_page.hpp"

#include <csignal>
#include <iostream>
#include <memory>
#include <new>
#include <sstream>

namespace hoopfield::cli {

namespace {

int report(const std::string& text, int code) {
  std::cout.flush();
  std::cerr << "hoopfield: " << text << '\n';
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
  } catch (const Interrupted&) {
    return report("stopped on request; no file was written", exit_interrupted);
  } catch (const std::bad_alloc&) {
    return report("not enough memory", exit_not_computed);
  } catch (const std::exception& error) {
    return report(std::string("unexpected error: ") + error.what(), exit_not_computed);
  }
}

/// The help of the option parser, broken at 80 columns; commands to copy stay whole.
class WrappedHelp : public CLI::Formatter {
 public:
  std::string make_help(const CLI::App* app, std::string name, CLI::AppFormatMode mode) const override {
    constexpr std::size_t text_column = 30;  // where the parser starts its descriptions
    std::istringstream lines(CLI::Formatter::make_help(app, std::move(name), mode));
    std::string out;
    for (std::string line; std::getline(lines, line);) {
      if (line.size() <= terminal_width || line.starts_with("  hoopfield "))
        out += line + '\n';
      else if (line.starts_with(' '))
        out += wrap(line.substr(text_column), line.substr(0, text_column), std::string(text_column, ' '));
      else
        out += wrap(line, "", "");
    }
    return out;
  }
};

void use_wrapped_help(CLI::App& app) {
  app.formatter(std::make_shared<WrappedHelp>());
  for (CLI::App* command : app.get_subcommands([](CLI::App*) { return true; })) use_wrapped_help(*command);
}

}  // namespace

CLI::App* add_command(Program& program, CLI::App& parent, const std::string& name, const std::string& description,
                      const std::string& example) {
  CLI::App* command = parent.add_subcommand(name, description);
  command->footer("Example:\n  " + example);
  command
      ->add_option_function<std::string>(
          "--units",
          [&program](const std::string& style) {
            program.options.units = style == "metric" ? UnitStyle::metric : UnitStyle::inch_pound;
          },
          "Units on the page; files name their own")
      ->check(CLI::IsMember({"metric", "inch-pound"}))
      ->type_name("STYLE");
  command->add_flag("--overwrite", program.options.overwrite, "Replace files that exist");
  return command;
}

void warn_of_plain_report() {
  if (!report_page_absence().empty())
    std::cerr << "hoopfield: the report has plain tables only: " << report_page_absence() << '\n';
}

int run(Program& program, int argc, const char* const* argv) {
  // A file that grows too large must come back as an error of write(), not end the program.
  std::signal(SIGXFSZ, SIG_IGN);
  catch_interrupts();
  use_wrapped_help(program.app);
  try {
    program.app.parse(argc, argv);
  } catch (const CLI::Success& request) {
    return program.app.exit(request);  // --help, --version
  } catch (const CLI::ParseError& error) {
    return report(std::string(error.what()) + "\nRun with --help for the options.", exit_bad_input);
  }
  if (!program.action) {
    std::cout << program.app.help();
    return exit_bad_input;
  }
  return run_action(program.action);
}

}  // namespace hoopfield::cli
