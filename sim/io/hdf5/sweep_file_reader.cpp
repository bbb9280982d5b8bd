// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/detail/sweep_file_detail.hpp"
#include "sim/io/hdf5/sweep_file.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield {

using namespace sweep_file;

namespace {

constexpr double missing = std::numeric_limits<double>::quiet_NaN();

/// The block without what only other cases have: trailing entries of growing dimensions that are all NaN.
Field trimmed(const std::vector<double>& block, const std::vector<std::size_t>& shape,
              const std::vector<bool>& growing) {
  std::vector<std::size_t> used(shape.size(), 0);
  for (std::size_t i = 0; i < block.size(); ++i) {
    if (std::isnan(block[i])) continue;
    for (std::size_t d = shape.size(), rest = i; d-- > 0; rest /= shape[d])
      used[d] = std::max(used[d], rest % shape[d] + 1);
  }
  Field field;
  for (std::size_t d = 0; d < shape.size(); ++d)
    if (!growing[d]) used[d] = shape[d];
  field.resize(used, missing);
  each_row(used, shape, [&](std::size_t to, std::size_t from, std::size_t n) {
    std::copy_n(block.begin() + static_cast<std::ptrdiff_t>(from), n,
                field.data.begin() + static_cast<std::ptrdiff_t>(to));
  });
  return field;
}

}  // namespace

struct SweepFileReader::Impl {
  Impl(const std::filesystem::path& source, std::size_t cases, const SweepLayout& sweep_layout)
      : path(source.string()), layout(sweep_layout), file(path, H5F_ACC_RDONLY) {
    const H5::Attribute attribute = file.openGroup("/").openAttribute(hash_attribute);
    attribute.read(attribute.getDataType(), hash);
    if (hash != layout.hash) return;  // the caller refuses it
    status = file.openDataSet("status");
    message = file.openDataSet("message");
    for (const SummaryOutput* output : layout.selected.scalars) scalars.push_back(file.openDataSet(output->name));
    for (const ArrayColumn& column : layout.fields.arrays) arrays.push_back(file.openDataSet(column.name));
    for (const std::vector<H5::DataSet>* list : {&scalars, &arrays})
      for (const H5::DataSet& data : *list) check_cases(data, cases);
    check_cases(status, cases);
    check_cases(message, cases);
  }

  static void check_cases(const H5::DataSet& data, std::size_t cases) {
    if (shape_of(data).at(0) != cases) throw H5::DataSetIException("read", "a variable has another number of cases");
  }

  static std::vector<hsize_t> shape_of(const H5::DataSet& data) {
    const H5::DataSpace space = data.getSpace();
    std::vector<hsize_t> shape(static_cast<std::size_t>(std::max(space.getSimpleExtentNdims(), 1)));
    space.getSimpleExtentDims(shape.data());
    return shape;
  }

  std::string read_message(std::size_t index) {
    const hsize_t one = 1;
    char* text = nullptr;
    const H5::DataSpace memory(1, &one);
    message.read(&text, hdf5::utf8(), memory, select(message, {index}, {one}));
    std::string out = text != nullptr ? text : "";
    H5::DataSet::vlenReclaim(&text, hdf5::utf8(), memory);
    return out;
  }

  Field read_array(std::size_t a, std::size_t index) {
    std::vector<hsize_t> count = shape_of(arrays[a]), start(count.size(), 0);
    const std::vector<std::size_t> block(count.begin() + 1, count.end());
    start[0] = index;
    count[0] = 1;
    std::vector<double> values(product(block));
    const H5::DataSpace memory(static_cast<int>(count.size()), count.data());
    if (!values.empty())
      arrays[a].read(values.data(), H5::PredType::NATIVE_DOUBLE, memory, select(arrays[a], start, count));
    std::vector<bool> growing;
    for (const std::string& dim : layout.fields.arrays[a].dims) growing.push_back(layout.fields.axis(dim).growing);
    return trimmed(values, block, growing);
  }

  std::vector<CaseRecord> read(hsize_t first, hsize_t count) {
    const H5::DataSpace memory(1, &count);
    std::vector<std::int8_t> states(count);
    status.read(states.data(), H5::PredType::NATIVE_INT8, memory, select(status, {first}, {count}));
    std::vector<std::vector<double>> columns(scalars.size(), std::vector<double>(count));
    for (std::size_t s = 0; s < scalars.size(); ++s)
      scalars[s].read(columns[s].data(), H5::PredType::NATIVE_DOUBLE, memory, select(scalars[s], {first}, {count}));
    std::vector<CaseRecord> records;
    for (std::size_t i = 0; i < count; ++i) {
      CaseRecord record;
      record.index = first + i;
      record.status = static_cast<CaseStatus>(states[i]);
      if (record.status == CaseStatus::failed) record.message = read_message(record.index);
      if (record.status == CaseStatus::done) {
        for (const std::vector<double>& column : columns) record.scalars.push_back(column[i]);
        for (std::size_t a = 0; a < arrays.size(); ++a) record.arrays.push_back(read_array(a, record.index));
      }
      if (record.status == CaseStatus::done || record.status == CaseStatus::failed)
        records.push_back(std::move(record));
    }
    return records;
  }

  std::string path, hash;
  const SweepLayout& layout;
  H5::H5File file;
  std::vector<H5::DataSet> scalars, arrays;
  H5::DataSet status, message;
};

SweepFileReader::SweepFileReader(const std::filesystem::path& path, std::size_t cases, const SweepLayout& layout) {
  impl_ = guarded(path.string(), "cannot read", [&] { return std::make_unique<Impl>(path, cases, layout); });
}

SweepFileReader::~SweepFileReader() {
  const std::lock_guard lock(hdf5::library_mutex());
  impl_.reset();
}

const std::string& SweepFileReader::hash() const { return impl_->hash; }

std::vector<CaseRecord> SweepFileReader::read(std::size_t first, std::size_t count) {
  return guarded(impl_->path, "cannot read", [&] { return impl_->read(first, count); });
}

}  // namespace hoopfield
