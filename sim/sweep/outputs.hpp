// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Which outputs a sweep keeps, and taking them from a result.
#pragma once

#include "sim/outputs/outputs.hpp"
#include "sim/sweep/sweep.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hoopfield {

struct SelectedOutputs {
  std::vector<const SummaryOutput*> scalars;
  std::vector<const FieldOutput*> fields;
  [[nodiscard]] bool has_transit() const;
};

/// What a message says outputs may be.
inline constexpr const char* expected_outputs =
    "\"summary\", a summary output, \"transit\" or one of its numbers, or a field such as \"hoop_tension\"";

/// True for a number of the load in transit, which is not part of "summary" and needs the goods' mass.
[[nodiscard]] bool is_of_transit(const SummaryOutput& output);

/// Every output of one number: those of the summary, then those of the load in transit. Thread-safe.
[[nodiscard]] const std::vector<const SummaryOutput*>& scalar_outputs();

/// Finds outputs by name, in the order of their tables. Throws InputError naming the nearest output.
[[nodiscard]] SelectedOutputs select_outputs(const std::vector<std::string>& names);

/// True when the name stands for at least one output.
[[nodiscard]] bool is_output(const std::string& name);
[[nodiscard]] std::string nearest_output(const std::string& name);

/// One finished case on its way to memory and file.
struct CaseRecord {
  std::size_t index = 0;
  CaseStatus status = CaseStatus::done;
  std::string message;
  std::vector<double> scalars;
  std::vector<Field> arrays;  ///< in the order of FieldLayout::arrays
};

/// A dimension of fields. Growing ones have no values of their own and get as long as the longest case asks for.
struct FieldAxis {
  std::string name, unit, long_name;
  bool growing = false;
  std::vector<double> values;  ///< when not growing
};

/// Values of several dimensions that every case has: a field, or times and heights where the sweep varies them.
struct ArrayColumn {
  std::string name, unit, long_name;
  std::vector<std::string> dims;  ///< after `case`
};

/// Layout of the fields of a plan: dimensions that the sweep leaves alone are shared, the others are per case.
struct FieldLayout {
  std::vector<FieldAxis> axes;
  std::vector<ArrayColumn> arrays;  ///< the selected fields, then `time` and `height` when per case
  bool time_per_case = false, height_per_case = false;
  [[nodiscard]] const FieldAxis& axis(const std::string& name) const;
};

[[nodiscard]] FieldLayout field_layout(const SweepPlan& plan, const SelectedOutputs& selected);

/// The values of "time" or "height" where the sweep leaves them alone.
using AxisValues = std::function<std::vector<double>(const std::string& name)>;
[[nodiscard]] FieldLayout field_layout(const std::vector<SweepAxis>& varied, const SelectedOutputs& selected,
                                       const AxisValues& values_of);

[[nodiscard]] CaseRecord take_outputs(const SelectedOutputs& selected, const FieldLayout& layout,
                                      std::size_t case_index, const Scenario& scenario, const Result& result);

}  // namespace hoopfield
