// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/check_command.hpp"

#include "bindings/cli/words.hpp"
#include "models/caution.hpp"
#include "models/units.hpp"
#include "sim/base/shown_text.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/reader_support.hpp"
#include "sim/inputs/scenario_reader.hpp"

#include <algorithm>
#include <iostream>
#include <memory>

namespace hoopfield::cli {
namespace {

constexpr std::size_t key_width = 35, value_width = 16, unit_width = 9, origin_width = 9;

// Pairs of time and temperature are a table; shown in hours and in the temperature of the style.
std::string history_text(const Scenario& scenario, std::optional<UnitStyle> units) {
  const std::string unit = !units ? "K" : *units == UnitStyle::inch_pound ? "degF" : "degC";
  std::string text;
  for (const auto& [time, temperature] : scenario.storage.temperature) {
    text += (text.empty() ? "" : ", ") + format_input(time, units ? "h" : "s") + ": " + format_input(temperature, unit);
  }
  return text;
}

struct Shown {
  std::string value, unit;
};

Shown shown_value(const Scenario& scenario, const ResolvedValue& value, std::optional<UnitStyle> units) {
  if (value.key == "storage.temperature" && !value.number) return {history_text(scenario, units), {}};
  if (!value.number) return {shown_text(value.text), {}};
  if (!units) return {value.text, value.unit};
  const std::string text = customary_text(value, *units == UnitStyle::inch_pound);
  const auto space = text.find(' ');
  if (space == std::string::npos) return {text, {}};
  return {text.substr(0, space), text.substr(space + 1)};
}

std::string block(const std::string& text, const std::string& first_indent, const std::string& indent) {
  std::string out = wrap(text, first_indent, indent);
  while (!out.empty() && out.back() == '\n') out.pop_back();
  return out + "\n";
}

std::string row(const ResolvedValue& value, const Shown& shown) {
  const bool assumed = value.source.origin == Origin::assumed;
  std::string line = (assumed ? "* " : "  ") + pad_right(value.key, key_width);
  const std::string tail = pad_right(std::string(origin_word(value.source.origin)), origin_width) +
                           (value.source.line > 0 ? pad_left(std::to_string(value.source.line), 5) : "    -");
  const bool fits = display_width(shown.value) < value_width && display_width(shown.unit) < unit_width;
  if (fits) return line + pad_right(shown.value, value_width) + pad_right(shown.unit, unit_width) + tail + "\n";
  line += pad_right("(below)", value_width) + pad_right({}, unit_width) + tail + "\n";
  return line + block(shown.value + (shown.unit.empty() ? "" : " " + shown.unit), "      ", "      ");
}

std::string header(const std::string& title) {
  return title + "\n  " + pad_right("key", key_width) + pad_right("value", value_width) +
         pad_right("unit", unit_width) + pad_right("origin", origin_width) + pad_left("line", 5) + "\n";
}

}  // namespace

std::string check_page(const Scenario& scenario, std::optional<UnitStyle> units) {
  const std::vector<ResolvedValue> inputs = resolved_values(scenario);
  std::vector<ResolvedValue> film;
  (void)read_film_text({scenario.film.file, scenario.film_text}, &film);
  std::string page = shown_text(scenario.path) + ": complete and consistent\n\n" + header("Scenario");
  std::size_t assumed = 0;
  for (const ResolvedValue& value : inputs) {
    if (value.source.origin == Origin::assumed) ++assumed;
    page += row(value, shown_value(scenario, value, units));
  }
  page += "\n" + header("Film file " + shown_text(scenario.film.file));
  for (const ResolvedValue& value : film) page += row(value, shown_value(scenario, value, units));
  const auto film_assumed = static_cast<std::size_t>(std::count_if(
      film.begin(), film.end(), [](const ResolvedValue& v) { return v.source.origin == Origin::assumed; }));
  page +=
      "\n" + block("* assumed: " + std::to_string(assumed) + " of " + std::to_string(inputs.size()) +
                       " scenario inputs and " + std::to_string(film_assumed) + " of " + std::to_string(film.size()) +
                       " film inputs are assumed. `hoopfield predict` "
                       "ranks those that matter; `hoopfield explain KEY` says how to measure one.",
                   "", "  ");
  if (scenario.film_description.provenance.illustrative) {
    page += "The film is illustrative: its numbers describe no real film.\n";
  }
  for (const Warning& warning : input_warnings(scenario)) {
    page += block(warning.severity + ": " + in_style(warning.text, units.value_or(UnitStyle::metric)), "", "  ");
  }
  return page + "\n" + block(std::string(short_caution), "", "");
}

void add_check_command(Program& program) {
  const Command command = program.root().add_command("check", "Validate a scenario and show every resolved input",
                                                     "hoopfield check scenario.toml");
  const auto path = std::make_shared<std::string>();
  command.add_option("scenario", *path, "Scenario file (TOML)").required().type_name("SCENARIO.toml");
  command.takes_units();
  command.runs([command, path] {
    std::cout << check_page(read_scenario(*path), command.common().chosen_units);
    return static_cast<int>(exit_done);
  });
}

}  // namespace hoopfield::cli
