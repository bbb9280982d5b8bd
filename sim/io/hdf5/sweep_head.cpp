// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/sweep_head.hpp"

#include "models/caution.hpp"
#include "sim/base/build_info.hpp"
#include "sim/io/hdf5/detail/hdf5_inputs.hpp"
#include "sim/io/hdf5/detail/hdf5_read.hpp"
#include "sim/io/hdf5/detail/sweep_file_detail.hpp"

#include <algorithm>
#include <array>
#include <sstream>

namespace hoopfield {

using hdf5::Node;

namespace {

constexpr std::array<const char*, 4> sampling_names = {"grid", "latin-hypercube", "sobol", "table"};
constexpr const char* first_case_attribute = "shard_first_case";
constexpr const char* whole_cases_attribute = "shard_whole_cases";

std::size_t count_attribute(const H5::Group& root, const char* name) {
  return std::stoul(hdf5::text_attribute(root, name));
}

std::optional<SweepShard> read_shard(const H5::Group& root) {
  if (!hdf5::has_attribute(root, sweep_file::shard_attribute)) return {};
  SweepShard shard;
  char slash = 0;
  std::istringstream(hdf5::text_attribute(root, sweep_file::shard_attribute)) >> shard.number >> slash >> shard.count;
  shard.whole_hash = hdf5::text_attribute(root, sweep_file::whole_hash_attribute);
  shard.whole_cases = count_attribute(root, whole_cases_attribute);
  return shard;
}

/// The varied inputs are what `status` names as its coordinates.
std::vector<SweepAxis> read_axes(const H5::Group& root) {
  std::istringstream keys(hdf5::text_attribute(root.openDataSet("status"), "coordinates"));
  std::vector<SweepAxis> axes;
  for (std::string key; keys >> key;) {
    const H5::DataSet data = root.openDataSet(key);
    SweepAxis axis{key, {}, {}, {}};
    if (hdf5::is_text(data)) {
      axis.texts = hdf5::texts(data);
    } else {
      axis.numbers = hdf5::numbers(data);
      axis.unit = hdf5::text_attribute(data, "units");
      if (axis.unit == "1") axis.unit.clear();
    }
    axes.push_back(std::move(axis));
  }
  return axes;
}

SweepLayout read_layout(const H5::Group& root, const SweepHead& head) {
  SweepLayout layout;
  layout.hash = head.hash;
  const auto varied = [&](const std::string& name) {
    return std::any_of(head.axes.begin(), head.axes.end(), [&](const SweepAxis& axis) { return axis.key == name; });
  };
  for (const SummaryOutput* output : scalar_outputs())
    if (!varied(output->name) && root.nameExists(output->name)) layout.selected.scalars.push_back(output);
  for (const FieldOutput& output : field_outputs())
    if (root.nameExists(output.name)) layout.selected.fields.push_back(&output);
  layout.fields = field_layout(head.axes, layout.selected,
                               [&](const std::string& name) { return hdf5::numbers(root.openDataSet(name)); });
  return layout;
}

SweepFileHead read_head(const H5::Group& root) {
  SweepFileHead file;
  SweepHead& head = file.head;
  head.title = hdf5::text_attribute(root, "title");
  head.source = hdf5::text_attribute(root, "source");
  head.sampling = hdf5::text_attribute(root, "sampling");
  head.hash = hdf5::text_attribute(root, sweep_file::hash_attribute);
  head.shard = read_shard(root);
  if (head.shard) head.first_case = count_attribute(root, first_case_attribute);
  head.axes = read_axes(root);
  head.inputs = read_inputs(root.openGroup("inputs"));
  head.text = hdf5::texts(root.openDataSet("sweep/sweep_text")).at(0);
  file.layout = read_layout(root, head);
  return file;
}

}  // namespace

SweepHead sweep_head(const SweepPlan& plan, const SweepLayout& layout) {
  SweepHead head;
  head.title = plan.scenario.title.empty() ? "Sweep of containment predictions" : plan.scenario.title;
  head.source = "hoopfield " + build_version();
  head.sampling = sampling_names.at(static_cast<std::size_t>(plan.sampling));
  head.hash = layout.hash;
  head.shard = plan.shard;
  head.first_case = plan.first_case;
  head.axes = plan.axes;
  head.inputs = input_table(plan.scenario);
  head.text = plan.text;
  return head;
}

namespace sweep_file {

void write_attributes(const Node& root, const SweepHead& head) {
  root.attribute("Conventions", "CF-1.11");
  root.attribute("title", head.title);
  root.attribute("source", head.source);
  root.attribute("comment", std::string(short_caution) + " Values of failed and pending cases are NaN.");
  root.attribute("sampling", head.sampling);
  root.attribute(hash_attribute, head.hash);
  if (!head.shard) return;
  root.attribute(shard_attribute, std::to_string(head.shard->number) + "/" + std::to_string(head.shard->count));
  root.attribute(whole_hash_attribute, head.shard->whole_hash);
  root.attribute(whole_cases_attribute, std::to_string(head.shard->whole_cases));
  root.attribute(first_case_attribute, std::to_string(head.first_case));
}

}  // namespace sweep_file

SweepFileHead read_sweep_head(const std::filesystem::path& path) {
  return sweep_file::guarded(path.string(), "cannot read", [&] {
    const H5::H5File file(path.string(), H5F_ACC_RDONLY);
    const H5::Group root = file.openGroup("/");
    if (!hdf5::has_attribute(root, sweep_file::hash_attribute))
      throw IoError("cannot read '" + path.string() + "': it is no sweep file", path.string());
    return read_head(root);
  });
}

}  // namespace hoopfield
