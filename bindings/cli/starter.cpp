// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/starter.hpp"

#include "bindings/cli/words.hpp"
#include "models/error.hpp"
#include "models/parameter.hpp"
#include "models/units.hpp"
#include "sim/base/input_text.hpp"
#include "sim/base/toml_text.hpp"
#include "sim/inputs/film_library.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/inputs/inputs.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace hoopfield::cli {
namespace {

constexpr std::size_t comment_width = 100;

/// A TOML string on one line: control characters become spaces.
std::string one_line(std::string_view text) {
  std::string spaced(text);
  for (char& c : spaced)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = ' ';
  return toml_text(spaced);
}

// Numbers without unit stay numbers; everything else is a text in TOML.
std::string toml_value(const Parameter& p, const std::string& text) {
  UnitProblem problem;
  const bool may_be_bare = p.kind == ParameterKind::integer || p.kind == ParameterKind::flag ||
                           (p.kind == ParameterKind::number && p.unit.empty() && !p.unit_due);
  const bool number = text.find('%') == std::string::npos && read_quantity(text, "", problem).has_value();
  const bool bare = may_be_bare && (number || text == "true" || text == "false");
  return bare ? text : one_line(text);
}

std::string comment(const std::string& text) {
  std::string out = wrap(text, "# ", "#   ", comment_width);
  while (!out.empty() && out.back() == '\n') out.pop_back();
  return out + "\n";
}

std::string explanation(const Parameter& p, UnitStyle units) {
  const std::string caution = caution_text(p);
  return comment(in_style(std::string(p.sentence), units)) + comment("Measure: " + in_style(how_to_measure(p), units)) +
         (caution.empty() ? caution : comment("Caution: " + caution));
}

std::string answer_or_default(const StarterAnswers& answers, const StarterQuestion& q, UnitStyle units) {
  const auto it = answers.find(std::string(q.key));
  if (it != answers.end()) return it->second;
  return std::string(units == UnitStyle::inch_pound ? q.inch_pound : q.metric);
}

// A load larger than usual needs an outlet farther out than usual.
double assumed_distance(const StarterAnswers& answers, UnitStyle units) {
  double length = 0.0, width = 0.0;
  for (const StarterQuestion& q : starter_questions()) {
    if (q.key == "load.length") length = parse_quantity(answer_or_default(answers, q, units), "m");
    if (q.key == "load.width") width = parse_quantity(answer_or_default(answers, q, units), "m");
  }
  const double reach = 0.5 * std::hypot(length, width);
  return reach < 1.2 ? 1.5 : std::ceil(13.0 * reach) / 10.0;
}

std::string entry(const Parameter& p, const StarterAnswers& answers, const StarterFilm& film, UnitStyle units) {
  const std::string name(p.key.substr(p.key.rfind('.') + 1));
  if (p.key == "scenario.schema") return "schema = 1\n";
  if (p.key == "scenario.title" && answers.count("scenario.title") == 0) return "title = \"Starter scenario\"\n";
  if (p.key == "film.file") return "file = " + one_line(film.file_name) + "\n";
  const auto answered = answers.find(std::string(p.key));
  if (answered != answers.end()) return name + " = " + toml_value(p, answered->second) + "\n";
  const auto assumed = [&](const std::string& text) {
    return explanation(p, units) + name + " = { value = " + toml_value(p, text) + ", origin = \"assumed\" }\n";
  };
  if (p.key == "delivery.distance") return assumed(format_quantity(assumed_distance(answers, units), "m"));
  if (p.key == "pattern.overlap" && answers.count("pattern.pitch") != 0) return {};
  for (const StarterQuestion& q : starter_questions()) {
    const std::string text = answer_or_default(answers, q, units);
    if (q.key == p.key && !text.empty()) return assumed(text);
  }
  // Left to its default; written as a comment where it counts among the unknowns.
  if (p.range_low.empty() || p.default_text.empty()) return {};
  const std::string value = p.unit.empty() ? std::string(p.default_text)
                                           : format_quantity(parse_quantity(p.default_text, p.unit),
                                                             units == UnitStyle::inch_pound ? p.inch_pound : p.metric);
  return explanation(p, units) + "# " + name + " = " + toml_value(p, value) + "\n";
}

// What was measured best replaces what is assumed by class of load.
std::string stiffness_note(UnitStyle units) {
  const Parameter* p = find_parameter(ParameterRoom::scenario, "load.stiffness_along_length");
  return explanation(*p, units) + "# stiffness_along_length = \"200 kPa\"\n# stiffness_along_width = \"200 kPa\"\n";
}

std::string table_of(std::string_view key) { return std::string(key.substr(0, key.rfind('.'))); }

InputError for_flag(const InputError& error, const StarterQuestion& q) {
  std::string message = error.what();
  const std::string prefix = std::string(q.key) + ": ";
  if (message.starts_with(prefix)) message.erase(0, prefix.size());
  return InputError(std::string(q.flag) + ": " + message, {}, 0, 0, std::string(q.key));
}

}  // namespace

const std::vector<StarterQuestion>& starter_questions() {
  static const std::vector<StarterQuestion> questions = {
      {"scenario.title", "--title", "Title", "Starter scenario", "Starter scenario", false},
      {"load.length", "--length", "Length of the load", "1.2 m", "48 in", true},
      {"load.width", "--width", "Width of the load", "1 m", "40 in", true},
      {"load.height", "--height", "Height of the load above the deck", "1.5 m", "60 in", true},
      {"load.mass", "--mass", "Mass of the goods, if known", "", "", false},
      {"load.tiers", "--tiers", "Number of tiers, if known", "", "", false},
      {"load.kind", "--kind", "Load: rigid, cased or bagged", "cased", "cased", false},
      {"film.width", "--film-width", "Width of the film on the roll", "500 mm", "20 in", false},
      {"film.thickness", "--thickness", "Thickness of the film on the roll", "23 um", "80 ga", false},
      {"delivery.prestretch", "--prestretch", "Pre-stretch", "250 %", "250 %", false},
      {"delivery.tension.force", "--force", "Force in the film at the load", "70 N", "16 lbf", false},
      {"delivery.distance", "--distance", "Distance from outlet to axis of rotation, if known", "", "", false},
      {"rotation.speed", "--speed", "Speed of rotation", "12 rpm", "12 rpm", false},
      {"pattern.pitch", "--pitch", "Climb per turn, if known", "", "", false},
      {"pattern.overlap", "--overlap", "Overlap of turns", "40 %", "40 %", false},
      {"pattern.bottom_turns", "--bottom-turns", "Turns at the bottom", "2", "2", false},
      {"pattern.top_turns", "--top-turns", "Turns at the top", "2", "2", false},
      {"storage.duration", "--storage-time", "Time from wrapping to arrival", "7 d", "7 d", false},
  };
  return questions;
}

StarterFilm starter_film(const std::string& name_or_path) {
  const bool path = name_or_path.find('/') != std::string::npos || name_or_path.ends_with(".toml");
  if (!path) return {name_or_path + ".toml", library_film(name_or_path)};
  const InputText input = read_input_text(name_or_path);
  (void)read_film_text(input);
  std::string name = std::filesystem::path(name_or_path).filename().string();
  if (name == "scenario.toml") name = "film.toml";
  return {name, input.text};
}

void check_starter(const StarterAnswers& answers, const StarterFilm& film, UnitStyle units) {
  Scenario s;
  s.film_description = read_film_text({film.file_name, film.text});
  s.film.file = film.file_name;
  s.film.width = 10.0;
  s.film.thickness = 23e-6;
  s.delivery.distance = 100.0;  // as far out as may be until the load is known
  s.delivery.tension.force = 70.0;
  s.load.length = s.load.width = 1.0;
  s.load.height = 1.5;
  for (const StarterQuestion& q : starter_questions()) {
    const auto it = answers.find(std::string(q.key));
    if (it == answers.end()) continue;
    try {
      set_value(s, q.key, it->second);
    } catch (const InputError& error) {
      throw for_flag(error, q);
    }
  }
  if (answers.count("pattern.pitch") != 0 && answers.count("pattern.overlap") != 0) {
    throw InputError("--overlap: cannot be combined with --pitch; expected one of the two", {}, 0, 0,
                     "pattern.overlap");
  }
  if (answers.count("delivery.distance") == 0) set_number(s, "delivery.distance", assumed_distance(answers, units));
}

std::string starter_scenario(const StarterAnswers& answers, const StarterFilm& film, UnitStyle units) {
  std::string text = comment(std::string("Starter scenario. Values with origin = \"assumed\" were not measured, and "
                                         "the lines behind a # are defaults. Measure those that matter (`hoopfield "
                                         "predict` ranks them), replace the value and remove the origin. ") +
                             std::string(short_caution));
  std::string table;
  for (const Parameter& p : parameters(ParameterRoom::scenario)) {
    const std::string body = entry(p, answers, film, units);
    if (body.empty()) continue;
    if (table_of(p.key) != table) {
      table = table_of(p.key);
      text += "\n[" + table + "]\n";
    }
    text += body;
    if (p.key == "load.kind") text += stiffness_note(units);
  }
  return text;
}

}  // namespace hoopfield::cli
