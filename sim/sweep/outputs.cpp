// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/outputs.hpp"

#include "models/parameter.hpp"
#include "sim/base/input_text.hpp"
#include "sim/transit/transit_numbers.hpp"
#include "sim/wrap/plan.hpp"

#include <algorithm>
#include <stdexcept>

namespace hoopfield {
namespace {

bool covers(const std::string& wanted, const SummaryOutput& output) {
  if (wanted == "summary") return !output.per_face && !is_of_transit(output);
  if (wanted == output.name) return true;
  return output.name.starts_with(wanted + ".") && (!output.per_face || wanted.find(".faces") != std::string::npos);
}

std::vector<std::string> wanted_names(const std::vector<std::string>& names) {
  return names.empty() ? std::vector<std::string>{"summary"} : names;
}

}  // namespace

bool is_of_transit(const SummaryOutput& output) { return output.name.starts_with("transit."); }

const std::vector<const SummaryOutput*>& scalar_outputs() {
  static const std::vector<const SummaryOutput*> outputs = [] {
    std::vector<const SummaryOutput*> list;
    for (const SummaryOutput& s : summary_outputs()) list.push_back(&s);
    for (const SummaryOutput& s : transit_outputs()) list.push_back(&s);
    return list;
  }();
  return outputs;
}

bool SelectedOutputs::has_transit() const {
  return std::any_of(scalars.begin(), scalars.end(), [](const SummaryOutput* s) { return is_of_transit(*s); });
}

bool is_output(const std::string& name) {
  const auto& fields = field_outputs();
  if (std::any_of(fields.begin(), fields.end(), [&](const FieldOutput& f) { return f.name == name; })) return true;
  const auto& scalars = scalar_outputs();
  return std::any_of(scalars.begin(), scalars.end(), [&](const SummaryOutput* s) { return covers(name, *s); });
}

std::string nearest_output(const std::string& name) {
  std::vector<std::string_view> names = {"summary"};
  for (const FieldOutput& f : field_outputs()) names.push_back(f.name);
  for (const SummaryOutput* s : scalar_outputs()) names.push_back(s->name);
  return nearest_key(name, names);
}

SelectedOutputs select_outputs(const std::vector<std::string>& names) {
  const std::vector<std::string> wanted = wanted_names(names);
  for (const std::string& name : wanted)
    if (!is_output(name))
      fail_input({}, {}, "outputs",
                 {"unknown output \"" + name + "\"",
                  "\"summary\", a summary output, or a field such as \"hoop_tension\"", nearest_output(name)});
  SelectedOutputs selected;
  for (const SummaryOutput* s : scalar_outputs())
    if (std::any_of(wanted.begin(), wanted.end(), [&](const std::string& name) { return covers(name, *s); }))
      selected.scalars.push_back(s);
  for (const FieldOutput& f : field_outputs())
    if (std::find(wanted.begin(), wanted.end(), f.name) != wanted.end()) selected.fields.push_back(&f);
  return selected;
}

const FieldAxis& FieldLayout::axis(const std::string& name) const {
  for (const FieldAxis& a : axes)
    if (a.name == name) return a;
  throw std::logic_error("sweep: no axis " + name);
}

namespace {

FieldAxis make_axis(const std::string& name, const AxisValues& values_of) {
  if (name == "time") return {name, "s", "time since the end of wrapping", false, values_of(name)};
  if (name == "height") return {name, "m", "height above the pallet deck, centre of the slice", false, values_of(name)};
  if (name == "face")
    return {name, "", "face of the load seen from above, counter-clockwise; front spans the width", false,
            std::vector<double>(face_count, 0.0)};
  if (name == "turn") return {name, "1", "finished turns", true, {}};
  if (name == "film_layer") return {name, "1", "film layer, 1 lies on the load", true, {}};
  if (name == "slice") return {name, "1", "slice of the load, 1 lies on the deck", true, {}};
  return {name, "1", "output time, counted", true, {}};
}

}  // namespace

FieldLayout field_layout(const SweepPlan& plan, const SelectedOutputs& selected) {
  return field_layout(plan.axes, selected, [&](const std::string& name) {
    return name == "time" ? result_times(plan.scenario) : slice_heights(plan.scenario);
  });
}

FieldLayout field_layout(const std::vector<SweepAxis>& varied, const SelectedOutputs& selected,
                         const AxisValues& values_of) {
  FieldLayout layout;
  if (selected.fields.empty()) return layout;
  for (const SweepAxis& axis : varied) {
    layout.time_per_case = layout.time_per_case || axis.key.starts_with("storage.");
    layout.height_per_case = layout.height_per_case || axis.key == "load.height" || axis.key == "numerics.slices";
  }
  for (const FieldOutput* field : selected.fields) {
    ArrayColumn column{field->name, field->unit, field->long_name, field->dims};
    for (std::string& dim : column.dims) {
      if (dim == "time" && layout.time_per_case) dim = "time_index";
      if (dim == "height" && layout.height_per_case) dim = "slice";
    }
    layout.arrays.push_back(std::move(column));
  }
  if (layout.time_per_case) layout.arrays.push_back({"time", "s", "time since the end of wrapping", {"time_index"}});
  if (layout.height_per_case)
    layout.arrays.push_back({"height", "m", "height above the pallet deck, centre of the slice", {"slice"}});
  for (const ArrayColumn& column : layout.arrays)
    for (const std::string& dim : column.dims)
      if (std::none_of(layout.axes.begin(), layout.axes.end(), [&](const FieldAxis& a) { return a.name == dim; }))
        layout.axes.push_back(make_axis(dim, values_of));
  return layout;
}

CaseRecord take_outputs(const SelectedOutputs& selected, const FieldLayout& layout, std::size_t case_index,
                        const Scenario& scenario, const Result& result) {
  CaseRecord record;
  record.index = case_index;
  record.scalars.reserve(selected.scalars.size());
  const std::vector<double> numbers = summary_numbers(result);
  const std::vector<double> in_transit = selected.has_transit() ? transit_numbers(scenario, result) : numbers;
  for (const SummaryOutput* output : selected.scalars)
    record.scalars.push_back((is_of_transit(*output) ? in_transit : numbers).at(output->place));
  for (const FieldOutput* output : selected.fields) record.arrays.push_back(field_of(result, output->name));
  if (layout.time_per_case) record.arrays.push_back({{result.time.size()}, result.time});
  if (layout.height_per_case) record.arrays.push_back({{result.height.size()}, result.height});
  return record;
}

}  // namespace hoopfield
