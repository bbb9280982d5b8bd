// SPDX-License-Identifier: BSD-3-Clause
// Bytes choose the inputs of a scenario within their bounds; every prediction keeps its promises or is refused by name.
#include "models/error.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/promises.hpp"

#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <utility>
#include <vector>

namespace {

using namespace hoopfield;

/// Reads numbers off the bytes; 0.5 when they are used up.
class Bytes {
 public:
  Bytes(const std::uint8_t* data, std::size_t size) : data_(data), size_(size) {}
  double share() {
    if (at_ + 1 >= size_) return 0.5;
    const unsigned word = data_[at_] * 256u + data_[at_ + 1];
    at_ += 2;
    return word / 65535.0;
  }
  double between(double low, double high) { return low + (high - low) * share(); }
  double decades(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }
  bool flag() { return share() < 0.5; }

 private:
  const std::uint8_t* data_;
  std::size_t size_, at_ = 0;
};

std::vector<std::pair<std::string, double>> values(Bytes& b) {
  const double length = b.decades(0.1, 4.0), width = b.decades(0.1, 4.0), height = b.decades(0.05, 3.0);
  return {{"load.length", length},
          {"load.width", width},
          {"load.height", height},
          {"delivery.distance", 0.7 * std::hypot(length, width) * b.decades(1.0, 10.0)},
          {"film.width", b.decades(0.02, 2.0)},
          {"film.thickness", b.decades(2e-6, 2e-4)},
          {"delivery.prestretch", b.between(0.0, 4.5)},
          {"delivery.roller_gap", b.decades(1e-4, 2.0)},
          {"delivery.roller_arc", b.between(0.0, 1.0)},
          {"delivery.internal_path", b.between(0.0, 5.0)},
          {"delivery.neck_in", b.between(0.0, 0.5)},
          {"delivery.tension.force", b.decades(1.0, 2000.0)},
          {"rotation.speed", b.decades(1e-3, 50.0)},
          {"rotation.ramp_turns", b.between(0.0, 5.0)},
          {"pattern.pitch", height * b.between(0.15, 1.0)},
          {"pattern.bottom_turns", b.between(0.0, 4.0)},
          {"pattern.top_turns", b.between(0.0, 4.0)},
          {"pattern.top_overhang", b.between(-0.3, 0.3)},
          {"pattern.start_height", b.between(-0.3, 0.9) * height},
          {"load.corner_radius", b.between(0.0, 0.04)},
          {"load.stiffness_along_length", b.decades(10.0, 1e10)},
          {"load.stiffness_along_width", b.decades(10.0, 1e10)},
          {"load.creep_per_decade", b.between(0.0, 0.3)},
          {"load.creep_start", b.decades(1e-3, 1e4)},
          {"load.settling", b.between(0.0, 0.2)},
          {"load.shear_stiffness", b.flag() ? 0.0 : b.decades(1.0, 1e7)},
          {"friction.film_on_load", b.between(0.0, 2.0)},
          {"storage.duration", b.flag() ? 0.0 : b.decades(1e-3, 1e9)},
          {"stations.band_height", b.decades(0.001, 1.0)},
          {"stations.plate_diameter", 0.09 * b.decades(0.01, 1.0)},
          {"stations.pull_distance", b.decades(1e-3, 0.5)}};
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Scenario base =
      read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
  Bytes bytes(data, size);
  Scenario s = base;
  try {
    s.numerics.slices = 2;
    s.numerics.tolerance = 1e-2;
    s.pattern.descent = bytes.flag();
    s.delivery.tension.control = bytes.flag() ? TensionControl::constant : TensionControl::follow;
    s.storage.temperature = {{0.0, bytes.between(260.0, 330.0)},
                             {bytes.decades(1.0, 1e7), bytes.between(260.0, 330.0)}};
    set_numbers(s, values(bytes));
    const Result r = predict(s);
    std::string broken = test::broken_promise(r);
    // Known: see tests/robustness/numerics_test.cpp.
    if (broken.rfind("force balance", 0) == 0) broken.clear();
    if (!broken.empty()) {
      std::fprintf(stderr, "broken promise: %s\n", broken.c_str());
      std::abort();
    }
  } catch (const Error& error) {
    if (std::string(error.what()).size() < 20) std::abort();
  }
  return 0;
}
