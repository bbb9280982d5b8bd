// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/predict_command.hpp"

#include "bindings/cli/print_predict.hpp"
#include "bindings/cli/progress.hpp"
#include "bindings/cli/words.hpp"
#include "models/error.hpp"
#include "sim/bands/bands.hpp"
#include "sim/bands/indices.hpp"
#include "sim/bands/rank_unknowns.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/hdf5/hdf5_writer.hpp"
#include "sim/io/text/csv_writer.hpp"
#include "sim/io/text/json_writer.hpp"
#include "sim/io/text/output_files.hpp"
#include "sim/io/text/report_writer.hpp"
#include "sim/wrap/predict.hpp"

#include <chrono>
#include <ctime>
#include <iostream>
#include <memory>
#include <thread>

#include <sys/utsname.h>

namespace hoopfield::cli {

namespace {

using Clock = std::chrono::system_clock;

std::string utc(Clock::time_point moment) {
  const std::time_t seconds = Clock::to_time_t(moment);
  std::tm parts{};
  ::gmtime_r(&seconds, &parts);
  char text[32];
  std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &parts);
  return text;
}

RunInfo run_info(Clock::time_point start) {
  RunInfo info;
  info.started = utc(start);
  info.duration = std::chrono::duration<double>(Clock::now() - start).count();
  utsname system{};
  if (::uname(&system) == 0)
    info.host_system = std::string(system.sysname) + " " + system.release + " " + system.machine;
  info.host_threads = std::thread::hardware_concurrency();
  return info;
}

constexpr std::size_t known_for = 5;  // of the largest unknowns, with --rank

/// Draws on screen as the scenario says; more where a reader or a script relies on a probability.
BandOptions band_options(const PredictOptions& options, const Scenario& scenario) {
  BandOptions bands = hoopfield::band_options(scenario);
  const bool proof = options.require || !options.report.empty();
  if (proof && scenario.sources.count("numerics.band_samples") == 0) bands.samples = proof_samples;
  if (!options.band_samples) return bands;
  check_band_samples(*options.band_samples);
  bands.samples = static_cast<std::size_t>(*options.band_samples);
  return bands;
}

/// The whole computation; a progress bar lives only as long as it.
Result compute(const PredictOptions& options, const Scenario& scenario) {
  const BandOptions bands = band_options(options, scenario);
  ProgressBar bar;
  bar.section(0.0, 0.02);
  Result result = predict(scenario, &bar);
  bar.section(0.02, 0.04);
  add_sensitivity(scenario, result, &bar);
  bar.section(0.04, options.rank || options.indices ? 0.2 : 0.75);
  add_bands(scenario, result, bands, &bar);
  bar.section(options.rank || options.indices ? 0.2 : 0.75, options.indices ? 0.4 : 1.0);
  rank_unknowns(scenario, result, bands, options.rank ? known_for : 0, &bar);
  if (options.indices) {
    bar.section(0.4, 1.0);
    result.indices = unknown_indices(scenario, result, bands, &bar);
  }
  stop_if_interrupted();
  return result;
}

std::string page_html(const PredictOptions& options, const CommonOptions& common, const Scenario& scenario,
                      const Result& result) {
  ReportSide side;
  side.name = scenario.title.empty() ? options.scenario : scenario.title;
  side.scenario = std::make_shared<const Scenario>(scenario);
  side.result = std::make_shared<const Result>(result);
  return report_html({{side}, common.units == UnitStyle::inch_pound});
}

void write_files(const PredictOptions& options, const CommonOptions& common, const Scenario& scenario,
                 const Result& result, OutputFiles& files) {
  if (!options.hdf5.empty()) files.write(options.hdf5, hdf5_bytes(scenario, result));
  if (!options.csv_folder.empty())
    for (const CsvTable& table : csv_tables(scenario, result))
      files.write(std::filesystem::path(options.csv_folder) / table.name, table.text);
  if (!options.report.empty()) files.write(options.report, page_html(options, common, scenario, result));
  stop_if_interrupted();
  files.commit();
  if (!options.report.empty()) warn_of_plain_report();
}

int target_code(const Result& result, bool require) {
  if (!require) return exit_done;
  if (result.band && !result.band->message.empty()) {
    std::cerr << "hoopfield: targets cannot be judged: " << result.band->message << '\n';
    return exit_target_missed;
  }
  int missed = 0;
  for (const TargetResult& target : result.targets) missed += target.met ? 0 : 1;
  if (missed == 0) return exit_done;
  std::cerr << "hoopfield: " << missed << (missed == 1 ? " target is" : " targets are") << " missed\n";
  return exit_target_missed;
}

}  // namespace

int predict_scenario(const PredictOptions& options, const CommonOptions& common) {
  const Clock::time_point start = Clock::now();
  const Scenario scenario = read_scenario(options.scenario);
  if (options.require && !scenario.target)
    throw InputError(options.scenario + ": --require needs a [target] table in the scenario", options.scenario);
  if (common.overwrite && options.hdf5.empty() && options.csv_folder.empty() && options.report.empty())
    throw InputError("--overwrite: nothing is written; expected -o, --csv or --report beside it");
  // A name that cannot be written is better known before the work than after it.
  OutputFiles files(common.overwrite);
  files.reads(files_of(scenario));
  if (!options.hdf5.empty()) files.add("-o", options.hdf5);
  if (!options.csv_folder.empty()) files.add_folder("--csv", options.csv_folder, csv_table_names());
  if (!options.report.empty()) files.add("--report", options.report);
  files.check();
  const Result result = compute(options, scenario);
  write_files(options, common, scenario, result, files);
  if (options.json)
    std::cout << summary_json(scenario, result, run_info(start)) << '\n';
  else
    std::cout << predict_text(scenario, result, {common.units, styled_output()});
  return target_code(result, options.require);
}

void add_predict_command(Program& program) {
  const Command command = program.root().add_command("predict", "Predict one wrap from a scenario file",
                                                     "hoopfield predict scenario.toml -o result.h5");
  const auto options = std::make_shared<PredictOptions>();
  command.add_option("scenario", options->scenario, "Scenario file (TOML)").required().type_name("SCENARIO.toml");
  command.add_option("-o,--output", options->hdf5, "Write the whole result as HDF5").type_name("OUT.h5");
  command.add_option("--csv", options->csv_folder, "Write the result as CSV tables to a folder").type_name("DIR");
  command.add_option("--report", options->report, "Write a report as one HTML page that opens offline")
      .type_name("OUT.html");
  command
      .add_option("--band-samples", options->band_samples,
                  "Draws behind the bands: 0 (off) or a power of two, 16 to "
                  "65536; default 128, 1024 with --report or --require")
      .type_name("N");
  command.add_flag("--rank", options->rank, "The band if each of the five largest unknowns were known");
  command.add_flag("--indices", options->indices, "First-order and total Sobol' indices of every unknown");
  command.add_flag("--json", options->json, "Print one JSON object instead of the page");
  command.add_flag("--require", options->require, "Exit code 1 when a target is missed");
  command.takes_units();
  command.takes_overwrite();
  command.runs([command, options] { return predict_scenario(*options, command.common()); });
}

}  // namespace hoopfield::cli
