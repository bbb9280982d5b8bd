// SPDX-License-Identifier: BSD-3-Clause
// The table [calibration]: read, written, and acting in the draws of a band.
#include "sim/inputs/calibration_table.hpp"

#include "sim/bands/bands.hpp"
#include "sim/inputs/correlation.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/scenario_writer.hpp"
#include "tests/support/catch.hpp"

#include <cmath>
#include <string>

using namespace hoopfield;

namespace {

const std::string table = R"(
[uncertainty]
"delivery.tension.force_scale" = [0.9, 1.1]
"film.stiffness_scale" = [0.9, 1.1]
[calibration]
keys = ["delivery.tension.force_scale", "film.stiffness_scale"]
correlation = [[-0.8]]
load_scatter = 0.03
readings = ["trial.csv"]
)";

std::string scenario_with(const std::string& more) {
  const std::string path = HOOPFIELD_SOURCE_DIR "/examples/08_thin_against_thick/present.toml";
  return read_scenario(path).text + more;
}

Scenario read(const std::string& text) {
  return read_scenario_text(text, "calibrated.toml", HOOPFIELD_SOURCE_DIR "/examples/08_thin_against_thick");
}

double correlation(const BandResult& band, std::size_t a, std::size_t b) {
  const std::size_t keys = band.unknowns.size();
  const auto n = static_cast<double>(band.status.size());
  double ma = 0, mb = 0, aa = 0, bb = 0, ab = 0;
  for (std::size_t i = 0; i < band.status.size(); ++i)
    ma += band.inputs[i * keys + a] / n, mb += band.inputs[i * keys + b] / n;
  for (std::size_t i = 0; i < band.status.size(); ++i) {
    const double x = band.inputs[i * keys + a] - ma, y = band.inputs[i * keys + b] - mb;
    aa += x * x, bb += y * y, ab += x * y;
  }
  return ab / std::sqrt(aa * bb);
}

}  // namespace

TEST_CASE("A calibration is read and written again", "[calibrate]") {
  const Scenario first = read(scenario_with(table));
  REQUIRE(first.calibration);
  CHECK(first.calibration->keys.size() == 2);
  CHECK(first.calibration->correlation[1] == -0.8);
  CHECK(first.calibration->correlation[2] == -0.8);
  CHECK(first.calibration->correlation[0] == 1.0);
  CHECK(first.calibration->load_scatter == 0.03);
  const Scenario again = read(scenario_text(first));
  CHECK(again.calibration == first.calibration);
}

TEST_CASE("Inputs fitted together are drawn together", "[calibrate]") {
  const Scenario scenario = read(scenario_with(table));
  const BandResult band = draw_bands(scenario, {256, 1, {}, 0.0, 1.0});
  std::size_t force = 0, stiffness = 0;
  for (std::size_t k = 0; k < band.unknowns.size(); ++k) {
    if (band.unknowns[k].key == "delivery.tension.force_scale") force = k;
    if (band.unknowns[k].key == "film.stiffness_scale") stiffness = k;
  }
  // Of 256 draws: the standard error of a correlation of -0.8 is 0.36/16 = 0.02.
  CHECK(correlation(band, force, stiffness) == Approx(-0.8).margin(0.07));
  const BandResult apart =
      draw_bands(read(scenario_with(table.substr(0, table.find("[calibration]")))), {256, 1, {}, 0.0, 1.0});
  CHECK(std::abs(correlation(apart, force, stiffness)) < 0.2);
}

TEST_CASE("A calibration that learned nothing draws as before", "[calibrate]") {
  CHECK(symmetric_root({}, 0).empty());
  const Scenario plain = read(scenario_with("")), learned = read(scenario_with("\n[calibration]\nkeys = []\n"));
  REQUIRE(learned.calibration);
  CHECK(draw_bands(learned, {16, 1, {}, 0.0, 1.0}).inputs == draw_bands(plain, {16, 1, {}, 0.0, 1.0}).inputs);
}

TEST_CASE("The symmetric root squares to its matrix", "[calibrate]") {
  const std::vector<double> matrix = {1.0, 0.5, -0.2, 0.5, 1.0, 0.3, -0.2, 0.3, 1.0};
  const std::vector<double> root = symmetric_root(matrix, 3);
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t j = 0; j < 3; ++j) {
      double sum = 0.0;
      for (std::size_t k = 0; k < 3; ++k) sum += root[i * 3 + k] * root[k * 3 + j];
      CHECK(sum == Approx(matrix[i * 3 + j]).margin(1e-12));
      CHECK(root[i * 3 + j] == Approx(root[j * 3 + i]).margin(1e-12));
    }
}
