// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/csv_writer.hpp"

#include "models/output_names.hpp"
#include "sim/base/number_text.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/io/text/output_files.hpp"
#include "sim/outputs/outputs.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <iterator>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace hoopfield {

namespace {

/// Rows of one table; a cell that is not a number stays empty.
class Table {
 public:
  explicit Table(std::string_view header) : text_(std::string(header) + "\n") {}
  Table& operator<<(double value) { return cell(std::isnan(value) ? std::string() : shortest(value)); }
  Table& operator<<(const std::string& word) { return cell(csv_cell(word)); }
  void end_row() {
    text_ += '\n';
    first_ = true;
  }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  Table& cell(const std::string& value) {
    if (!first_) text_ += ',';
    first_ = false;
    text_ += value;
    return *this;
  }
  std::string text_;
  bool first_ = true;
};

/// Everything of a result by key, to be joined into tables.
class Outputs {
 public:
  explicit Outputs(const Result& result) {
    visit_outputs(result, [this](const OutputValue& output) { all_.push_back(output); });
    for (OutputValue& output : all_)
      for (const std::string& axis : axis_list(*output.declaration)) lengths_[axis] = length(output, axis);
  }

  /// One row for each place along `axes`; columns are the axes, then every output whose axes are among them and that
  /// has `of_axis`, in the order of the declarations. A row without a number in its first output is left out when
  /// `skip_missing`. Axes: names for moments, stations and faces, numbers for those that are outputs themselves, else
  /// counted from 1.
  [[nodiscard]] Table table(const std::vector<std::string>& axes, const std::vector<std::string>& keys,
                            bool skip_missing = false) const {
    std::vector<const OutputValue*> columns;
    std::string header;
    for (const std::string& axis : axes) header += (header.empty() ? "" : ",") + axis_header(axis);
    for (const std::string& key : keys) {
      const Parameter* declared = find_parameter(ParameterRoom::output, key);
      header += "," + named_with_unit(column_name(*declared), *declared);
      columns.push_back(find(key));
    }
    Table table(header);
    if (std::any_of(columns.begin(), columns.end(), [](const OutputValue* c) { return c == nullptr; })) return table;
    std::vector<std::size_t> at(axes.size(), 0);
    if (std::any_of(axes.begin(), axes.end(), [&](const std::string& a) { return axis_length(a) == 0; })) return table;
    do {
      if (skip_missing && std::isnan(number(*columns.front(), axes, at))) continue;
      for (std::size_t a = 0; a < axes.size(); ++a) put_axis(table, axes[a], at[a]);
      for (const OutputValue* column : columns) put_number(table, *column, axes, at);
      table.end_row();
    } while (advance(axes, at));
    return table;
  }

  /// Keys of the outputs that lie along exactly these axes.
  [[nodiscard]] static std::vector<std::string> keys_along(std::string_view axes) {
    std::vector<std::string> keys;
    for (const Parameter& p : parameters(ParameterRoom::output))
      if (p.axes == axes && p.key != axes && !p.key.ends_with("." + std::string(axes))) keys.emplace_back(p.key);
    return keys;
  }

 private:
  static std::size_t length(const OutputValue& output, const std::string& axis) {
    const std::vector<std::string> axes = axis_list(*output.declaration);
    const auto found = std::find(axes.begin(), axes.end(), axis);
    return output.shape.at(static_cast<std::size_t>(found - axes.begin()));
  }
  [[nodiscard]] std::size_t axis_length(const std::string& axis) const {
    const auto found = lengths_.find(axis);
    return found == lengths_.end() ? 0 : found->second;
  }
  [[nodiscard]] const OutputValue* find(std::string_view key) const {
    for (const OutputValue& output : all_)
      if (output.declaration->key == key) return &output;
    return nullptr;
  }
  /// The output that holds the numbers along an axis: "time", "film.gap_position".
  [[nodiscard]] static const Parameter* axis_output(const std::string& axis) {
    for (const Parameter& p : parameters(ParameterRoom::output))
      if (p.axes == axis && (p.key == axis || p.key.ends_with("." + axis))) return &p;
    return nullptr;
  }
  [[nodiscard]] static std::string axis_header(const std::string& axis) {
    const Parameter* p = axis_output(axis);
    return p != nullptr ? named_with_unit(axis, *p) : axis;
  }
  /// A column goes by its name in the result file.
  [[nodiscard]] static std::string column_name(const Parameter& p) {
    if (!p.file.empty()) return file_name(p);
    return std::string(p.key.substr(p.key.rfind('.') + 1));
  }
  [[nodiscard]] static std::size_t place(const OutputValue& output, const std::vector<std::string>& axes,
                                         const std::vector<std::size_t>& at) {
    std::size_t flat = 0;
    const std::vector<std::string> own = axis_list(*output.declaration);
    for (std::size_t d = 0; d < own.size(); ++d) {
      const auto found = std::find(axes.begin(), axes.end(), own[d]);
      flat = flat * output.shape[d] + at.at(static_cast<std::size_t>(found - axes.begin()));
    }
    return flat;
  }
  [[nodiscard]] static double number(const OutputValue& output, const std::vector<std::string>& axes,
                                     const std::vector<std::size_t>& at) {
    return output.numbers.at(place(output, axes, at));
  }
  static void put_number(Table& table, const OutputValue& output, const std::vector<std::string>& axes,
                         const std::vector<std::size_t>& at) {
    if (!output.words.empty()) {
      table << output.words.at(place(output, axes, at));
      return;
    }
    table << json_number(*output.declaration, number(output, axes, at));
  }
  void put_axis(Table& table, const std::string& axis, std::size_t index) const {
    const std::vector<std::string> names = axis_names(axis);
    const Parameter* numbers = axis_output(axis);
    if (!names.empty())
      table << names.at(index);
    else if (numbers != nullptr)
      table << json_number(*numbers, find(numbers->key)->numbers.at(index));
    else
      table << static_cast<double>(index + 1);
  }
  [[nodiscard]] bool advance(const std::vector<std::string>& axes, std::vector<std::size_t>& at) const {
    for (std::size_t a = axes.size(); a-- > 0; at[a] = 0)
      if (++at[a] < axis_length(axes[a])) return true;
    return false;
  }

  std::vector<OutputValue> all_;
  std::map<std::string, std::size_t> lengths_;
};

std::vector<std::string> joined(std::initializer_list<std::string_view> axes) {
  std::vector<std::string> keys;
  for (const std::string_view along : axes)
    for (std::string& key : Outputs::keys_along(along)) keys.push_back(std::move(key));
  return keys;
}

Table inputs_table(const Scenario& scenario) {
  Table table("key,value,unit,origin,file,line");
  for (const InputRow& row : input_rows(scenario)) {
    table << row.key << (std::isfinite(row.number) ? shortest(row.number) : row.text) << row.unit << row.origin
          << row.file;
    table << static_cast<double>(row.line);
    table.end_row();
  }
  return table;
}

constexpr const char* table_names[] = {"hoop_tension.csv", "buildup.csv", "layers.csv",    "stations.csv",
                                       "span.csv",         "faces.csv",   "film_path.csv", "inputs.csv"};

}  // namespace

std::vector<std::string> csv_table_names() { return {std::begin(table_names), std::end(table_names)}; }

std::vector<CsvTable> csv_tables(const Scenario& scenario, const Result& result) {
  const Outputs outputs(result);
  const Table tables[] = {
      outputs.table({"time", "face", "height"}, joined({"time,face,height", "time,height", "time"})),
      outputs.table({"turn", "face", "height"}, joined({"turn,face,height"})),
      outputs.table({"film_layer", "face", "height"}, joined({"film_layer,face,height", "face,height"}), true),
      outputs.table({"moment", "station", "face"}, joined({"moment,station", "moment,station,face"})),
      outputs.table({"angle"}, joined({"angle"})),
      outputs.table({"laid_face"}, joined({"laid_face"})),
      outputs.table({"gap_position"}, joined({"gap_position"})),
      inputs_table(scenario)};
  std::vector<CsvTable> named;
  for (std::size_t i = 0; i < std::size(tables); ++i) named.push_back({table_names[i], tables[i].text()});
  return named;
}

void write_csv(const std::filesystem::path& folder, const Scenario& scenario, const Result& result, bool overwrite) {
  OutputFiles files(overwrite);
  files.add_folder("csv", folder, csv_table_names());
  files.check();
  for (const CsvTable& table : csv_tables(scenario, result)) files.write(folder / table.name, table.text);
  files.commit();
}

}  // namespace hoopfield
