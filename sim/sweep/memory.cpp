// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/memory.hpp"

#include <algorithm>
#include <limits>
#include <utility>

namespace hoopfield {

SweepMemory::SweepMemory(const SweepPlan& plan, const SweepLayout& layout, bool keep) : layout_(layout), keep_(keep) {
  const std::size_t cases = plan.case_count();
  result_.status.assign(cases, CaseStatus::pending);
  if (keep) result_.message.resize(cases);
  if (keep) arrays_.assign(layout.fields.arrays.size(), std::vector<Field>(cases));
  for (const SummaryOutput* s : layout.selected.scalars) {
    result_.outputs.push_back({s->name, s->unit, s->long_name, {}, {}, {}});
    if (keep) result_.outputs.back().values.assign(cases, std::numeric_limits<double>::quiet_NaN());
  }
}

void SweepMemory::take(const CaseRecord& record) {
  const std::size_t i = record.index;
  if (finished(i)) return;
  result_.status[i] = record.status;
  if (keep_) result_.message[i] = record.message;
  ++result_.finished;
  if (record.status == CaseStatus::failed) ++result_.failed;
  if (!keep_ || record.status != CaseStatus::done) return;
  for (std::size_t s = 0; s < record.scalars.size(); ++s) result_.outputs[s].values[i] = record.scalars[s];
  for (std::size_t a = 0; a < record.arrays.size(); ++a) arrays_[a][i] = record.arrays[a];
}

void SweepMemory::drop(const CaseRecord& record) {
  const std::size_t i = record.index;
  if (!finished(i)) return;
  if (result_.status[i] == CaseStatus::failed) --result_.failed;
  --result_.finished;
  result_.status[i] = CaseStatus::pending;
  if (!keep_) return;
  result_.message[i].clear();
  for (std::size_t s = 0; s < record.scalars.size(); ++s)
    result_.outputs[s].values[i] = std::numeric_limits<double>::quiet_NaN();
  for (std::vector<Field>& array : arrays_) array[i] = {};
}

void SweepMemory::pad_array(std::size_t array, SweepOutput& output) {
  std::vector<Field>& cases = arrays_[array];
  std::vector<std::size_t>& shape = output.shape;
  for (const Field& field : cases)
    for (std::size_t d = 0; d < field.shape.size(); ++d) shape[d] = std::max(shape[d], field.shape[d]);
  std::size_t size = 1;
  for (const std::size_t length : shape) size *= length;
  output.values.assign(size * cases.size(), std::numeric_limits<double>::quiet_NaN());
  for (std::size_t c = 0; c < cases.size(); ++c) {
    const Field& field = cases[c];
    for (std::size_t i = 0; i < field.data.size(); ++i) {
      std::size_t at = 0, stride = 1, rest = i;
      for (std::size_t d = shape.size(); d-- > 0; rest /= field.shape[d]) {
        at += rest % field.shape[d] * stride;
        stride *= shape[d];
      }
      output.values[c * size + at] = field.data[i];
    }
    cases[c] = {};
  }
}

SweepResult SweepMemory::finish() {
  const FieldLayout& fields = layout_.fields;
  for (std::size_t a = 0; a < fields.arrays.size(); ++a) {
    const ArrayColumn& column = fields.arrays[a];
    SweepOutput output{column.name, column.unit, column.long_name, column.dims, {}, {}};
    for (const std::string& dim : column.dims) output.shape.push_back(fields.axis(dim).values.size());
    if (keep_) pad_array(a, output);
    if (a < layout_.selected.fields.size())
      result_.outputs.push_back(std::move(output));
    else
      result_.coordinates.push_back({column.name, column.unit, true, output.shape[0], std::move(output.values)});
  }
  for (const FieldAxis& axis : fields.axes)
    if (axis.name == "time" || axis.name == "height")
      result_.coordinates.push_back({axis.name, axis.unit, false, axis.values.size(), axis.values});
  return std::move(result_);
}

}  // namespace hoopfield
