// SPDX-License-Identifier: BSD-3-Clause
#include "models/error.hpp"
#include "sim/inputs/assign.hpp"
#include "sim/inputs/reader_support.hpp"
#include "sim/io/text/readings_reader.hpp"

#include <algorithm>
#include <filesystem>

namespace hoopfield {

namespace {

namespace fs = std::filesystem;

class MeasuredFileReader {
 public:
  explicit MeasuredFileReader(const InputText& input)
      : input_(input), root_(parse_toml_file(input, {"a file of measured values", "kind, readings, ..."})) {}

  MeasuredSide read() {
    check_known_keys(input_, root_, ParameterRoom::measured_file);
    std::string kind;
    get("kind", kind);
    get("illustrative", side_.illustrative);
    side_.path = input_.name;
    get("scenario.title", side_.title);
    get("scenario.notes", side_.notes);
    get("film.width", side_.film.width);
    get("film.thickness", side_.film.thickness);
    get("film.density", side_.density);
    get("film.price", side_.film.price);
    get("stations.top", side_.stations[0]);
    get("stations.middle", side_.stations[1]);
    get("stations.bottom", side_.stations[2]);
    get("stations.band_height", side_.band_height);
    read_cost(side_.cost);
    read_files();
    return std::move(side_);
  }

 private:
  template <typename FieldType>
  bool get(const char* key, FieldType& field) {
    const Parameter& declaration = *find_parameter(ParameterRoom::measured_file, key);
    const Assigner assign(input_, declaration, key);
    const WrittenValue written = find_written(input_, root_, key);
    if (written.node == nullptr) {
      if (declaration.required) fail_missing(input_, root_, key, key, assign.expectation());
      return false;
    }
    assign(*written.node, field);
    return true;
  }

  void read_cost(CostInput& cost) {
    get("cost.loads_per_year", cost.loads_per_year);
    const bool length = get("cost.roll_length", cost.roll_length);
    const bool mass = get("cost.roll_mass", cost.roll_mass);
    if (length && mass)
      fail_input(input_, find_written(input_, root_, "cost.roll_mass").node->value_at, "cost.roll_mass",
                 {"cannot be combined with cost.roll_length", "one of the two", {}});
    get("cost.roll_change_time", cost.roll_change_time);
    get("cost.labour_rate", cost.labour_rate);
    get("cost.co2e_factor", cost.co2e_factor);
    get("cost.energy_factor", cost.energy_factor);
    get("cost.currency", cost.currency);
  }

  void read_files() {
    const bool end = read_file("readings.end", side_.end);
    const bool stored = read_file("readings.after_storage", side_.after_storage);
    if (!end && !stored) fail_missing(input_, root_, "readings.end", "readings", "a CSV file as end or after_storage");
  }

  bool read_file(const char* key, std::vector<Reading>& readings) {
    std::string file;
    if (!get(key, file)) return false;
    const fs::path path = (fs::path(input_.name).parent_path() / file).lexically_normal();
    const Position at = find_written(input_, root_, key).node->value_at;
    if (file.find('\0') != std::string::npos) fail_input(input_, at, key, {"holds a NUL character", {}, {}});
    InputText text;
    try {
      text = read_input_text(path.string());
    } catch (const IoError& error) {
      const std::string message = error.what();
      fail_input(input_, at, key,
                 {"\"" + file + "\"" + message.substr(std::min(path.string().size(), message.size())),
                  "a readable CSV file, relative to this file's folder",
                  {}});
    }
    side_.files.push_back(path.string());
    readings = read_readings_text(text);
    return true;
  }

  const InputText& input_;
  RawNode root_;
  MeasuredSide side_;
};

}  // namespace

MeasuredSide read_measured(const std::string& path) { return MeasuredFileReader(read_input_text(path)).read(); }

}  // namespace hoopfield
