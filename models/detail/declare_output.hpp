// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How an output is declared; shared by the sources that list outputs.
#pragma once

#include "models/parameter.hpp"

namespace hoopfield::detail {

/// SI unit ("money" in the currency of the prices), units people write (metric, inch-pound) and unit in JSON.
struct OutputUnits {
  std::string_view si, metric, inch_pound, json;
};

struct OutputWords {
  std::string_view label, sentence;
  Measure measure = {};
};

constexpr Parameter declare_output(std::string_view key, OutputUnits units, std::string_view axes,
                                   std::string_view file, OutputWords words, bool in_summary) {
  return {.key = key,
          .room = ParameterRoom::output,
          .unit = units.si,
          .metric = units.metric,
          .inch_pound = units.inch_pound,
          .sentence = words.sentence,
          .measure = words.measure,
          .reference = "Computed; documented with the stage that computes it.",
          .label = words.label,
          .axes = axes,
          .json_unit = units.json,
          .file = file,
          .in_summary = in_summary};
}

}  // namespace hoopfield::detail
