// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Predictions as the robustness tests judge them.
#pragma once

#include "models/error.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/promises.hpp"

#include <cmath>
#include <cstdlib>
#include <string>

namespace test {

inline hoopfield::Scenario reference_scenario() {
  return hoopfield::read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
}

/// "solved", or the class of the error and its message.
template <class Make>
std::string outcome(Make&& make) {
  using namespace hoopfield;
  try {
    const std::string broken = broken_promise(predict(make()));
    return broken.empty() ? "solved" : "BROKEN: " + broken;
  } catch (const OutOfRange& error) {
    return std::string("OutOfRange: ") + error.what();
  } catch (const InputError& error) {
    return std::string("InputError: ") + error.what();
  } catch (const SolverError& error) {
    return std::string("SolverError: ") + error.what();
  }
}

}  // namespace test
