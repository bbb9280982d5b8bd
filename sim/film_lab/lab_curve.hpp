// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Curves measured in a laboratory, read from CSV and put in order.
///
/// Header: `stretch_percent` or `displacement_mm`, `force_N` or `stress_MPa`, `time_s`; other units of the same kind
/// may stand after the underscore. Lines `# key: value` say how the test was made: width, thickness, grip distance,
/// speed (of the grips) or rate, temperature, kind, width exponent, machine compliance. Time may be left out of a
/// tensile curve with a speed. Stress is force over the section on the roll; no machine's file format is imitated.
#pragma once

#include "sim/base/input_text.hpp"
#include "sim/film_lab/film_test.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

struct LabPoint {
  double time = 0.0;     ///< s
  double stretch = 1.0;  ///< length over starting length
  double stress = 0.0;   ///< nominal, Pa
};

/// SI. Times do not fall; the first point may stand at any stretch.
struct LabCurve {
  std::string name;
  FilmTestKind kind = FilmTestKind::tensile;
  double temperature = 296.15;  ///< K
  bool temperature_given = false;
  double width_exponent = 0.5;
  std::vector<LabPoint> points;
  std::size_t rows_read = 0;
  std::optional<double> break_stretch;  ///< strain, when the force dropped for good
  std::optional<double> specimen_area;  ///< m^2 between the grips
  bool illustrative = false;            ///< the file says so, or was computed
  std::vector<std::string> warnings;    ///< what was repaired, in words, with the line it began at
};

/// Greatest file, bytes.
inline constexpr std::size_t max_curve_bytes = 1u << 30;

/// Throws IoError when the file cannot be read, InputError (file, line) for what cannot be repaired.
[[nodiscard]] LabCurve read_lab_curve(const std::string& path);
[[nodiscard]] LabCurve read_lab_curve_text(const InputText& input);

/// A curve as a virtual test gives it.
[[nodiscard]] LabCurve lab_curve(const FilmTest& test, const FilmCurve& curve, const std::string& name);

}  // namespace hoopfield
