// SPDX-License-Identifier: BSD-3-Clause
// Sweep files: TOML in, plan out, every complaint with its place.
#include "models/error.hpp"
#include "models/parameter.hpp"
#include "sim/base/raw_node.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/sweep/case_table.hpp"
#include "sim/sweep/input_checker.hpp"
#include "sim/sweep/outputs.hpp"
#include "sim/sweep/plan.hpp"

#include <array>
#include <filesystem>

namespace hoopfield {
namespace {

namespace fs = std::filesystem;

constexpr std::array<std::string_view, 4> sampling_words = {"grid", "latin-hypercube", "sobol", "table"};
constexpr std::array<std::string_view, 2> outside_words = {"refused", "failed"};
constexpr std::array<std::string_view, 8> sweep_keys = {"scenario", "sampling", "samples",       "seed",
                                                        "table",    "outputs",  "out_of_bounds", "vary"};

std::string read_table_text(const fs::path& path) {
  constexpr std::size_t most_bytes = std::size_t{1} << 30U;
  return read_input_text(path.string(), most_bytes).text;
}

class SweepReader {
 public:
  explicit SweepReader(InputText input)
      : input_(std::move(input)), root_(parse_toml_file(input_, {"a sweep file", "scenario, [vary], ..."})) {}

  SweepPlan read() {
    check_keys();
    folder_ = fs::path(input_.name).parent_path();
    const RawNode& file = text("scenario", "the path of a scenario file, relative to this file");
    std::error_code none;
    if (const std::string path = (folder_ / file.text).string(); fs::is_regular_file(path, none))
      read_scenario_file(path);
    else
      fail(file, {"\"" + file.text + "\" is not a file", "a scenario file, relative to this file", {}});
    const Sampling sampling = read_sampling();
    std::vector<std::string> outputs = read_outputs();
    fails_outside_ = read_outside();
    const std::vector<VariedInput> varied = sampling == Sampling::table ? read_table() : read_vary(sampling);
    std::size_t samples = 0;
    if (sampling == Sampling::latin_hypercube || sampling == Sampling::sobol)
      samples = static_cast<std::size_t>(whole("samples", 1, static_cast<std::int64_t>(max_sweep_cases)));
    const std::uint64_t seed =
        root_.find("seed") != nullptr ? static_cast<std::uint64_t>(whole("seed", 0, INT64_MAX)) : 1;
    return finish(sampling, varied, samples, seed, std::move(outputs));
  }

 private:
  [[noreturn]] void fail(const RawNode& node, const Complaint& complaint, const std::string& key = {}) const {
    fail_input(input_, node.value_at, key.empty() ? node.key : key, complaint);
  }

  void read_scenario_file(const std::string& path) {
    scenario_ = read_scenario(path);
    files_ = {input_.name, path, (fs::path(path).parent_path() / scenario_.film.file).string()};
  }

  void check_keys() const {
    for (const RawNode& child : root_.children) {
      if (std::find(sweep_keys.begin(), sweep_keys.end(), child.key) != sweep_keys.end()) continue;
      std::string hint = nearest_key(child.key, sweep_keys);
      std::string expected = "scenario, sampling, samples, seed, table, outputs, out_of_bounds or [vary]";
      if (child.kind == RawNode::Kind::table && (child.key == "film" || child.key == "load"))
        fail_input(input_, child.key_at, child.key, {"this is a scenario, not a sweep file", "a sweep file", {}});
      if (find_parameter(ParameterRoom::scenario, child.key) != nullptr) expected = "it below [vary]";
      fail_input(input_, child.key_at, child.key, {"unknown key", expected, hint});
    }
  }

  /// For a key that acts with other kinds of sampling only.
  void refuse(const char* key, const std::string& with) const {
    if (const RawNode* node = root_.find(key))
      fail_input(input_, node->key_at, key, {"does not act here", "it only with " + with, {}});
  }

  const RawNode& text(const char* key, const std::string& expected) const {
    const RawNode* node = root_.find(key);
    if (node == nullptr) fail_input(input_, {1, 1}, key, {"is missing", expected, {}});
    if (node->kind != RawNode::Kind::text) fail(*node, {"is " + kind_word(*node), expected, {}});
    return *node;
  }

  std::int64_t whole(const char* key, std::int64_t low, std::int64_t high) const {
    const RawNode* node = root_.find(key);
    const std::string expected = "a whole number of " + std::to_string(low) + " or more";
    const std::string range = "a whole number from " + std::to_string(low) + " to " + std::to_string(high);
    if (node == nullptr) fail_input(input_, {1, 1}, key, {"is missing", expected, {}});
    if (node->kind != RawNode::Kind::integer) fail(*node, {"is " + kind_word(*node), expected, {}});
    if (node->integer < low || node->integer > high)
      fail(*node, {node->text + " is out of range", high == INT64_MAX ? expected : range, {}});
    return node->integer;
  }

  Sampling read_sampling() const {
    Sampling sampling = Sampling::grid;
    if (root_.find("sampling") != nullptr) {
      const std::string expected = "one of \"grid\", \"latin-hypercube\", \"sobol\", \"table\"";
      const RawNode& node = text("sampling", expected);
      const auto found = std::find(sampling_words.begin(), sampling_words.end(), node.text);
      if (found == sampling_words.end()) {
        const std::string hint = nearest_key(node.text, sampling_words);
        fail(node, {"\"" + node.text + "\" is not a choice", expected, hint.empty() ? hint : "\"" + hint + "\""});
      }
      sampling = static_cast<Sampling>(found - sampling_words.begin());
    }
    const bool sample = sampling == Sampling::latin_hypercube || sampling == Sampling::sobol;
    if (!sample) refuse("samples", "sampling \"latin-hypercube\" or \"sobol\"");
    if (sampling != Sampling::latin_hypercube) refuse("seed", "sampling \"latin-hypercube\"");
    if (sampling != Sampling::table) refuse("table", "sampling \"table\"");
    if (sampling == Sampling::table) refuse("vary", "sampling \"grid\", \"latin-hypercube\" or \"sobol\"");
    return sampling;
  }

  std::vector<std::string> read_outputs() const {
    std::vector<std::string> names;
    const RawNode* node = root_.find("outputs");
    if (node == nullptr) return names;
    const std::string expected = "a list of output names in quotes, such as [\"summary\", \"hoop_tension\"]";
    if (node->kind != RawNode::Kind::array || node->children.empty())
      fail(*node, {node->kind == RawNode::Kind::array ? "is an empty list" : "is " + kind_word(*node), expected, {}});
    for (const RawNode& item : node->children) {
      if (item.kind != RawNode::Kind::text) fail(item, {"is " + kind_word(item), expected, {}}, "outputs");
      if (!is_output(item.text)) {
        const std::string hint = nearest_output(item.text);
        fail(item, {"unknown output \"" + item.text + "\"", expected_outputs, hint.empty() ? hint : "\"" + hint + "\""},
             "outputs");
      }
      names.push_back(item.text);
    }
    return names;
  }

  /// What becomes of a value beyond the bounds of its input.
  bool read_outside() const {
    const RawNode* node = root_.find("out_of_bounds");
    if (node == nullptr) return false;
    const std::string expected = "\"refused\" or \"failed\"";
    if (node->kind != RawNode::Kind::text) fail(*node, {"is " + kind_word(*node), expected, {}});
    const auto found = std::find(outside_words.begin(), outside_words.end(), node->text);
    if (found == outside_words.end()) {
      const std::string hint = nearest_key(node->text, outside_words);
      fail(*node, {"\"" + node->text + "\" is not a choice", expected, hint.empty() ? hint : "\"" + hint + "\""});
    }
    return *found == "failed";
  }

  std::vector<VariedInput> read_table() {
    const RawNode& node = text("table", "the path of a CSV table, relative to this file");
    const fs::path path = folder_ / node.text;
    if (std::error_code none; !fs::is_regular_file(path, none))
      fail(node, {"\"" + node.text + "\" is not a file", "a CSV table, relative to this file", {}});
    files_.push_back(path.string());
    try {
      return read_case_table(read_table_text(path), path.string(), scenario_, fails_outside_);
    } catch (const IoError&) {
      fail(node, {"\"" + node.text + "\" cannot be read", "a readable CSV table, relative to this file", {}});
    }
  }

  std::vector<VariedInput> read_vary(Sampling sampling) {
    const RawNode* vary = root_.find("vary");
    const std::string expected = "a table [vary] with scenario keys";
    if (vary == nullptr) fail_input(input_, {1, 1}, "vary", {"is missing", expected, {}});
    if (vary->kind != RawNode::Kind::table) fail(*vary, {"is " + kind_word(*vary), expected, {}});
    std::vector<VariedInput> varied;
    walk(*vary, {}, sampling, varied);
    if (varied.empty()) fail(*vary, {"is empty", expected, {}});
    return varied;
  }

  /// Keys may be quoted ("load.height" = ...) or nested tables (load.height = ...): the same to a reader.
  void walk(const RawNode& table, const std::string& path, Sampling sampling, std::vector<VariedInput>& varied) {
    for (const RawNode& child : table.children) {
      const std::string key = path.empty() ? child.key : path + "." + child.key;
      if (find_parameter(ParameterRoom::scenario, key) != nullptr) {
        for (const VariedInput& other : varied)
          if (other.key == key) fail_input(input_, child.key_at, key, {"is given twice", "every key once", {}});
        varied.push_back(read_varied(child, key, sampling));
        places_.push_back({key, child.key_at});
      } else if (child.kind == RawNode::Kind::table && is_table_name(key)) {
        walk(child, key, sampling, varied);
      } else {
        std::vector<std::string_view> keys;
        for (const Parameter& p : parameters(ParameterRoom::scenario)) keys.push_back(p.key);
        fail_input(input_, child.key_at, key, {"unknown key", "a scenario key", nearest_key(key, keys)});
      }
    }
  }

  static bool is_table_name(const std::string& name) {
    for (const Parameter& p : parameters(ParameterRoom::scenario))
      if (p.key.starts_with(name + ".")) return true;
    return false;
  }

  VariedInput read_varied(const RawNode& node, const std::string& key, Sampling sampling) const {
    InputChecker check(scenario_, key, fails_outside_);
    VariedInput varied;
    varied.key = key;
    varied.fails_outside = fails_outside_;
    const std::string form =
        sampling == Sampling::grid ? "{ from = ..., to = ..., steps = ... }" : "{ from = ..., to = ... }";
    if (node.kind == RawNode::Kind::array) {
      if (node.children.empty()) fail(node, {"is an empty list", "at least one value", {}}, key);
      for (const RawNode& item : node.children) {
        if (item.kind == RawNode::Kind::array || item.kind == RawNode::Kind::table)
          fail(item, {"is " + kind_word(item), check.expectation(), {}}, key);
        varied.values.push_back(check(item, input_));
      }
      return varied;
    }
    if (node.kind != RawNode::Kind::table)
      fail(node, {"is " + kind_word(node), "a list of values or " + form, {}}, key);
    read_range(node, key, sampling, form, check, varied);
    return varied;
  }

  void read_range(const RawNode& node, const std::string& key, Sampling sampling, const std::string& form,
                  InputChecker& check, VariedInput& varied) const {
    for (const RawNode& child : node.children) {
      const bool steps = child.key == "steps" && sampling == Sampling::grid;
      if (child.key != "from" && child.key != "to" && !steps)
        fail_input(input_, child.key_at, key + "." + child.key, {"unknown key", form, {}});
      if (!steps) {
        const InputValue value = check(child, input_);
        if (value.index() != 0)
          fail(child, {"is not a number", "a list of values where there are no numbers", {}}, key);
        (child.key == "from" ? varied.from : varied.to) = value;
      } else if (child.kind != RawNode::Kind::integer || child.integer < 2 ||
                 child.integer > static_cast<std::int64_t>(max_sweep_cases)) {
        fail(child, {"is not a number of steps", "a whole number of 2 or more", {}}, key + ".steps");
      } else {
        varied.steps = static_cast<std::size_t>(child.integer);
      }
    }
    const bool complete = varied.from && varied.to && (sampling != Sampling::grid || varied.steps > 0);
    if (!complete) fail(node, {"is not a complete range", form, {}}, key);
    if (*varied.from == *varied.to) fail(node, {"the range has no width", "from and to that differ", {}}, key);
  }

  /// What is left to find concerns the plan as a whole; it is shown at the key it is about.
  SweepPlan finish(Sampling sampling, const std::vector<VariedInput>& varied, std::size_t samples, std::uint64_t seed,
                   std::vector<std::string> outputs) const {
    try {
      SweepPlan plan = make_sweep_plan(scenario_, sampling, varied, samples, seed, std::move(outputs));
      plan.text = input_.text;
      plan.files = files_;
      return plan;
    } catch (const InputError& error) {
      if (!error.file.empty()) throw;
      Position at{1, 1};
      for (const auto& [key, place] : places_)
        if (key == error.key) at = place;
      const std::string message = error.what();
      const std::string prefix = error.key + ": ";
      fail_input(input_, at, error.key,
                 {message.starts_with(prefix) ? message.substr(prefix.size()) : message, {}, {}});
    }
  }

  InputText input_;
  RawNode root_;
  Scenario scenario_;
  fs::path folder_;
  bool fails_outside_ = false;
  std::vector<std::string> files_;
  std::vector<std::pair<std::string, Position>> places_;
};

}  // namespace

SweepPlan read_sweep(const std::string& path) { return SweepReader(read_input_text(path)).read(); }

}  // namespace hoopfield
