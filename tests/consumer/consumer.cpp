// SPDX-License-Identifier: BSD-3-Clause
// Reads a scenario, predicts it and prints the hoop tension of the middle station after storage, N/m.
#include "models/error.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/wrap/predict.hpp"

#include <cstdio>

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "usage: consumer SCENARIO.toml\n");
    return 2;
  }
  try {
    const hoopfield::Result result = hoopfield::predict(hoopfield::read_scenario(argv[1]));
    std::printf("%.17g\n", result.after_storage.stations[1].hoop_tension);
  } catch (const hoopfield::Error& error) {
    std::fprintf(stderr, "consumer: %s\n", error.what());
    return 1;
  }
}
