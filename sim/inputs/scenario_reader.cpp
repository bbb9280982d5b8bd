// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/scenario_reader.hpp"

#include "models/error.hpp"
#include "sim/inputs/assign.hpp"
#include "sim/inputs/calibration_table.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/inputs_detail.hpp"
#include "sim/inputs/reader_support.hpp"
#include "sim/inputs/requirement.hpp"
#include "sim/inputs/spreads.hpp"

#include <algorithm>
#include <filesystem>
#include <type_traits>

namespace hoopfield {
namespace {

namespace fs = std::filesystem;

class ScenarioFileReader {
 public:
  ScenarioFileReader(const InputText& input, Scenario& scenario)
      : input_(input),
        root_(parse_toml_file(input, {"a scenario", "[film], [delivery], [load], ..."})),
        scenario_(scenario) {}

  void read() {
    check_known_keys(input_, root_, ParameterRoom::scenario);
    check_schema();
    if (root_.find("target") != nullptr) scenario_.target.emplace();
    visit_inputs(scenario_, [this](std::string_view key, auto&& field) { read_field(key, field); });
    check_alternatives();
  }

 private:
  template <typename FieldType>
  void read_field(std::string_view key, FieldType&& field) {
    if constexpr (std::is_same_v<std::decay_t<FieldType>, Spreads<SpreadMap>>) {
      if (const RawNode* table = root_.find(std::string(key))) {
        detail::read_spreads(input_, *table, field.value);
        const Position at = table->key_at.line > 0 ? table->key_at : table->value_at;
        scenario_.sources[std::string(key)] = {Origin::given, input_.name, at.line, at.column};
      }
    } else if constexpr (std::is_same_v<std::decay_t<FieldType>, Calibrated<CalibrationTable>>) {
      if (const RawNode* table = root_.find(std::string(key))) {
        field.value = read_calibration(input_, *table);
        const Position at = table->key_at.line > 0 ? table->key_at : table->value_at;
        scenario_.sources[std::string(key)] = {Origin::given, input_.name, at.line, at.column};
      }
    } else {
      read_value(key, field);
    }
  }

  template <typename FieldType>
  void read_value(std::string_view key, FieldType&& field) {
    const Parameter declaration = detail::declaration_for(scenario_, key);
    const Assigner assign(input_, declaration, std::string(key));
    const WrittenValue written = find_written(input_, root_, key);
    if (written.node == nullptr) {
      if (declaration.required) fail_missing(input_, root_, key, std::string(key), assign.expectation());
      return;
    }
    assign(*written.node, field);
    const Position at = written.node->value_at;
    scenario_.sources[std::string(key)] = {written.origin, input_.name, at.line, at.column};
  }

  // First of all: another schema may mean another set of keys.
  void check_schema() const {
    const WrittenValue written = find_written(input_, root_, "scenario.schema");
    if (written.node == nullptr || written.node->kind != RawNode::Kind::integer || written.node->integer == 1) return;
    fail_input(input_, written.node->value_at, "scenario.schema",
               {"schema " + written.node->text + " is not known to this version", "1", {}});
  }

  [[nodiscard]] bool has(const char* key) const { return scenario_.sources.count(key) != 0; }

  [[nodiscard]] Position place(const char* key) const {
    const Source& source = scenario_.sources.at(key);
    return {source.line, source.column};
  }

  void refuse_both(const char* first, const char* second) const {
    if (!has(first) || !has(second)) return;
    const bool first_is_later = place(first).line > place(second).line;
    const char* later = first_is_later ? first : second;
    const char* earlier = first_is_later ? second : first;
    fail_input(
        input_, place(later), later,
        {std::string("cannot be combined with ") + earlier + " (line " + std::to_string(place(earlier).line) + ")",
         "one of the two",
         {}});
  }

  void check_alternatives() const {
    refuse_both("delivery.tension.force", "delivery.tension.dial");
    if (!has("delivery.tension.force") && !has("delivery.tension.dial")) {
      fail_missing(input_, root_, "delivery.tension.force", "delivery.tension.force",
                   "a force (N, kN or lbf), or dial with dial_table");
    }
    if (has("delivery.tension.dial") && !has("delivery.tension.dial_table")) {
      fail_missing(input_, root_, "delivery.tension.dial_table", "delivery.tension.dial_table",
                   "pairs [dial, force] beside dial");
    }
    refuse_both("carriage.speed_up", "pattern.pitch");
    refuse_both("carriage.speed_up", "pattern.overlap");
    refuse_both("pattern.pitch", "pattern.overlap");
    if (has("carriage.speed_down") && !has("carriage.speed_up")) {
      fail_input(input_, place("carriage.speed_down"), "carriage.speed_down",
                 {"is given without carriage.speed_up", "both, or pattern.pitch or pattern.overlap alone", {}});
    }
    refuse_both("delivery.neck_in", "delivery.width_on_load");
    refuse_both("cost.roll_length", "cost.roll_mass");
    if (scenario_.delivery.tension.control == TensionControl::fixed_length &&
        !has("delivery.tension.length_per_turn")) {
      fail_missing(input_, root_, "delivery.tension.length_per_turn", "delivery.tension.length_per_turn",
                   "a fraction of the perimeter, as control is \"fixed_length\"");
    }
    if (scenario_.target) check_target();
  }

  void check_target() const {
    const std::initializer_list<const char*> stations = {"target.top", "target.middle", "target.bottom"};
    const bool has_station = std::any_of(stations.begin(), stations.end(), [this](const char* k) { return has(k); });
    if (scenario_.target->quantity != TargetQuantity::transit) {
      if (!has_station) fail_missing(input_, root_, "target.top", "target", "at least one of top, middle and bottom");
      return;
    }
    for (const char* key : stations)
      if (has(key))
        fail_input(input_, place(key), key,
                   {"is given with target.quantity = \"transit\", whose levels are those of transit.requirement",
                    "no station, or quantity \"hoop_tension\" or \"pull_force\"",
                    {}});
    if (!has("transit.requirement"))
      fail_missing(input_, root_, "transit.requirement", "transit.requirement",
                   "a set of levels, as target.quantity is \"transit\"");
    if (!has("load.mass") && !has("load.tier"))
      fail_missing(input_, root_, "load.mass", "load.mass", "a mass of the goods, as target.quantity is \"transit\"");
  }

  const InputText& input_;
  RawNode root_;
  Scenario& scenario_;
};

}  // namespace

namespace {

// Messages name the film as seen from where the scenario's own name starts.
void take_film(Scenario& scenario, InputText film) {
  const std::string& file = scenario.film.file;
  film.name =
      fs::path(file).is_absolute() ? file : (fs::path(scenario.path).parent_path() / file).lexically_normal().string();
  scenario.film_description = read_film_text(film);
  scenario.film_text = std::move(film.text);
}

Scenario read_keys(const std::string& text, const std::string& name) {
  Scenario scenario;
  const InputText input{name, text};
  scenario.path = name;
  scenario.text = text;
  ScenarioFileReader(input, scenario).read();
  return scenario;
}

}  // namespace

void read_film_of(Scenario& scenario, const std::string& base_dir) {
  const auto [input, at] = detail::place_of(scenario, "film.file");
  const std::string file = scenario.film.file;
  const fs::path on_disk = fs::path(base_dir) / file;
  const auto complain = [&, &where = input, &position = at](const std::string& what) {
    fail_input(where, position, "film.file", {what, "a readable film file, relative to the scenario's folder", {}});
  };
  if (file.find('\0') != std::string::npos) complain("holds a NUL character");
  std::error_code code;
  if (!scenario.path.empty() &&
      fs::equivalent(on_disk, fs::path(base_dir) / fs::path(scenario.path).filename(), code)) {
    complain("\"" + file + "\" is this scenario itself");
  }
  InputText film;
  try {
    film = read_input_text(on_disk.string());
  } catch (const IoError& error) {
    // Only the reason: the path on disk may hold folders the user never wrote.
    const std::string message = error.what();
    complain("\"" + file + "\"" + message.substr(std::min(on_disk.string().size(), message.size())));
  }
  take_film(scenario, std::move(film));
}

Scenario read_scenario_text(const std::string& text, const std::string& name, const std::string& base_dir) {
  Scenario scenario = read_keys(text, name);
  read_film_of(scenario, base_dir);
  read_requirement_of(scenario, base_dir);
  resolve_scenario(scenario);
  return scenario;
}

Scenario read_scenario_with_film(const std::string& text, const std::string& name, const std::string& film_text) {
  Scenario scenario = read_keys(text, name);
  take_film(scenario, {{}, film_text});
  read_requirement_of(scenario, fs::path(name).parent_path().string());
  resolve_scenario(scenario);
  return scenario;
}

Scenario read_scenario(const std::string& path) {
  const InputText input = read_input_text(path);
  return read_scenario_text(input.text, path, fs::path(path).parent_path().string());
}

}  // namespace hoopfield
