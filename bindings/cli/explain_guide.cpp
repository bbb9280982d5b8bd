// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/explain_command.hpp"

#include "models/parameter.hpp"
#include "models/reading_quantity.hpp"
#include "models/text.hpp"
#include "models/units.hpp"

namespace hoopfield::cli {
namespace {

/// "8 % of the value; all readings of one instrument share another 4 %"
std::string errors_of(const ReadingQuantity& q) {
  if (q.error == 0.0) return "exact, counted";
  const auto text = [&q](double error) {
    if (q.error_is_share) return format_quantity(error, "%", 3) + " of the value";
    if (q.percent_due)
      return format_quantity(error, "%", 3).substr(0, format_quantity(error, "%", 3).find(' ')) + " points";
    if (q.unit == "K") return short_number(error) + " K";
    return format_quantity(error, "mm", 3);
  };
  return text(q.error) + "; readings of one instrument share another " + text(q.common_error);
}

std::string reading_entry(const ReadingQuantity& q) {
  const std::string caution = caution_text(q.measure.hazards);
  return "### " + std::string(q.label) + " (`" + std::string(q.name) + "`)\n\n" + std::string(q.measure.text) +
         "\n\n- Time: " + short_number(q.minutes) + " min a reading.\n- How good: " + errors_of(q) + ".\n" +
         (caution.empty() ? "" : "- Caution: " + caution + "\n") + "\n";
}

/// How well an input is known that nobody measured.
std::string unmeasured(const Parameter& p) {
  if (!p.range_low.empty()) {
    const std::string times = p.range_is_factor ? " times the value in use" : "";
    return "assumed from " + std::string(p.range_low) + " to " + std::string(p.range_high) + times;
  }
  return "taken as given to within " + std::string(p.error);
}

std::string input_entry(const Parameter& p) {
  const std::string caution = caution_text(p);
  return "### `" + std::string(p.key) + "`\n\n" + std::string(p.sentence) +
         "\n\n- How: " + std::string(p.measure.text) + "\n- Not measured: " + unmeasured(p) + ".\n" +
         (caution.empty() ? "" : "- Caution: " + caution + "\n") + "\n";
}

}  // namespace

std::string measuring_guide() {
  std::string text =
      "# Measuring guide\n\nWritten by `hoopfield explain --guide` from the declarations; change those and not this "
      "page. "
      "Errors are half of the\ncentral 90 %; errors and minutes are own assumptions until you have stated yours. "
      "Cautions "
      "are common practice, no source;\nthey do not replace local rules or the manual of a machine. Which reading is "
      "worth "
      "most on a load of yours:\n`hoopfield calibrate` and `hoopfield trial`.\n\n## Readings on wrapped loads\n\nA "
      "line of a "
      "readings file each.\n\n";
  for (const ReadingQuantity& q : reading_quantities()) text += reading_entry(q);
  text += "## Inputs\n\nMeasured by themselves and written into the scenario, with their error in `[uncertainty]`.\n\n";
  for (const Parameter& p : parameters(ParameterRoom::scenario))
    if (!p.measure.text.empty() && (!p.range_low.empty() || !p.error.empty())) text += input_entry(p);
  return text;
}

}  // namespace hoopfield::cli
