// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/csv_writer.hpp"

#include "models/error.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/base/number_text.hpp"
#include "sim/io/text/part_file.hpp"

#include <cmath>
#include <memory>
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

Table hoop_tension_table(const Result& r) {
  Table table("time_s,face,height_m,hoop_tension_N_per_m,closing_along_length_m,closing_along_width_m,temperature_K");
  for (std::size_t t = 0; t < r.time.size(); ++t)
    for (std::size_t f = 0; f < face_count; ++f)
      for (std::size_t h = 0; h < r.height.size(); ++h) {
        table << r.time[t] << face_names[f] << r.height[h] << r.hoop_tension.at(t, f, h)
              << r.closing_along_length.at(t, h) << r.closing_along_width.at(t, h) << r.temperature[t];
        table.end_row();
      }
  return table;
}

Table build_up_table(const Result& r) {
  Table table("turn,face,height_m,hoop_tension_N_per_m");
  if (r.hoop_tension_buildup.data.empty()) return table;
  for (std::size_t t = 0; t < r.turn.size(); ++t)
    for (std::size_t f = 0; f < face_count; ++f)
      for (std::size_t h = 0; h < r.height.size(); ++h) {
        table << r.turn[t] << face_names[f] << r.height[h] << r.hoop_tension_buildup.at(t, f, h);
        table.end_row();
      }
  return table;
}

/// A film layer that is not there has no row.
Table layers_table(const Result& r) {
  Table table("film_layer,face,height_m,layer_tension_N_per_m,film_layers");
  if (r.layer_tension.data.empty()) return table;
  for (std::size_t i = 0; i < r.layer_tension.shape[0]; ++i)
    for (std::size_t f = 0; f < face_count; ++f)
      for (std::size_t h = 0; h < r.height.size(); ++h) {
        if (std::isnan(r.layer_tension.at(i, f, h))) continue;
        table << static_cast<double>(i + 1) << face_names[f] << r.height[h] << r.layer_tension.at(i, f, h)
              << r.film_layers.at(f, h);
        table.end_row();
      }
  return table;
}

Table stations_table(const Result& r) {
  Table table(
      "moment,station,height_m,face,hoop_tension_N_per_m,film_layers,strand_force_N,pull_force_N,"
      "station_hoop_tension_N_per_m,station_band_tension_N,station_pull_force_N,station_strand_force_N,"
      "station_tent_factor,station_pull_force_film_stretch_share,station_film_layers,station_film_layers_min,"
      "station_film_layers_max");
  for (const auto& [moment, containment] : {std::pair{"end", &r.end}, std::pair{"after_storage", &r.after_storage}})
    for (std::size_t s = 0; s < station_names.size(); ++s)
      for (std::size_t f = 0; f < face_count; ++f) {
        const StationResult& station = containment->stations[s];
        const StationFace& face = station.faces[f];
        table << moment << station_names[s] << station.height << face_names[f] << face.hoop_tension << face.film_layers
              << face.strand_force << face.pull_force << station.hoop_tension << station.band_tension
              << station.pull_force << station.strand_force << station.tent_factor
              << station.pull_force_film_stretch_share << station.film_layers << station.film_layers_min
              << station.film_layers_max;
        table.end_row();
      }
  return table;
}

Table span_table(const SpanResult& span) {
  Table table("angle_rad,force_N,take_up_speed_m_per_s");
  for (std::size_t i = 0; i < span.angle.size(); ++i) {
    table << span.angle[i] << span.force.at(i) << span.take_up_speed.at(i);
    table.end_row();
  }
  return table;
}

Table faces_table(const SpanResult& span) {
  Table table("turn,face,force_N");
  for (std::size_t i = 0; i < span.face.size(); ++i) {
    table << span.face_turn.at(i) << face_names.at(span.face[i]) << span.face_force.at(i);
    table.end_row();
  }
  return table;
}

Table film_path_table(const FilmPathResult& path) {
  Table table("gap_position_m,stretch_percent,temperature_K");
  for (std::size_t i = 0; i < path.gap_position.size(); ++i) {
    table << path.gap_position[i] << 100.0 * (path.gap_stretch.at(i) - 1.0) << path.gap_temperature.at(i);
    table.end_row();
  }
  return table;
}

Table inputs_table(const Scenario& scenario) {
  Table table("key,value,unit,origin,file,line");
  for (const InputRow& row : input_rows(scenario)) {
    table << row.key << (std::isfinite(row.number) ? shortest(row.number) : row.text) << row.unit << row.origin << row.file;
    table << static_cast<double>(row.line);
    table.end_row();
  }
  return table;
}

constexpr const char* table_names[] = {"hoop_tension.csv", "build_up.csv",  "layers.csv", "stations.csv",
                                       "span.csv",         "faces.csv",     "film_path.csv", "inputs.csv"};

}  // namespace

void check_csv_targets(const std::filesystem::path& folder, bool overwrite) {
  if (std::filesystem::is_directory(folder)) {
    for (const char* name : table_names) check_target(folder / name, overwrite);
  } else {
    check_target(folder, false);
  }
}

void write_csv(const std::filesystem::path& folder, const Scenario& scenario, const Result& result, bool overwrite) {
  std::error_code error;
  const bool made = std::filesystem::create_directories(folder, error);
  if (error) throw IoError("cannot make the folder '" + folder.string() + "': " + error.message(), folder.string());
  const Table tables[] = {hoop_tension_table(result), build_up_table(result),   layers_table(result), stations_table(result),
                          span_table(result.span),    faces_table(result.span),
                          film_path_table(result.film_path), inputs_table(scenario)};
  try {
    std::vector<std::unique_ptr<PartFile>> files;
    for (const char* name : table_names) files.push_back(std::make_unique<PartFile>(folder / name, overwrite));
    for (std::size_t i = 0; i < files.size(); ++i) files[i]->write(tables[i].text());
    for (const auto& file : files) file->commit();
  } catch (...) {
    if (made) std::filesystem::remove(folder, error);  // removes an empty folder only
    throw;
  }
}

}  // namespace hoopfield
