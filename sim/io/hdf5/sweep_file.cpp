// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/sweep_file.hpp"

#include "models/error.hpp"
#include "sim/io/hdf5/detail/hdf5_inputs.hpp"
#include "sim/io/hdf5/detail/steady_driver.hpp"
#include "sim/io/hdf5/detail/sweep_file_detail.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <limits>

#include <fcntl.h>
#include <unistd.h>

namespace hoopfield {
namespace {

using hdf5::Node;
using namespace sweep_file;

constexpr double missing = std::numeric_limits<double>::quiet_NaN();
constexpr hsize_t largest_chunk = (1U << 20U) / sizeof(double);  // values in the library's cache of one chunk
constexpr std::size_t values_at_once = 1U << 20U;                // of a field, in memory on their way to the file

hsize_t case_chunk(std::size_t cases) { return std::clamp<hsize_t>(cases, 1, 1024); }

/// 64 cases, and of the other dimensions, from the last, as much as fits the cache.
std::vector<hsize_t> field_chunk(std::size_t cases, const ArrayColumn& column, const FieldLayout& layout) {
  constexpr hsize_t growing_guess = 16;
  std::vector<hsize_t> chunk(column.dims.size() + 1);
  chunk[0] = std::clamp<hsize_t>(cases, 1, 64);
  hsize_t room = largest_chunk / chunk[0];
  for (std::size_t d = column.dims.size(); d-- > 0;) {
    const FieldAxis& axis = layout.axis(column.dims[d]);
    const hsize_t length = axis.growing ? growing_guess : std::max<hsize_t>(axis.values.size(), 1);
    chunk[d + 1] = std::clamp<hsize_t>(room, 1, length);
    room /= chunk[d + 1];
  }
  return chunk;
}

std::vector<std::string> with_case(const std::vector<std::string>& dims) {
  std::vector<std::string> all = {"case"};
  all.insert(all.end(), dims.begin(), dims.end());
  return all;
}

void write_axes(Node& root, const SweepHead& head, const FieldLayout& layout) {
  std::vector<std::int32_t> cases(head.case_count());
  for (std::size_t i = 0; i < cases.size(); ++i) cases[i] = static_cast<std::int32_t>(head.first_case + i);
  root.dimension("case", cases, "case of the sweep, from 0");
  for (const FieldAxis& axis : layout.axes) {
    if (axis.growing)
      root.growing_dimension(axis.name, axis.long_name);
    else if (axis.name == "face")
      root.dimension(axis.name, std::vector<std::string>(face_names.begin(), face_names.end()), axis.long_name);
    else
      root.dimension(axis.name, axis.values, axis.unit, axis.long_name);
  }
  for (const SweepAxis& axis : head.axes) {
    if (axis.texts.empty())
      root.variable(axis.key, {"case"}, axis.numbers, axis.unit.empty() ? "1" : axis.unit, "varied input");
    else
      root.variable(axis.key, {"case"}, axis.texts, "varied input, as written");
  }
}

std::string coordinate_names(const SweepHead& head) {
  std::string names;
  for (const SweepAxis& axis : head.axes) names += (names.empty() ? "" : " ") + axis.key;
  return names;
}

template <typename Values>
void write_run(H5::DataSet& data, hsize_t first, hsize_t count, const Values* values, const H5::DataType& type) {
  const H5::DataSpace memory(1, &count);
  data.write(values, type, memory, select(data, {first}, {count}));
}

/// Calls `run(records)` for every stretch of consecutive cases.
template <typename Run>
void each_run(std::span<const CaseRecord> records, Run&& run) {
  for (std::size_t first = 0; first < records.size();) {
    std::size_t last = first + 1;
    while (last < records.size() && records[last].index == records[last - 1].index + 1) ++last;
    run(records.subspan(first, last - first));
    first = last;
  }
}

}  // namespace

struct SweepFileWriter::Impl {
  Impl(const std::filesystem::path& target, const SweepHead& head, const SweepLayout& sweep_layout)
      : path(target.string()),
        layout(sweep_layout),
        file(hdf5::create_disk_file(path)),
        root(file.openGroup("/"), nullptr) {
    write_attributes(root, head);
    const std::size_t cases = head.case_count();
    const std::string coordinates = coordinate_names(head);
    write_axes(root, head, layout.fields);
    for (const SummaryOutput* output : layout.selected.scalars)
      scalars.push_back(root.chunked(output->name, {"case"}, {case_chunk(cases)}, output->unit, output->long_name));
    for (const ArrayColumn& column : layout.fields.arrays)
      arrays.push_back(root.chunked(column.name, with_case(column.dims), field_chunk(cases, column, layout.fields),
                                    column.unit, column.long_name));
    status = root.chunked_flags("status", "case", case_chunk(cases), static_cast<std::int8_t>(CaseStatus::pending),
                                "how the case ended");
    write_flags();
    message = root.chunked_texts("message", "case", case_chunk(cases), "why the case failed; empty otherwise");
    for (const std::vector<H5::DataSet>* list : {&scalars, &arrays})
      for (const H5::DataSet& data : *list) hdf5::set_attribute(data, "coordinates", coordinates);
    for (const H5::DataSet& data : {status, message}) hdf5::set_attribute(data, "coordinates", coordinates);
    write_inputs(root.child("inputs"), head.inputs);
    root.child("sweep").text("sweep_text", head.text, "the sweep file as read; empty when made in memory");
    flush();
  }

  /// To the system, and what the disk had to say about it.
  void flush() {
    file.flush(H5F_SCOPE_GLOBAL);
    if (const int error = hdf5::disk_error(file); error != 0)
      throw IoError("cannot write '" + path + "': " + std::strerror(error), path);
  }

  void write_flags() const {
    const std::array<std::int8_t, 3> values = {0, 1, 2};
    const hsize_t size = values.size();
    status.createAttribute("flag_values", H5::PredType::STD_I8LE, H5::DataSpace(1, &size))
        .write(H5::PredType::NATIVE_INT8, values.data());
    hdf5::set_attribute(status, "flag_meanings", "done failed pending");
  }

  void grow(std::span<const CaseRecord> records) {
    const FieldLayout& fields = layout.fields;
    for (const CaseRecord& record : records)
      for (std::size_t a = 0; a < record.arrays.size(); ++a)
        for (std::size_t d = 0; d < fields.arrays[a].dims.size(); ++d)
          if (const FieldAxis& axis = fields.axis(fields.arrays[a].dims[d]); axis.growing)
            root.grow(axis.name, record.arrays[a].shape[d]);
    for (std::size_t a = 0; a < arrays.size(); ++a) {
      const std::vector<hsize_t> size = shape(a);
      arrays[a].extend(size.data());
    }
  }

  std::vector<hsize_t> shape(std::size_t array) const {
    std::vector<hsize_t> size;
    for (const std::string& dim : with_case(layout.fields.arrays[array].dims)) size.push_back(root.length(dim));
    return size;
  }

  void write_scalars(std::span<const CaseRecord> run) {
    std::vector<double> values(run.size());
    for (std::size_t s = 0; s < scalars.size(); ++s) {
      for (std::size_t i = 0; i < run.size(); ++i)
        values[i] = run[i].status == CaseStatus::done ? run[i].scalars[s] : missing;
      write_run(scalars[s], run[0].index, run.size(), values.data(), H5::PredType::NATIVE_DOUBLE);
    }
  }

  void write_arrays(std::span<const CaseRecord> run) {
    for (std::size_t a = 0; a < arrays.size(); ++a) {
      std::vector<hsize_t> count = shape(a), start(count.size(), 0);
      const std::vector<std::size_t> block(count.begin() + 1, count.end());
      const std::size_t size = product(block);
      if (size == 0) continue;
      // Many cases at once: a chunk holds up to 64, and is packed anew for every write that touches it.
      const std::size_t at_once = std::clamp<std::size_t>(values_at_once / size, 1, 64);
      std::vector<double> values;
      for (std::size_t first = 0; first < run.size(); first += at_once) {
        const std::span<const CaseRecord> some = run.subspan(first, std::min(at_once, run.size() - first));
        values.assign(some.size() * size, missing);
        for (std::size_t i = 0; i < some.size(); ++i) {
          if (some[i].status != CaseStatus::done) continue;
          const Field& field = some[i].arrays[a];
          each_row(field.shape, block, [&](std::size_t from, std::size_t to, std::size_t n) {
            std::copy_n(field.data.begin() + static_cast<std::ptrdiff_t>(from), n,
                        values.begin() + static_cast<std::ptrdiff_t>(i * size + to));
          });
        }
        start[0] = some[0].index;
        count[0] = some.size();
        const H5::DataSpace memory(static_cast<int>(count.size()), count.data());
        arrays[a].write(values.data(), H5::PredType::NATIVE_DOUBLE, memory, select(arrays[a], start, count));
      }
    }
  }

  void write_status(std::span<const CaseRecord> run) {
    std::vector<std::int8_t> values(run.size());
    for (std::size_t i = 0; i < run.size(); ++i) {
      values[i] = static_cast<std::int8_t>(run[i].status);
      if (run[i].message.empty()) continue;
      const char* text = run[i].message.c_str();
      write_run(message, run[i].index, 1, &text, hdf5::utf8());
    }
    write_run(status, run[0].index, run.size(), values.data(), H5::PredType::NATIVE_INT8);
  }

  std::string path;
  const SweepLayout& layout;
  H5::H5File file;
  Node root;
  std::vector<H5::DataSet> scalars, arrays;
  H5::DataSet status, message;
};

SweepFileWriter::SweepFileWriter(const std::filesystem::path& path, const SweepHead& head, const SweepLayout& layout) {
  impl_ = guarded(path.string(), "cannot write", [&] { return std::make_unique<Impl>(path, head, layout); });
}

SweepFileWriter::~SweepFileWriter() {
  if (!impl_) return;
  const std::lock_guard lock(hdf5::library_mutex());
  H5::Exception::dontPrint();
  impl_.reset();
}

void SweepFileWriter::write(std::span<const CaseRecord> records) {
  if (records.empty()) return;
  guarded(impl_->path, "cannot write", [&] {
    impl_->grow(records);
    each_run(records, [&](std::span<const CaseRecord> run) {
      impl_->write_scalars(run);
      impl_->write_arrays(run);
    });
    impl_->flush();
    each_run(records, [&](std::span<const CaseRecord> run) { impl_->write_status(run); });
    impl_->flush();
  });
}

void SweepFileWriter::renamed(const std::filesystem::path& path) { impl_->path = path.string(); }

void SweepFileWriter::close() {
  const std::string path = impl_->path;
  guarded(path, "cannot write", [&] {
    impl_->flush();
    impl_.reset();
  });
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  const bool synced = file >= 0 && ::fsync(file) == 0;
  if (file >= 0) ::close(file);
  if (!synced) throw IoError("cannot write '" + path + "': it could not be forced to the disk", path);
}

}  // namespace hoopfield
