// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/compare_command.hpp"

#include "bindings/cli/progress.hpp"
#include "bindings/cli/words.hpp"
#include "sim/io/text/compare_reader.hpp"
#include "sim/io/text/compare_writer.hpp"
#include "sim/io/text/output_files.hpp"
#include "sim/io/text/report_comparison.hpp"
#include "sim/io/text/report_writer.hpp"
#include "sim/words/compare_text.hpp"

#include <array>
#include <iostream>
#include <memory>

namespace hoopfield::cli {

int compare_sides(const CompareCommandOptions& options, const CommonOptions& common) {
  std::vector<CompareSide> sides =
      options.in.empty() ? read_sides(options.files) : read_film_sides(options.files, options.in);
  OutputFiles files(common.overwrite);
  for (const CompareSide& side : sides) files.reads(files_of(side));
  if (!options.in.empty()) files.reads(options.in);
  if (!options.csv.empty()) files.add("--csv", options.csv);
  if (!options.report.empty()) files.add("--report", options.report);
  files.check();
  CompareOptions how;
  how.same = same_of_word(options.same).value_or(SameWhat::nothing);
  how.best_prestretch = options.best_prestretch;
  how.break_share = options.break_share / 100.0;
  // Films in one scenario share the assumed inputs: a page ranks them once unless asked for all.
  how.unknowns = options.unknowns || (!options.report.empty() && options.in.empty());
  how.present_unknowns = !options.report.empty();
  how.band_samples = options.band_samples;
  how.words_at = options.words_at / 100.0;
  Comparison comparison;
  {
    ProgressBar bar;
    comparison = compare(std::move(sides), how, &bar);
    stop_if_interrupted();
  }
  if (!options.csv.empty()) files.write(options.csv, comparison_csv(comparison));
  if (!options.report.empty())
    files.write(options.report, report_html(report_input(comparison, common.units == UnitStyle::inch_pound)));
  stop_if_interrupted();
  files.commit();
  if (!options.report.empty()) warn_of_plain_report();
  if (options.json)
    std::cout << comparison_json(comparison) << '\n';
  else
    std::cout << compare_text(comparison, {common.units, styled_output()});
  return exit_done;
}

void add_compare_command(Program& program) {
  const Command command = program.root().add_command("compare", "Compare the present film and settings with candidates",
                                                     "hoopfield compare present.toml candidate.toml\n"
                                                     "  hoopfield compare film_1.toml film_2.toml --in scenario.toml");
  const auto options = std::make_shared<CompareCommandOptions>();
  command
      .add_option("files", options->files,
                  "2 to 24 scenario files or measured sides, the present one first; with --in: film files")
      .required()
      .type_name("FILE.toml");
  command.add_option("--in", options->in, "Compare films alone: put each into this scenario")
      .type_name("SCENARIO.toml");
  command.add_option("--same", options->same, "What candidates take from the present wrap; film-mass changes the pitch")
      .one_of({"nothing", "settings", "span-force", "film-mass"})
      .type_name("WHAT");
  command.add_flag("--best-prestretch", options->best_prestretch,
                   "Each film at the pre-stretch that contains best within its break limit, with the\nleast film among "
                   "those that contain as much (within 1 %, or not to be told apart within 5 %)");
  command
      .add_option("--break-share", options->break_share,
                  "Break limit, percent of the film's break stretch (default 80, own assumption)")
      .between(1.0, 100.0)
      .type_name("PERCENT");
  command.add_flag("--unknowns", options->unknowns,
                   "Rank the assumed inputs of every side (in the JSON object and the report)");
  command
      .add_option(
          "--band-samples", options->band_samples,
          "Draws over what is uncertain, at the same points for all sides (default 1024);\n0 = no bands, else a "
          "power of two from 16 to 65536")
      .type_name("N");
  command
      .add_option("--words-at", options->words_at,
                  "Percent of the draws from which on a side is said to contain more or less (default 90)")
      .between(50.1, 99.9)
      .type_name("PERCENT");
  command.add_option("--csv", options->csv, "Write the numbers as a table, one row per side").type_name("OUT.csv");
  command
      .add_option(
          "--report", options->report,
          "Write a report as one HTML page that opens offline. It ranks the assumed inputs, with --in for the first "
          "film only")
      .type_name("OUT.html");
  command.add_flag("--json", options->json, "Print one JSON object instead of the page");
  command.takes_units();
  command.takes_overwrite();
  command.runs([command, options] { return compare_sides(*options, command.common()); });
}

}  // namespace hoopfield::cli
