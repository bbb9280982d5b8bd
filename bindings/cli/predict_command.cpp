// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/predict_command.hpp"

#include "bindings/cli/print_predict.hpp"
#include "bindings/cli/progress.hpp"
#include "bindings/cli/words.hpp"
#include "models/error.hpp"
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

/// The whole computation; a progress bar lives only as long as it.
Result compute(const Scenario& scenario) {
  ProgressBar bar;
  bar.section(0.0, 0.05);
  Result result = predict(scenario, &bar);
  bar.section(0.05, 0.1);
  add_sensitivity(scenario, result, &bar);
  bar.section(0.1, 1.0);
  rank_unknowns(scenario, result, &bar);
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
  // A name that cannot be written is better known before the work than after it.
  OutputFiles files(common.overwrite);
  files.reads(files_of(scenario));
  if (!options.hdf5.empty()) files.add("-o", options.hdf5);
  if (!options.csv_folder.empty()) files.add_folder("--csv", options.csv_folder, csv_table_names());
  if (!options.report.empty()) files.add("--report", options.report);
  files.check();
  const Result result = compute(scenario);
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
  command.add_flag("--json", options->json, "Print one JSON object instead of the page");
  command.add_flag("--require", options->require, "Exit code 1 when a target is missed");
  command.takes_units();
  command.takes_overwrite();
  command.runs([command, options] { return predict_scenario(*options, command.common()); });
}

}  // namespace hoopfield::cli
