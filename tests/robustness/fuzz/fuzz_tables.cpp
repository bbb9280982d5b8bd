// SPDX-License-Identifier: BSD-3-Clause
// Any bytes as a laboratory curve, as readings taken on loads or as a film's data sheet (the first byte says which):
// read to values that keep their promises, or refused by an InputError that names the file.
#include "models/error.hpp"
#include "sim/film_lab/datasheet.hpp"
#include "sim/film_lab/lab_curve.hpp"
#include "sim/io/text/readings_reader.hpp"

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using namespace hoopfield;

void check_curve(const InputText& input) {
  const LabCurve curve = read_lab_curve_text(input);
  double time = -1.0;
  for (const LabPoint& point : curve.points) {
    if (!std::isfinite(point.time) || !std::isfinite(point.stretch) || !std::isfinite(point.stress)) std::abort();
    if (point.time < time || !(point.stretch > 0.0)) std::abort();
    time = point.time;
  }
}

void check_readings(const InputText& input) {
  for (const Reading& reading : read_readings_text(input))
    if (!std::isfinite(reading.value) || (reading.height && !std::isfinite(*reading.height))) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const InputText input = {"table.txt", std::string(reinterpret_cast<const char*>(data) + 1, size - 1)};
  try {
    switch (data[0] % 3) {
      case 0: check_curve(input); break;
      case 1: check_readings(input); break;
      default: (void)read_film_sheet_text(input);
    }
  } catch (const InputError& error) {
    if (std::string(error.what()).find("table.txt") == std::string::npos) std::abort();
  }
  return 0;
}
