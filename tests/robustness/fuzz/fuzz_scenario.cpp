// SPDX-License-Identifier: BSD-3-Clause
// Any bytes as a scenario file: read to values that keep their promises, or refused by an InputError with the place.
#include "models/error.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace hoopfield;
  const std::string text(reinterpret_cast<const char*>(data), size);
  try {
    Scenario scenario = read_scenario_text(text, "f.toml", HOOPFIELD_SOURCE_DIR "/models/parameters/films");
    for (const ResolvedValue& value : resolved_values(scenario)) {
      if (!value.number) continue;
      const bool may_be_infinite = value.key.rfind("load.stiffness_along", 0) == 0;
      if (!std::isfinite(*value.number) && !may_be_infinite) std::abort();
      if (value.unit == value.parameter->unit && !within_bounds(*value.parameter, *value.number)) std::abort();
      (void)customary_text(value, true);
    }
    resolve_scenario(scenario);
    (void)assumed_ranges(scenario);
    (void)input_warnings(scenario);
  } catch (const InputError& error) {
    // The message names the file it is about: the scenario, or the film file it names.
    if (std::string(error.what()).find(".toml") == std::string::npos) std::abort();
  }
  return 0;
}
