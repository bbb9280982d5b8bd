// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/calibrate_command.hpp"

#include "bindings/cli/progress.hpp"
#include "models/error.hpp"
#include "sim/bands/bands.hpp"
#include "sim/calibrate/calibration.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/calibration_json.hpp"
#include "sim/io/text/output_files.hpp"
#include "sim/io/text/readings_reader.hpp"
#include "sim/io/text/scenario_writer.hpp"
#include "sim/words/calibration_text.hpp"

#include <filesystem>
#include <iostream>
#include <memory>
#include <string>
#include <vector>

namespace hoopfield::cli {
namespace {

struct CalibrateCommandOptions {
  std::vector<std::string> files;  ///< scenario, then readings
  std::string output;
  std::vector<std::string> free, held, at;
  bool json = false;
};

std::vector<Reading> read_all(const CalibrateCommandOptions& options) {
  std::vector<Reading> readings;
  for (auto file = options.files.begin() + 1; file != options.files.end(); ++file)
    for (Reading& reading : read_readings_text(read_input_text(*file))) readings.push_back(std::move(reading));
  return readings;
}

/// KEY=VALUE pairs of --at put into the scenario before anything is fitted.
void put_values(Scenario& scenario, const std::vector<std::string>& pairs) {
  std::vector<std::pair<std::string, std::string>> values;
  for (const std::string& pair : pairs) {
    const auto sign = pair.find('=');
    if (sign == std::string::npos || sign == 0)
      throw InputError("--at: \"" + pair + "\" is no pair; expected KEY=VALUE, such as storage.duration=2d");
    values.emplace_back(pair.substr(0, sign), pair.substr(sign + 1));
  }
  if (!values.empty()) set_values(scenario, values);
}

/// The scenario as a file that may lie in another folder than the one it was made from.
std::string written_scenario(const Scenario& scenario, const std::string& from, const std::string& output) {
  namespace fs = std::filesystem;
  Scenario moved = scenario;
  const fs::path film = fs::path(from).parent_path() / moved.film.file;
  const fs::path folder = fs::absolute(output).parent_path();
  if (!fs::path(moved.film.file).is_absolute())
    moved.film.file = fs::relative(fs::absolute(film), folder).generic_string();
  return scenario_text(moved);
}

int calibrate_scenario(const CalibrateCommandOptions& options, const CommonOptions& common) {
  if (options.files.size() < 2)
    throw InputError("calibrate: no readings are named; expected SCENARIO.toml and one or more READINGS.csv");
  Scenario scenario = read_scenario(options.files.front());
  put_values(scenario, options.at);
  const std::vector<Reading> readings = read_all(options);
  OutputFiles files(common.overwrite);
  files.reads(files_of(scenario));
  for (auto file = options.files.begin() + 1; file != options.files.end(); ++file) files.reads(*file);
  files.add("-o", options.output);
  files.check();
  ProgressBar bar;
  bar.section(0.0, 1.0);
  CalibrationOptions asked;
  asked.free = options.free;
  asked.held = options.held;
  asked.band_samples = band_options(scenario).samples;
  const Calibration found = calibrate(scenario, readings, asked, &bar);
  stop_if_interrupted();
  files.write(options.output, written_scenario(found.scenario, options.files.front(), options.output));
  files.commit();
  if (options.json)
    std::cout << calibration_json(found) << '\n';
  else
    std::cout << words::calibration_text(found, {common.units, styled_output()});
  return exit_done;
}

}  // namespace

void add_calibrate_command(Program& program) {
  const Command command =
      program.root().add_command("calibrate", "Correct a scenario from readings taken on wrapped loads",
                                 "hoopfield calibrate scenario.toml readings.csv -o calibrated.toml");
  const auto options = std::make_shared<CalibrateCommandOptions>();
  command.add_option("files", options->files, "Scenario file (TOML), then one or more files of readings (CSV)")
      .required()
      .type_name("SCENARIO.toml READINGS.csv ...");
  command.add_option("-o,--output", options->output, "Write the corrected scenario").required().type_name("OUT.toml");
  command.add_option("--free", options->free, "Move this uncertain input alone; can be repeated").type_name("KEY");
  command.add_option("--hold", options->held, "Keep this input at its value; can be repeated").type_name("KEY");
  command.add_option("--at", options->at, "Use this value instead of the scenario's; can be repeated")
      .type_name("KEY=VALUE");
  command.add_flag("--json", options->json, "Print one JSON object instead of the page");
  command.takes_units();
  command.takes_overwrite();
  command.runs([command, options] { return calibrate_scenario(*options, command.common()); });
}

}  // namespace hoopfield::cli
