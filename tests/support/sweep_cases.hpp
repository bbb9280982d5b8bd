// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Small sweeps the tests share.
#pragma once

#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/hdf5/run_sweep.hpp"
#include "tests/support/size.hpp"

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <string>

namespace hoopfield::testing {

/// The first example with few slices and an hour of storage: a case takes milliseconds.
inline Scenario quick_scenario() {
  Scenario s = read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
  set_inputs(s, {{"numerics.slices", 4.0},
                 {"storage.temperature", std::string("23 degC")},
                 {"storage.duration", std::string("1 h")}});
  return s;
}

/// Takes long enough that a sweep of some dozens does not finish between two reports of progress.
inline Scenario slow_scenario() {
  Scenario s = quick_scenario();
  s.numerics.slices = test::sized(200, 16);
  return s;
}

/// Force, pre-stretch and pitch; the last pre-stretch is beyond what the film can take, so a quarter of the cases fail.
inline SweepPlan quick_plan(std::vector<std::string> outputs = {}) {
  return make_sweep_plan(quick_scenario(), Sampling::grid,
                         {{"delivery.tension.force", {}, InputValue("50 N"), InputValue("90 N"), 3},
                          {"delivery.prestretch", {2.0, 2.5, 2.9, 4.9}},
                          {"pattern.pitch", {std::string("150 mm"), std::string("300 mm")}}},
                         0, 1, std::move(outputs));
}

inline bool same(double a, double b) { return a == b || (std::isnan(a) && std::isnan(b)); }

inline bool same(const std::vector<double>& a, const std::vector<double>& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t i = 0; i < a.size(); ++i)
    if (!same(a[i], b[i])) return false;
  return true;
}

/// Bit for bit, whatever way the cases were computed.
inline bool same(const SweepResult& a, const SweepResult& b) {
  if (a.status != b.status || a.message != b.message || a.outputs.size() != b.outputs.size() ||
      a.coordinates.size() != b.coordinates.size())
    return false;
  for (std::size_t i = 0; i < a.outputs.size(); ++i)
    if (a.outputs[i].name != b.outputs[i].name || a.outputs[i].shape != b.outputs[i].shape ||
        !same(a.outputs[i].values, b.outputs[i].values))
      return false;
  for (std::size_t i = 0; i < a.coordinates.size(); ++i)
    if (!same(a.coordinates[i].values, b.coordinates[i].values)) return false;
  return true;
}

/// A folder of its own, gone at the end.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "hoopfield_sweep_XXXXXX").string();
    if (::mkdtemp(name.data()) != nullptr) path_ = name;
  }
  ~TemporaryFolder() {
    if (!path_.empty()) std::filesystem::remove_all(path_);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  [[nodiscard]] std::filesystem::path operator/(const char* name) const { return path_ / name; }

 private:
  std::filesystem::path path_;
};

}  // namespace hoopfield::testing
