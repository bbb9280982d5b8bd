// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/trial_command.hpp"

#include "models/error.hpp"
#include "sim/calibrate/trial.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/calibration_json.hpp"
#include "sim/io/text/output_files.hpp"
#include "sim/words/calibration_text.hpp"

#include <iostream>
#include <memory>
#include <string>
#include <vector>

namespace hoopfield::cli {
namespace {

struct TrialCommandOptions {
  std::string present, candidate;
  int loads = 3;
  double minutes = 0.0;
  std::string form;  ///< readings file to be filled in; empty = none
  bool json = false;
};

TrialOptions checked(const TrialCommandOptions& options) {
  if (options.loads < 1 || options.loads > 1000)
    throw InputError("--loads: " + std::to_string(options.loads) + " is no number of loads; expected 1 to 1000");
  if (!(options.minutes >= 0.0)) throw InputError("--minutes: is negative; expected 0 (no limit) or more");
  TrialOptions asked;
  asked.loads = static_cast<std::size_t>(options.loads);
  asked.minutes = options.minutes;
  return asked;
}

int plan(const TrialCommandOptions& options, const CommonOptions& common) {
  const TrialOptions asked = checked(options);
  const Scenario present = read_scenario(options.present), candidate = read_scenario(options.candidate);
  if (common.overwrite && options.form.empty())
    throw InputError("--overwrite: nothing is written; expected --csv beside it");
  OutputFiles files(common.overwrite);
  files.reads(files_of(present));
  files.reads(files_of(candidate));
  if (!options.form.empty()) files.add("--csv", options.form);
  files.check();
  const Trial trial = plan_trial(present, candidate, asked);
  if (!options.form.empty()) {
    std::vector<ReadingPlace> places;
    for (const TrialReading& reading : trial.readings)
      if (reading.is_chosen) places.push_back(reading.place);
    files.write(options.form, readings_form(places, asked.loads));
  }
  files.commit();
  if (options.json)
    std::cout << trial_json(trial) << '\n';
  else
    std::cout << words::trial_text(trial, {common.units, styled_output()});
  return exit_done;
}

}  // namespace

void add_trial_command(Program& program) {
  const Command command =
      program.root().add_command("trial", "Say which readings on how many loads tell two scenarios apart",
                                 "hoopfield trial present.toml candidate.toml --loads 3 --csv form.csv");
  const auto options = std::make_shared<TrialCommandOptions>();
  command.add_option("present", options->present, "Scenario of today").required().type_name("PRESENT.toml");
  command.add_option("candidate", options->candidate, "Scenario to be tried").required().type_name("CANDIDATE.toml");
  command.add_option("--loads", options->loads, "Loads to be wrapped of each side (default 3)").type_name("N");
  command.add_option("--minutes", options->minutes, "Minutes of reading that each load may take (default: no limit)")
      .type_name("M");
  command.add_option("--csv", options->form, "Write a readings file to be filled in").type_name("FORM.csv");
  command.add_flag("--json", options->json, "Print one JSON object instead of the page");
  command.takes_units();
  command.takes_overwrite();
  command.runs([command, options] { return plan(*options, command.common()); });
}

}  // namespace hoopfield::cli
