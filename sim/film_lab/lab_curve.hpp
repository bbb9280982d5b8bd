// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Curves measured in a laboratory, read from tables and put in order.
///
/// Names above the table: `stretch_percent` or `displacement_mm`, `force_N` or `stress_MPa`, `time_s`; or their general
/// names in English, German, French or Spanish, the unit in brackets, behind the name or in a row below the names
/// (lab_names.cpp). Lines `# key: value` say how the test was made: width, thickness, grip distance, speed (of the
/// grips) or rate, temperature, kind, width exponent, machine compliance. Time may be left out of a tensile curve with
/// a speed. Free lines above the names are passed over. Stress is force over the section on the roll; no machine's file
/// format is imitated. UTF-8 or ISO-8859-1.
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

/// What a line "# key: value" would say; the value with its unit.
struct LabCondition {
  std::string key, value;
};

/// What is said beside a file.
struct LabReading {
  std::string columns;  ///< names for a table without them, as they would stand above it; "-" passes a column over
  std::string columns_name = "--columns";  ///< what messages call them
  std::vector<LabCondition> conditions;    ///< used where the file does not say
};

/// Throws IoError when the file cannot be read, InputError (file, line) for what cannot be repaired.
[[nodiscard]] LabCurve read_lab_curve(const std::string& path, const LabReading& how = {});
[[nodiscard]] LabCurve read_lab_curve_text(const InputText& input, const LabReading& how = {});

/// A table that is in memory; names and units as in a file. A value that is not finite is a missing one.
struct LabTable {
  struct Column {
    std::string name;
    std::vector<double> values;
  };
  std::string name;
  std::vector<Column> columns;
  std::vector<LabCondition> conditions;
};

/// Whether a name is that of a column of a curve, whatever its unit.
[[nodiscard]] bool names_lab_column(const std::string& name);

/// Throws InputError as for a file; rows are counted from 0 in warnings.
[[nodiscard]] LabCurve read_lab_table(const LabTable& table);

/// A curve as a virtual test gives it.
[[nodiscard]] LabCurve lab_curve(const FilmTest& test, const FilmCurve& curve, const std::string& name);

}  // namespace hoopfield
