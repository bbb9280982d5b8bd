// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The outputs of a result by their declarations: the one list that every writer and table walks.
#pragma once

#include "models/parameter.hpp"
#include "sim/outputs/economics.hpp"
#include "sim/outputs/result.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

/// One output with its numbers, or with words where it is a name. SI; stretch as strain.
struct OutputValue {
  const Parameter* declaration = nullptr;  ///< never null; static
  std::vector<std::size_t> shape;          ///< along the axes of the declaration, row-major
  std::vector<double> numbers;             ///< product of shape; empty when it is words
  std::vector<std::string> words;
};

/// Calls `visit(output)` for every declared output that the result has, in the order of the declarations
/// (models/parameter_outputs.cpp). Fields that were not computed and a sensitivity nobody asked for are left out.
void visit_outputs(const Result& result, const std::function<void(const OutputValue&)>& visit);

/// The same for the amounts of an economic chain (models/parameter_outputs_cost.cpp) that are known.
void visit_outputs(const Economics& economics, const std::function<void(const OutputValue&)>& visit);

/// Names along an axis that keys contain: "moment", "station", "direction" or "face"; empty for every other axis.
[[nodiscard]] std::vector<std::string> axis_names(const std::string& axis);

/// One number of a result that sums it up, in SI. Names are those of the JSON object without its units.
struct SummaryOutput {
  std::string name;  ///< "containment.after_storage.middle.hoop_tension"
  std::string unit;  ///< SI, UDUNITS spelling; "1" for pure numbers (stretch as strain)
  std::string long_name;
  bool per_face = false;                   ///< one face of a station: not in the summary by default
  std::size_t place = 0;                   ///< in summary_numbers()
  const Parameter* declaration = nullptr;  ///< static
};

/// Every number of the summary, in the order of the JSON object. Thread-safe.
[[nodiscard]] const std::vector<SummaryOutput>& summary_outputs();

/// The number a name of BandResult::names stands for: one of the summary, an amount of the economic chain, or one of
/// the load in transit. Throws
/// std::out_of_range for other names.
[[nodiscard]] const SummaryOutput& drawn_output(const std::string& name);

/// Amounts of the economic chain that a band is drawn of, by name: "cost.per_load", "cost.year.rolls", ...
[[nodiscard]] const std::vector<std::string>& drawn_amount_names();
/// Their values, SI; NaN for an amount that is not known.
[[nodiscard]] std::vector<double> drawn_amounts(const Economics& economics);

/// The target that is nearest to being missed: the least probability where there are draws, of equal ones the least
/// margin. Null without targets.
[[nodiscard]] const TargetResult* nearest_target(const Result& result);

/// The numbers of a result for summary_outputs(), in the order of their `place`.
[[nodiscard]] std::vector<double> summary_numbers(const Result& result);

/// A field of a result that a sweep can keep, one of the declared outputs with axes of its own.
struct FieldOutput {
  std::string name, unit, long_name;
  std::vector<std::string> dims;
};

[[nodiscard]] const std::vector<FieldOutput>& field_outputs();

/// A field of a result by its name; empty when the result does not have it.
[[nodiscard]] Field field_of(const Result& result, const std::string& name);

}  // namespace hoopfield
