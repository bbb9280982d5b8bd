// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/report_comparison.hpp"

#include <memory>

namespace hoopfield {

ReportInput report_input(const Comparison& comparison, bool inch_pound) {
  ReportInput input;
  for (const ComparedSide& alternative : comparison.sides) {
    ReportSide side;
    side.name = alternative.name;
    side.measured = alternative.measured;
    side.message = alternative.message;
    if (alternative.scenario) side.scenario = std::make_shared<const Scenario>(*alternative.scenario);
    if (alternative.scenario && alternative.result) side.result = std::make_shared<const Result>(*alternative.result);
    input.sides.push_back(std::move(side));
  }
  input.inch_pound = inch_pound;
  input.comparison = std::make_shared<const Comparison>(comparison);
  return input;
}

}  // namespace hoopfield
