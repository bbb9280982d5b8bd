// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/new_command.hpp"

#include "bindings/cli/words.hpp"
#include "models/caution.hpp"
#include "models/error.hpp"
#include "models/text.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/output_files.hpp"

#include <algorithm>
#include <csignal>
#include <filesystem>
#include <iostream>
#include <memory>

#include <unistd.h>

namespace hoopfield::cli {
namespace {

namespace fs = std::filesystem;

void require_sizes(const StarterAnswers& answers) {
  std::string missing;
  for (const StarterQuestion& q : starter_questions()) {
    if (q.needed && answers.count(std::string(q.key)) == 0) {
      missing += (missing.empty() ? "" : ", ") + std::string(q.flag);
    }
  }
  if (!missing.empty()) {
    throw InputError("new: " + missing + " missing; expected a length with a unit such as \"1.2 m\" or \"48 in\"");
  }
}

// Until a file is written there is nothing to tidy up, so Ctrl-C at a question may simply end the program.
class PlainInterrupt {
 public:
  PlainInterrupt() : before_(std::signal(SIGINT, SIG_DFL)) {}
  ~PlainInterrupt() { std::signal(SIGINT, before_); }
  PlainInterrupt(const PlainInterrupt&) = delete;
  PlainInterrupt& operator=(const PlainInterrupt&) = delete;

 private:
  void (*before_)(int);
};

}  // namespace

StarterAnswers ask_questions(std::istream& in, std::ostream& out, const StarterFilm& film, UnitStyle units) {
  StarterAnswers answers;
  out << "Press Enter to leave a value open; it is then marked as assumed. Write numbers with units.\n";
  for (const StarterQuestion& q : starter_questions()) {
    if (q.key == "pattern.overlap" && answers.count("pattern.pitch") != 0) continue;
    const std::string_view fallback = units == UnitStyle::inch_pound ? q.inch_pound : q.metric;
    while (true) {
      const std::string shown = fallback.empty() ? std::string() : " [" + std::string(fallback) + "]";
      out << q.question << shown << ": " << std::flush;
      std::string line;
      if (!std::getline(in, line)) throw InputError("new: the answers ended before the last question");
      line = trim(line);
      if (line.empty()) break;
      StarterAnswers tried = answers;
      tried[std::string(q.key)] = line;
      try {
        check_starter(tried, film, units);
        answers = std::move(tried);
        break;
      } catch (const InputError& error) {
        out << "  " << error.what() << "\n";
      }
    }
  }
  return answers;
}

int write_starter(const NewOptions& options, const CommonOptions& common, std::ostream& out) {
  const StarterFilm film = starter_film(options.film);
  check_starter(options.answers, film, common.units);
  const fs::path folder = options.folder, scenario_path = folder / "scenario.toml", film_path = folder / film.file_name;
  OutputFiles files(common.overwrite);
  if (options.film.find('/') != std::string::npos || options.film.ends_with(".toml")) files.reads(options.film);
  files.add_folder("new", folder, {"scenario.toml", film.file_name}, true);
  files.check();
  const std::string text = starter_scenario(options.answers, film, common.units);
  const Scenario scenario = read_scenario_with_film(text, scenario_path.string(), film.text);
  files.write(film_path, film.text);
  files.write(scenario_path, text);
  files.commit();
  const auto values = resolved_values(scenario);
  const auto assumed = std::count_if(values.begin(), values.end(),
                                     [](const ResolvedValue& v) { return v.source.origin == Origin::assumed; });
  out << "Wrote " << scenario_path.string() << " and " << film_path.string() << ".\n"
      << assumed << " of " << values.size() << " inputs are assumed; the file says how to measure those that matter.\n";
  if (scenario.film_description.provenance.illustrative) {
    out << "The film is illustrative: its numbers describe no real film.\n";
  }
  out << "Next:\n  hoopfield check " << scenario_path.string() << "\n";
  out << "  hoopfield predict " << scenario_path.string() << "\n";
  out << wrap(std::string(short_caution), "", "");
  return exit_done;
}

void add_new_command(Program& program) {
  const Command command =
      program.root().add_command("new", "Write a starter scenario from a few numbers",
                                 "hoopfield new my-load --length \"1.2 m\" --width \"1 m\" --height \"1.5 m\"");
  const auto options = std::make_shared<NewOptions>();
  command.add_option("folder", options->folder, "Folder to write to").required().type_name("DIR");
  command.add_option("--film", options->film, "Film file, or a film of the library (general-film)").type_name("FILM");
  for (const StarterQuestion& q : starter_questions()) {
    command
        .add_option(
            std::string(q.flag),
            [options, key = std::string(q.key)](const std::string& text) { options->answers[key] = text; },
            std::string(q.question))
        .type_name("VALUE");
  }
  command.takes_units();
  command.takes_overwrite();
  command.runs([command, options] {
    if (options->answers.empty() && ::isatty(STDIN_FILENO) == 1 && ::isatty(STDOUT_FILENO) == 1) {
      const PlainInterrupt plain;
      options->answers = ask_questions(std::cin, std::cout, starter_film(options->film), command.common().units);
    } else {
      require_sizes(options->answers);
    }
    return write_starter(*options, command.common(), std::cout);
  });
}

}  // namespace hoopfield::cli
