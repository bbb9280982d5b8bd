// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/transit_command.hpp"

#include "bindings/cli/progress.hpp"
#include "models/error.hpp"
#include "sim/bands/transit_bands.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/requirement.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/hdf5/transit_writer.hpp"
#include "sim/io/text/output_files.hpp"
#include "sim/io/text/transit_json.hpp"
#include "sim/transit/answer.hpp"
#include "sim/transit/transit_numbers.hpp"
#include "sim/words/transit_text.hpp"
#include "sim/wrap/predict.hpp"
#include "sim/wrap/predict_denser.hpp"

#include <iostream>
#include <memory>
#include <optional>
#include <string>

namespace hoopfield::cli {
namespace {

struct TransitCommandOptions {
  std::string scenario, requirement;
  std::string hdf5;  ///< result file; empty = none
  std::optional<int> band_samples;
  bool tilt = false, json = false;
};

TransitAnswer compute(const Scenario& scenario, const TransitCommandOptions& options) {
  require_transit_inputs(scenario);
  ProgressBar bar;
  bar.section(0.0, 0.03);
  const Result result = predict(scenario, &bar);
  bar.section(0.03, 0.3);
  TransitOptions asked;
  asked.tilt = options.tilt;
  asked.predictor = predict_denser;
  TransitAnswer answer = answer_transit(scenario, result, asked, &bar);
  bar.section(0.3, 1.0);
  const std::size_t samples = options.band_samples ? static_cast<std::size_t>(*options.band_samples) : transit_samples;
  add_transit_bands(scenario, result, answer, samples, &bar);
  stop_if_interrupted();
  return answer;
}

int transit_scenario(const TransitCommandOptions& options, const CommonOptions& common) {
  if (options.band_samples) check_band_samples(*options.band_samples);
  Scenario scenario = read_scenario(options.scenario);
  if (!options.requirement.empty())
    set_value(scenario, "transit.requirement", requirement_from_here(options.requirement));
  if (common.overwrite && options.hdf5.empty())
    throw InputError("--overwrite: nothing is written; expected -o beside it");
  OutputFiles files(common.overwrite);
  files.reads(files_of(scenario));
  if (!options.hdf5.empty()) files.add("-o", options.hdf5);
  files.check();
  const TransitAnswer answer = compute(scenario, options);
  if (!options.hdf5.empty()) files.write(options.hdf5, transit_hdf5(scenario, answer));
  stop_if_interrupted();
  files.commit();
  if (options.json)
    std::cout << transit_json(scenario, answer) << '\n';
  else
    std::cout << transit_text(scenario, answer, {common.units, styled_output()});
  return exit_done;
}

}  // namespace

void add_transit_command(Program& program) {
  const Command command =
      program.root().add_command("transit", "Predict whether the wrapped load stays together on its way",
                                 "hoopfield transit scenario.toml --requirement road-eu-2014-47");
  const auto options = std::make_shared<TransitCommandOptions>();
  command.add_option("scenario", options->scenario, "Scenario file (TOML)").required().type_name("SCENARIO.toml");
  command
      .add_option("--requirement", options->requirement,
                  "Levels to judge by: a set that is built in or a file; in place of transit.requirement")
      .type_name("NAME|FILE");
  command.add_option("-o,--output", options->hdf5, "Write what it withstands and courses over time as HDF5")
      .type_name("OUT.h5");
  command
      .add_option("--band-samples", options->band_samples,
                  "Draws behind the bands: 0 (off) or a power of two, 16 to 65536; default 32, pulses take their time")
      .type_name("N");
  command.add_flag("--tilt", options->tilt, "Also the angles of a slow tilt at which the load slips");
  command.add_flag("--json", options->json, "Print one JSON object instead of the page");
  command.takes_units();
  command.takes_overwrite();
  command.runs([command, options] { return transit_scenario(*options, command.common()); });
}

}  // namespace hoopfield::cli
