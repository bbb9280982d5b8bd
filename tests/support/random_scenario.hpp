// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Random valid scenarios of a seed. No test library here.
#pragma once

#include "models/error.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"

#include <cmath>
#include <random>
#include <string>
#include <utility>
#include <vector>

namespace test {

class RandomScenario {
 public:
  explicit RandomScenario(unsigned seed, int slices = 10)
      : random_(seed),
        base_(hoopfield::read_scenario(std::string(HOOPFIELD_SOURCE_DIR) +
                                       "/examples/01_first_prediction/scenario.toml")) {
    base_.numerics.slices = slices;
  }

  /// A valid scenario; combinations that the checks of the inputs refuse are drawn again and counted.
  hoopfield::Scenario operator()() {
    for (;;) {
      try {
        return draw();
      } catch (const hoopfield::InputError&) {
        ++refused_inputs;
      }
    }
  }

  int refused_inputs = 0;

 private:
  double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
  double decades(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }
  bool chance(double share) { return between(0.0, 1.0) < share; }

  hoopfield::Scenario draw() {
    hoopfield::Scenario s = base_;
    std::vector<std::pair<std::string, double>> values = {
        {"film.width", between(0.25, 0.75)},
        {"film.thickness", decades(10e-6, 40e-6)},
        {"delivery.prestretch", chance(0.1) ? 0.0 : between(0.2, 3.2)},
        {"delivery.roller_gap", decades(0.01, 0.3)},
        {"delivery.roller_arc", between(0.0, 0.3)},
        {"delivery.internal_path", between(0.0, 1.5)},
        {"delivery.distance", between(1.0, 3.0)},
        {"delivery.offset", between(-0.4, 0.4)},
        {"delivery.neck_in", between(0.0, 0.5)},
        {"delivery.tension.force", decades(5.0, 150.0)},
        {"rotation.speed", decades(0.2, 5.0)},
        {"rotation.ramp_turns", chance(0.5) ? 0.0 : between(0.0, 3.0)},
        {"pattern.pitch", chance(0.2) ? 0.0 : between(0.05, 0.6)},
        {"pattern.bottom_turns", between(0.0, 4.0)},
        {"pattern.top_turns", between(0.0, 4.0)},
        {"pattern.top_overhang", between(-0.1, 0.15)},
        {"pattern.start_height", between(-0.1, 0.3)},
        {"load.length", between(0.4, 1.6)},
        {"load.width", between(0.4, 1.4)},
        {"load.height", between(0.3, 2.4)},
        {"load.axis_offset", chance(0.5) ? 0.0 : between(-0.1, 0.1)},
        {"load.corner_radius", chance(0.2) ? 0.0 : decades(1e-3, 0.05)},
        {"load.stiffness_along_length", decades(2e3, 1e7)},
        {"load.stiffness_along_width", decades(2e3, 1e7)},
        {"load.creep_per_decade", chance(0.3) ? 0.0 : between(0.0, 0.15)},
        {"load.creep_start", decades(0.1, 100.0)},
        {"load.settling", chance(0.7) ? 0.0 : between(0.0, 0.02)},
        {"load.expansion", chance(0.5) ? 0.0 : between(0.0, 2e-4)},
        {"load.shear_stiffness", chance(0.7) ? 0.0 : decades(1e2, 1e6)},
        {"storage.duration", chance(0.1) ? 0.0 : decades(1.0, 1e7)},
        {"stations.band_height", between(0.05, 0.3)},
    };
    set_numbers(s, values);
    set_number(s, "load.stiffness_coupling",
               between(-0.5, 0.5) * std::sqrt(s.load.stiffness_along_length * s.load.stiffness_along_width));
    s.pattern.descent = chance(0.5);
    s.storage.temperature = {{0.0, between(288.0, 303.0)}, {decades(1.0, 1e6), between(278.0, 313.0)}};
    resolve_scenario(s);
    return s;
  }

  std::mt19937 random_;
  hoopfield::Scenario base_;
};

}  // namespace test
