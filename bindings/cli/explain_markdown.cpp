// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/explain_command.hpp"

#include "models/parameter.hpp"

namespace hoopfield::cli {
namespace {

/// Text inside a table cell.
std::string cell(std::string_view text) {
  std::string out;
  for (const char c : text) out += c == '|' ? std::string("\\|") : std::string(1, c);
  return out;
}

std::string unit_cell(const Parameter& p) {
  if (p.unit.empty()) return p.unit_due ? "%" : std::string(p.metric);
  std::string text = std::string(p.metric) + ", " + std::string(p.inch_pound);
  if (p.metric == p.inch_pound) text = std::string(p.metric);
  return text == p.unit ? text : text + " (SI: " + std::string(p.unit) + ")";
}

std::string bounds_cell(const Parameter& p) {
  if (p.kind == ParameterKind::choice) {
    std::string text;
    for (const std::string_view word : choice_list(p)) text += (text.empty() ? "`" : ", `") + std::string(word) + "`";
    return text;
  }
  return bounds_text(p);
}

std::string default_cell(const Parameter& p) {
  if (p.required) return "must be given";
  return p.default_text.empty() ? "absent" : std::string(p.default_text);
}

std::string input_row(const Parameter& p) {
  return "| `" + std::string(p.key) + "` | " + cell(unit_cell(p)) + " | " + cell(bounds_cell(p)) + " | " +
         cell(default_cell(p)) + " | " + cell(p.sentence) + " | " + cell(p.measure.text) + " | " +
         cell(caution_text(p)) + " | " + cell(p.reference) + " |\n";
}

std::string output_row(const Parameter& p) {
  return "| `" + std::string(p.key) + "` | " + cell(unit_cell(p)) + " | " + cell(p.sentence) + " | " +
         cell(p.measure.text) + " | " + cell(caution_text(p)) + " | " + cell(p.reference) + " |\n";
}

std::string input_table(const char* title, ParameterRoom room) {
  std::string text = std::string("## ") + title +
                     "\n\n| key | unit | bounds | default | meaning | how to measure it | caution | reference |\n"
                     "| --- | --- | --- | --- | --- | --- | --- | --- |\n";
  for (const Parameter& p : parameters(room))
    if (p.room == room) text += input_row(p);
  return text + "\n";
}

}  // namespace

std::string explain_markdown() {
  std::string text =
      "# Keys\n\nWritten by `hoopfield explain --markdown` from the declarations in `models/parameter_*.cpp`; change "
      "those and not\nthis page. Bounds are physical: a value outside is an error. `hoopfield check` lists a default "
      "that "
      "stands in for a\nmeasurement as `assumed`. Where the reference names no source, bounds, ranges of use and "
      "ranges "
      "over which unknowns are\nranked are own assumptions. Cautions are common practice, no source; they do not "
      "replace "
      "local rules or the manual of a\nmachine. What was read of each source: "
      "[validation/SOURCES.md](../../validation/SOURCES.md).\n\n";
  text += input_table("Scenario file", ParameterRoom::scenario);
  text += input_table("Film file", ParameterRoom::film_file);
  text += input_table("Measured side of a comparison", ParameterRoom::measured_file);
  text +=
      "A measured side also takes `scenario.title`, `scenario.notes`, `film.width`, `film.thickness`, `film.price`, "
      "`stations.top`, `stations.middle`, `stations.bottom`, `stations.band_height` and the keys of `cost`.\n\n";
  text +=
      "## Outputs\n\n| key | unit | meaning | how to measure it | caution | reference |\n| --- | --- | --- | --- | --- "
      "| --- |\n";
  for (const Parameter& p : parameters(ParameterRoom::output)) text += output_row(p);
  text +=
      "\n## Numbers of a film\n\nRead off virtual tests of a film (`hoopfield film test`); films are compared by them. "
      "l is stretch, e = l - 1, P the force over the section on the roll, s = P l.\n\n"
      "| key | unit | meaning | how to measure it | caution | formula |\n| --- | --- | --- | --- | --- | --- |\n";
  for (const Parameter& p : parameters(ParameterRoom::film_number)) text += output_row(p);
  return text;
}

}  // namespace hoopfield::cli
