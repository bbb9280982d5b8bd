// SPDX-License-Identifier: BSD-3-Clause
// Every file curve_inputs/NAME.csv is read as curve_inputs/NAME.expected says: refused with exactly that message, or
// accepted with the number of points left and exactly those warnings. The same for sheet_inputs/NAME.toml.
#include "models/error.hpp"
#include "sim/film_lab/datasheet.hpp"
#include "sim/film_lab/film_fit.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace {

namespace fs = std::filesystem;
const fs::path room = fs::path(HOOPFIELD_SOURCE_DIR) / "tests/robustness";

std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

template <typename Read>
std::string answer(Read&& read) {
  try {
    return read();
  } catch (const hoopfield::OutOfRange& error) {
    return std::string("OutOfRange\n") + error.what() + "\n";
  } catch (const hoopfield::InputError& error) {
    return std::string("InputError\n") + error.what() + "\n";
  }
}

std::string read_curve(const fs::path& path) {
  return answer([&] {
    const hoopfield::LabCurve curve = hoopfield::read_lab_curve_text({path.filename().string(), slurp(path)});
    std::string text = "accepted, " + std::to_string(curve.points.size()) + " points\n";
    for (const std::string& warning : curve.warnings) text += warning + "\n";
    return text;
  });
}

std::string read_sheet(const fs::path& path) {
  return answer([&] {
    const hoopfield::FilmSheet sheet = hoopfield::read_film_sheet_text({path.filename().string(), slurp(path)});
    return "accepted, " + std::to_string(sheet.stress_at.size()) + " stresses\n";
  });
}

void check_folder(const char* folder, const char* extension, std::string (*read)(const fs::path&), std::size_t least) {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(room / folder))
    if (entry.path().extension() == extension) paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  REQUIRE(paths.size() >= least);
  for (const fs::path& path : paths) {
    fs::path expected = path;
    expected.replace_extension(".expected");
    const std::string got = read(path);
    INFO("case " << path.filename().string() << "\ngot: " << got << "\nexpected: " << slurp(expected));
    CHECK(got == slurp(expected));
  }
}

}  // namespace

TEST_CASE("every bad curve is refused or repaired with its exact message", "[robustness][film_fit]") {
  check_folder("curve_inputs", ".csv", read_curve, 40);
}

TEST_CASE("every bad data sheet is refused with its exact message", "[robustness][film_fit]") {
  check_folder("sheet_inputs", ".toml", read_sheet, 10);
}

// What a fit costs goes with the readings that are left, not with the rows.
TEST_CASE("two million points are averaged and fitted", "[robustness][film_fit]") {
  std::string text = "# kind: tensile\n# temperature: 23 degC\nstretch_percent,stress_MPa,time_s\n";
  constexpr int rows = 2000000;
  text.reserve(40u * rows);
  for (int i = 0; i < rows; ++i) {
    const double strain = 300.0 * i / (rows - 1);
    text += std::to_string(strain) + "," + std::to_string(9.0 * (1.0 - std::exp(-strain / 3.0)) + 0.012 * strain) +
            "," + std::to_string(strain * 0.01) + "\n";
  }
  const hoopfield::LabCurve curve = hoopfield::read_lab_curve_text({"large.csv", text});
  // Fifteen decimals of a second are not in the file: neighbouring rows of one moment are averaged.
  CHECK(curve.rows_read == rows);
  const hoopfield::FitPath path = hoopfield::make_fit_path(curve);
  CHECK(path.readings.size() < 200);
  hoopfield::FitOptions options;
  options.branches = 2;
  options.base = hoopfield::assumed_film();
  options.derived_intervals = false;
  CHECK(hoopfield::fit_film({curve}, options).curves[0].rms < 0.05);
}

TEST_CASE("large curves that are not there, and folders", "[robustness][film_fit]") {
  CHECK_THROWS_AS(hoopfield::read_lab_curve("/nowhere/curve.csv"), hoopfield::IoError);
  CHECK_THROWS_AS(hoopfield::read_lab_curve(fs::temp_directory_path().string()), hoopfield::IoError);
}
