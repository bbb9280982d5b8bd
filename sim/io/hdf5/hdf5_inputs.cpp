// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/detail/hdf5_inputs.hpp"

#include "sim/base/build_info.hpp"
#include "sim/io/hdf5/detail/hdf5_read.hpp"

namespace hoopfield {

InputTable input_table(const Scenario& scenario) {
  return {build_version(),      build_compiler(), build_simd(),      inputs_hash(scenario),
          input_rows(scenario), scenario.text,    scenario.film_text};
}

void write_inputs(hdf5::Node group, const InputTable& inputs) {
  group.attribute("version", inputs.version);
  group.attribute("compiler", inputs.compiler);
  group.attribute("simd", inputs.simd);
  group.attribute("inputs_hash", inputs.hash);
  group.attribute("inputs_hash_method", "FNV-1a, 64 bit");
  std::vector<std::string> keys, texts, units, origins, files;
  std::vector<double> numbers;
  std::vector<std::int32_t> lines;
  for (const InputRow& row : inputs.rows) {
    keys.push_back(row.key);
    texts.push_back(row.text);
    units.push_back(row.unit);
    origins.push_back(row.origin);
    files.push_back(row.file);
    numbers.push_back(row.number);
    lines.push_back(row.line);
  }
  group.dimension("key", keys, "key of the input");
  group.variable("value", {"key"}, numbers, "", "value in the unit named by value_unit; NaN when it is no number");
  group.variable("value_text", {"key"}, texts, "value as text");
  group.variable("value_unit", {"key"}, units, "unit of value");
  group.variable("origin", {"key"}, origins, "given, measured, fitted or assumed");
  group.variable("source_file", {"key"}, files, "file that states the value; empty when none does");
  group.variable("source_line", {"key"}, lines, "line in that file, from 1; 0 when none states the value");
  group.text("scenario_text", inputs.scenario_text, "the scenario file as read");
  group.text("film_text", inputs.film_text, "the film file as read");
}

InputTable read_inputs(const H5::Group& group) {
  using hdf5::text_attribute;
  const auto texts = [&](const char* name) { return hdf5::texts(group.openDataSet(name)); };
  InputTable inputs{text_attribute(group, "version"),
                    text_attribute(group, "compiler"),
                    text_attribute(group, "simd"),
                    text_attribute(group, "inputs_hash"),
                    {},
                    texts("scenario_text").at(0),
                    texts("film_text").at(0)};
  const std::vector<std::string> keys = texts("key"), values = texts("value_text"), units = texts("value_unit"),
                                 origins = texts("origin"), files = texts("source_file");
  const std::vector<double> numbers = hdf5::numbers(group.openDataSet("value"));
  const std::vector<std::int32_t> lines = hdf5::whole_numbers(group.openDataSet("source_line"));
  for (std::size_t i = 0; i < keys.size(); ++i)
    inputs.rows.push_back({keys[i], values[i], units[i], origins[i], files[i], numbers[i], lines[i]});
  return inputs;
}

}  // namespace hoopfield
