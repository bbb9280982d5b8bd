// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/hdf5_writer.hpp"

#include "models/error.hpp"
#include "sim/base/build_info.hpp"
#include "sim/outputs/economics.hpp"
#include "sim/io/hdf5/detail/hdf5_file.hpp"
#include "sim/io/hdf5/detail/hdf5_inputs.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/io/text/json_writer.hpp"
#include "sim/io/text/part_file.hpp"

namespace hoopfield {

namespace {

using hdf5::Node;
using Axes = std::vector<std::string>;

std::vector<std::string> names(const auto& list) { return {list.begin(), list.end()}; }

std::vector<double> strains(std::vector<double> stretches) {
  for (double& stretch : stretches) stretch -= 1.0;
  return stretches;
}

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ",") + word;
  return text;
}

void write_axes(Node& root, const Result& result) {
  root.dimension("time", result.time, "s", "time since the end of wrapping");
  root.dimension("turn", result.turn, "1", "finished turns");
  root.dimension("face", names(face_names),
                 "face of the load seen from above, counter-clockwise; front spans the width");
  root.dimension("height", result.height, "m", "height above the pallet deck, centre of the slice");
  if (result.layer_tension.shape.empty() || result.layer_tension.shape[0] == 0) return;
  std::vector<std::int32_t> layers;
  for (std::size_t i = 0; i < result.layer_tension.shape[0]; ++i) layers.push_back(static_cast<std::int32_t>(i + 1));
  root.dimension("film_layer", layers, "film layer, 1 lies on the load");
}

void write_fields(const Node& root, const Result& result) {
  root.variable("hoop_tension", {"time", "face", "height"}, result.hoop_tension.data, "N/m",
                "hoop tension: film force per height of load, all layers");
  root.variable("film_layers", {"face", "height"}, result.film_layers.data, "1", "film layers");
  if (!result.hoop_tension_buildup.data.empty())
    root.variable("hoop_tension_buildup", {"turn", "face", "height"}, result.hoop_tension_buildup.data, "N/m",
                  "hoop tension when each turn is finished");
  if (!result.layer_tension.data.empty())
    root.variable("layer_tension", {"film_layer", "face", "height"}, result.layer_tension.data, "N/m",
                  "tension of each film layer at the end of wrapping");
  root.variable("closing_along_length", {"time", "height"}, result.closing_along_length.data, "m",
                "closing of the load along its length");
  root.variable("closing_along_width", {"time", "height"}, result.closing_along_width.data, "m",
                "closing of the load along its width");
  root.variable("temperature", {"time"}, result.temperature, "K", "temperature of film and surroundings");
}

/// A currency is no unit that readers of files know: its label stands apart.
std::string money_unit(const std::string& unit) {
  const std::string money = "money";
  return unit.starts_with(money) ? "1" + unit.substr(money.size()) : unit;
}

void write_cost(const Node& group, const Economics& chain) {
  group.text("currency", chain.currency, "label of the money");
  group.text("co2e_source", chain.co2e_factor.source, "where the CO2e factor comes from");
  group.text("energy_source", chain.energy_factor.source, "where the energy factor comes from");
  for (const EconomicsOutput& o : economics_outputs(chain)) {
    std::string name = o.name;
    if (const auto dot = name.find('.'); dot != std::string::npos) name[dot] = '_';
    group.scalar(name, o.value, money_unit(o.unit), o.long_name);
  }
}

void write_summary(const Node& group, const Scenario& scenario, const Result& result) {
  const PatternResult& p = result.pattern;
  group.scalar("turns", p.turns, "1", "turns of film");
  group.scalar("pitch", p.pitch, "m", "climb per turn");
  group.scalar("overlap", p.overlap, "1", "1 - pitch / laid width");
  group.scalar("gap", p.gap, "m", "greatest bare height between turns");
  group.scalar("uncovered_top", p.uncovered_top, "m", "load height without film at the top");
  group.scalar("uncovered_bottom", p.uncovered_bottom, "m", "load height without film at the bottom");
  group.scalar("carriage_speed_up", p.speed_up, "m/s", "speed of the carriage, up");
  group.scalar("carriage_speed_down", p.speed_down, "m/s", "speed of the carriage, down");
  group.scalar("cycle_time", p.cycle_time, "s", "time of rotation");
  group.scalar("film_length_on_roll", result.film.length_on_roll, "m", "film used, length on the roll");
  group.scalar("film_mass", result.film.mass, "kg", "film used");
  group.scalar("greatest_closing_along_length", result.load.closing_along_length, "m", "at the end of wrapping");
  group.scalar("greatest_closing_along_width", result.load.closing_along_width, "m", "at the end of wrapping");
  group.scalar("corner_force", result.load.corner_force, "N/m", "greatest line force on an edge, end of wrapping");
  group.scalar("corner_pressure", result.load.corner_pressure, "Pa", "corner force over the arc of the corner radius");
  group.scalar("force_balance_error", result.force_balance_error, "1",
               "greatest relative residual of closing force against film force");
  group.text("json", summary_json(scenario, result), "the summary as one JSON object");
  if (economics_asked(scenario.film, scenario.cost)) write_cost(group.child("cost"), economics(scenario, result));
}

void write_span(Node group, const SpanResult& span) {
  group.dimension("angle", span.angle, "rad", "rotation over one settled turn");
  group.variable("force", {"angle"}, span.force, "N", "film force in the span");
  group.variable("take_up_speed", {"angle"}, span.take_up_speed, "m/s", "speed at which the load takes film up");
  if (!span.face.empty()) {
    std::vector<std::int32_t> events;
    std::vector<std::string> faces;
    for (std::size_t i = 0; i < span.face.size(); ++i) {
      events.push_back(static_cast<std::int32_t>(i + 1));
      faces.emplace_back(face_names.at(span.face[i]));
    }
    group.dimension("laid_face", events, "faces in the order they are laid");
    group.variable("face_turn", {"laid_face"}, span.face_turn, "1", "turns since the start when the face is laid");
    group.variable("face_force", {"laid_face"}, span.face_force, "N", "force the face keeps, over the whole film width");
    group.text("face_order", listed(faces), "names of the faces in the order they are laid");
  }
  group.scalar("force_set", span.force_set, "N", "force asked of the delivery");
  group.scalar("force_mean", span.force_mean, "N", "mean over the turn");
  group.scalar("force_min", span.force_min, "N", "least over the turn");
  group.scalar("force_max", span.force_max, "N", "greatest over the turn");
  group.scalar("laid_fraction", span.laid_fraction, "1", "mean force kept at the end of wrapping over the set force");
}

/// Values of one member for both times and the three stations, in the order of the axes.
std::vector<double> collect(const Result& result, double StationResult::*member) {
  std::vector<double> values;
  for (const ContainmentResult* moment : {&result.end, &result.after_storage})
    for (const StationResult& station : moment->stations) values.push_back(station.*member);
  return values;
}

std::vector<double> collect(const Result& result, double StationFace::*member) {
  std::vector<double> values;
  for (const ContainmentResult* moment : {&result.end, &result.after_storage})
    for (const StationResult& station : moment->stations)
      for (const StationFace& face : station.faces) values.push_back(face.*member);
  return values;
}

void write_stations(Node group, const Result& result) {
  group.dimension("moment", std::vector<std::string>{"end", "after_storage"}, "end of wrapping, or after storage");
  group.dimension("station", names(station_names), "height at which containment is read");
  group.dimension("face", names(face_names), "face of the load");  // again, so that the group can be opened alone
  const Axes axes = {"moment", "station"};
  using S = StationResult;
  group.variable("station_height", axes, collect(result, &S::height), "m", "height above the pallet deck");
  group.variable("hoop_tension", axes, collect(result, &S::hoop_tension), "N/m", "mean of the faces");
  group.variable("band_tension", axes, collect(result, &S::band_tension), "N", "hoop tension times band height");
  group.variable("pull_force", axes, collect(result, &S::pull_force), "N", "pull test, least over the faces");
  group.variable("strand_force", axes, collect(result, &S::strand_force), "N", "same face, without tent factor");
  group.variable("tent_factor", axes, collect(result, &S::tent_factor), "1", "pull force over strand force");
  group.variable("pull_force_film_stretch_share", axes, collect(result, &S::pull_force_film_stretch_share), "1",
                 "share of the pull force due to stretching the film further");
  group.variable("film_layers", axes, collect(result, &S::film_layers), "1", "mean of the faces");
  group.variable("film_layers_min", axes, collect(result, &S::film_layers_min), "1", "least over the start of climb");
  group.variable("film_layers_max", axes, collect(result, &S::film_layers_max), "1",
                 "greatest over the start of climb");
  const Axes by_face = {"moment", "station", "face"};
  using F = StationFace;
  group.variable("face_hoop_tension", by_face, collect(result, &F::hoop_tension), "N/m", "mean over the band");
  group.variable("face_film_layers", by_face, collect(result, &F::film_layers), "1", "mean over the band");
  group.variable("face_strand_force", by_face, collect(result, &F::strand_force), "N", "without tent factor");
  group.variable("face_pull_force", by_face, collect(result, &F::pull_force), "N", "with tent factor");
}

void write_film_path(Node group, const FilmPathResult& path) {
  group.dimension("gap_position", path.gap_position, "m", "position in the gap between the rollers");
  group.variable("gap_stretch", {"gap_position"}, strains(path.gap_stretch), "1", "strain of the film in the gap");
  group.variable("gap_temperature", {"gap_position"}, path.gap_temperature, "K", "temperature of the film");
  group.scalar("prestretch_force", path.prestretch_force, "N", "film force in the gap");
  group.scalar("prestretch_power", path.prestretch_power, "W", "mechanical power put into the film in the gap");
  group.scalar("draw_temperature_rise", path.draw_temperature_rise, "K", "at the end of the gap, adiabatic");
  group.scalar("film_temperature", path.film_temperature, "K", "at the end of the gap");
  group.scalar("roller_speed_1", path.roller_speed_1, "m/s", "film speed on the first roller");
  group.scalar("roller_speed_2", path.roller_speed_2, "m/s", "film speed on the second roller");
  group.scalar("dwell_time", path.dwell_time, "s", "time on the second roller");
  group.scalar("residence_time", path.residence_time, "s", "time from the second roller to the load");
  group.scalar("stretch_in_gap", path.stretch_in_gap - 1.0, "1", "strain at the end of the gap");
  group.scalar("stretch_on_load", path.stretch_on_load - 1.0, "1", "strain of the film as it lies on the load");
  group.scalar("laid_width", path.laid_width, "m", "width on the load");
  group.scalar("laid_thickness", path.laid_thickness, "m", "thickness on the load");
  group.scalar("stiffness_over_force", path.stiffness_over_force, "1", "d ln force / d ln stretch of the laid film");
  group.scalar("gap_sharpness", path.gap_sharpness, "1", "least length of the draw over the roll thickness");
}

void write_root_attributes(const Node& root, const Scenario& scenario) {
  root.attribute("Conventions", "CF-1.11");
  root.attribute("title", scenario.title.empty() ? "Containment prediction" : scenario.title);
  root.attribute("source", "hoopfield " + build_version());
  root.attribute("comment", "A prediction is not a certificate. Missing values are NaN.");
}

}  // namespace

void write_inputs(Node group, const Scenario& scenario) {
  group.attribute("version", build_version());
  group.attribute("compiler", build_compiler());
  group.attribute("simd", build_simd());
  group.attribute("inputs_hash", inputs_hash(scenario));
  group.attribute("inputs_hash_method", "FNV-1a, 64 bit");
  const std::vector<InputRow> rows = input_rows(scenario);
  std::vector<std::string> keys, texts, units, origins, files;
  std::vector<double> numbers;
  std::vector<std::int32_t> lines;
  for (const InputRow& row : rows) {
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
  group.text("scenario_text", scenario.text, "the scenario file as read");
  group.text("film_text", scenario.film_text, "the film file as read");
}

std::string hdf5_bytes(const Scenario& scenario, const Result& result) {
  const std::lock_guard lock(hdf5::library_mutex());
  H5::Exception::dontPrint();
  try {
    hdf5::MemoryFile file;
    {
      Node root = file.root();
      write_root_attributes(root, scenario);
      write_axes(root, result);
      write_fields(root, result);
      write_summary(root.child("summary"), scenario, result);
      write_span(root.child("span"), result.span);
      write_stations(root.child("stations"), result);
      write_film_path(root.child("film_path"), result.film_path);
      write_inputs(root.child("inputs"), scenario);
    }
    return file.bytes();
  } catch (const H5::Exception& error) {
    throw IoError("HDF5 could not build the result file: " + error.getDetailMsg());
  }
}

void write_hdf5(const std::filesystem::path& path, const Scenario& scenario, const Result& result, bool overwrite) {
  write_file(path, hdf5_bytes(scenario, result), overwrite);
}

}  // namespace hoopfield
