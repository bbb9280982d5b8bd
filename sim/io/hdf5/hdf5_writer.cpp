// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/hdf5_writer.hpp"

#include "models/caution.hpp"
#include "models/error.hpp"
#include "models/output_names.hpp"
#include "sim/base/build_info.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/io/hdf5/detail/hdf5_file.hpp"
#include "sim/io/hdf5/detail/hdf5_inputs.hpp"
#include "sim/io/hdf5/detail/transit_group.hpp"
#include "sim/io/text/json_writer.hpp"
#include "sim/io/text/part_file.hpp"
#include "sim/outputs/outputs.hpp"

#include <algorithm>
#include <map>
#include <numeric>

namespace hoopfield {

namespace {

using hdf5::Node;

std::vector<std::string> names(const auto& list) { return {list.begin(), list.end()}; }

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ",") + word;
  return text;
}

/// The groups of a result file and the dimensions that no output holds.
class Groups {
 public:
  Groups(const Node& root, const Result& result) : root_(root) {
    root_.dimension("face", names(face_names),
                    "face of the load seen from above, counter-clockwise; front spans the width");
    const auto& layers = result.layer_tension.shape;
    if (!layers.empty() && layers[0] > 0)
      root_.dimension("film_layer", counted(layers[0]), "film layer, 1 lies on the load");
    Node& stations = group("stations");
    stations.dimension("moment", axis_names("moment"),
                       "end of wrapping, weakest of each station in storage, or after storage");
    stations.dimension("station", axis_names("station"), "height at which containment is read");
    stations.dimension("face", names(face_names), "face of the load");  // again, so that the group can be opened alone
    if (!result.span.face.empty())
      group("span").dimension("laid_face", counted(result.span.face.size()), "faces in the order they are laid");
  }

  Node& group(const std::string& name) {
    if (name.empty()) return root_;
    const auto found = groups_.find(name);
    return found != groups_.end() ? found->second : groups_.emplace(name, root_.child(name)).first->second;
  }

  /// An output at the place its declaration names; along an axis of its own it is the dimension.
  void write(const OutputValue& output) {
    const Parameter& p = *output.declaration;
    if (p.file.empty()) return;
    const std::string name = file_name(p), unit = file_unit(p), label(p.label);
    Node& to = group(file_group(p));
    if (p.axes == name)
      to.dimension(name, output.numbers, unit, label);
    else
      to.variable(name, axis_list(p), output.numbers, unit, label);
  }

 private:
  static std::vector<std::int32_t> counted(std::size_t count) {
    std::vector<std::int32_t> numbers(count);
    std::iota(numbers.begin(), numbers.end(), 1);
    return numbers;
  }
  Node root_;
  std::map<std::string, Node> groups_;
};

std::string underscored(std::string name) {
  std::replace(name.begin(), name.end(), '.', '_');
  return name;
}

void write_cost(const Node& group, const Economics& chain) {
  group.text("currency", chain.currency, "label of the money");
  group.text("co2e_source", chain.co2e_factor.source, "where the CO2e factor comes from");
  group.text("energy_source", chain.energy_factor.source, "where the energy factor comes from");
  visit_outputs(chain, [&](const OutputValue& output) {
    const std::string name(output.declaration->key.substr(std::string_view("cost.").size()));
    group.scalar(underscored(name), output.numbers.front(), file_unit(*output.declaration),
                 std::string(output.declaration->label));
  });
}

void write_band(Node group, const BandResult& band) {
  group.attribute("samples", std::to_string(band.draws()));
  group.attribute("message", band.message);
  group.dimension("quantile", std::vector<double>{0.05, 0.5, 0.95}, "1", "quantile over the draws, rank p (n + 1)");
  std::vector<std::int32_t> draws(band.draws());
  std::iota(draws.begin(), draws.end(), 1);
  group.dimension("draw", draws, "draw over everything uncertain in the inputs");
  std::vector<std::string> keys;
  for (const DrawnInput& u : band.unknowns) keys.push_back(u.key);
  if (!keys.empty()) {
    group.dimension("key", keys, "input that was drawn; film.file stands for the numbers of the film");
    group.variable("draw_inputs", {"draw", "key"}, band.inputs, "", "inputs of the draws, SI; NaN for film.file");
  }
  group.dimension("number", band.names, "name of the number");
  group.variable("draw_numbers", {"draw", "number"}, band.numbers, "", "numbers of the draws, SI; NaN where it failed");
  group.variable("draw_status", {"draw"}, band.status, "1", "0 done, 1 film broke or ran away, 2 no solution");
  for (const std::string& name : band.names) {
    const auto ends = band.band(name);
    if (!ends) continue;
    const SummaryOutput& output = drawn_output(name);
    group.variable(underscored(name), {"quantile"}, {ends->low, ends->median, ends->high}, output.unit,
                   output.long_name);
  }
}

void write_texts(Groups& groups, const Scenario& scenario, const Result& result) {
  if (!result.span.face.empty()) {
    std::vector<std::string> faces;
    for (const std::size_t face : result.span.face) faces.emplace_back(face_names.at(face));
    groups.group("span").text("face_order", listed(faces), "names of the faces in the order they are laid");
  }
  Node& summary = groups.group("summary");
  summary.text("json", summary_json(scenario, result), "the summary as one JSON object");
  if (economics_asked(scenario.film, scenario.cost)) write_cost(summary.child("cost"), economics(scenario, result));
}

void write_root_attributes(const Node& root, const Scenario& scenario) {
  root.attribute("Conventions", "CF-1.11");
  root.attribute("title", scenario.title.empty() ? "Containment prediction" : scenario.title);
  root.attribute("source", "hoopfield " + build_version());
  root.attribute("comment", std::string(short_caution) + " Missing values are NaN.");
}

}  // namespace

std::string hdf5_bytes(const Scenario& scenario, const Result& result) {
  const std::lock_guard lock(hdf5::library_mutex());
  H5::Exception::dontPrint();
  try {
    hdf5::MemoryFile file;
    {
      Node root = file.root();
      write_root_attributes(root, scenario);
      Groups groups(root, result);
      visit_outputs(result, [&](const OutputValue& output) { groups.write(output); });
      write_texts(groups, scenario, result);
      Node transit = root.child("transit");
      write_transit_statics(transit, scenario, transit_statics(scenario, result));
      if (result.band) write_band(root.child("band"), *result.band);
      write_inputs(root.child("inputs"), input_table(scenario));
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
