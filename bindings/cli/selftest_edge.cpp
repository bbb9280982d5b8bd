// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/selftest.hpp"
#include "models/units.hpp"
#include "sim/base/number_text.hpp"
#include "sim/io/hdf5/hdf5_writer.hpp"

#include <cmath>
#include <numbers>
#include <string_view>

namespace hoopfield::cli {

namespace {

SelfCheck unit_check(const char* text, const char* unit, const char* formula, double expected) {
  return {std::string("unit: ") + text, formula, expected, parse_quantity(text, unit), 1e-12, unit};
}

/// The file format's signature, read as one number, of a file built in memory by the linked library.
SelfCheck hdf5_check() {
  Result empty;
  empty.time = {0.0};
  empty.height = {0.5};
  for (Field* field : {&empty.hoop_tension}) field->resize({1, face_count, 1}, 1.0);
  empty.film_layers.resize({face_count, 1}, 1.0);
  empty.closing_along_length.resize({1, 1}, 0.0);
  empty.closing_along_width.resize({1, 1}, 0.0);
  empty.temperature = {296.15};
  const std::string bytes = hdf5_bytes({}, empty);
  constexpr std::string_view signature = "\x89HDF\r\n\x1a\n";
  return {"result file starts with the signature of HDF5", "first 8 bytes", 1.0,
          bytes.starts_with(signature) ? 1.0 : 0.0,        1e-12,           ""};
}

}  // namespace

std::vector<SelfCheck> edge_checks() {
  return {unit_check("1 lbf/in", "N/m", "0.45359237 * 9.80665 / 0.0254", 0.45359237 * 9.80665 / 0.0254),
          unit_check("100 degF", "K", "(100 + 459.67) / 1.8", (100.0 + 459.67) / 1.8),
          unit_check("1 mil", "m", "0.001 * 0.0254", 2.54e-5),
          unit_check("12 rpm", "rad/s", "12 * 2 pi / 60", 0.4 * std::numbers::pi),
          unit_check("250 %", "", "250 / 100", 2.5),
          {"number text reads back", "0.1 + 0.2", 0.1 + 0.2, *number_in(shortest(0.1 + 0.2)), 0.0, ""},
          hdf5_check()};
}

}  // namespace hoopfield::cli
