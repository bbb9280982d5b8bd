// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/detail/hdf5_file.hpp"

#include "models/error.hpp"
#include "sim/io/hdf5/detail/steady_driver.hpp"

#include <hdf5_hl.h>

#include <limits>

namespace hoopfield::hdf5 {

namespace {

constexpr unsigned creation_order = H5P_CRT_ORDER_TRACKED | H5P_CRT_ORDER_INDEXED;

void check(herr_t status, const char* action) {
  if (status < 0) throw IoError(std::string("HDF5 could not ") + action);
}

/// No clock in the file, and names and attributes in the order they were written.
H5::DSetCreatPropList dataset_properties() {
  H5::DSetCreatPropList properties;
  check(H5Pset_obj_track_times(properties.getId(), false), "turn time stamps off");
  check(H5Pset_attr_creation_order(properties.getId(), creation_order), "track the order of attributes");
  return properties;
}

void write_attribute(const H5::H5Object& object, const std::string& name, const std::string& value) {
  // Fixed length: variable-length text of attributes lands in a shared heap that readers of netCDF describe poorly.
  H5::StrType type(H5::PredType::C_S1, value.empty() ? 1 : value.size());
  type.setCset(H5T_CSET_UTF8);
  object.createAttribute(name, type, H5::DataSpace()).write(type, value.empty() ? std::string(1, '\0') : value);
}

void describe(const H5::DataSet& data, const std::string& units, const std::string& long_name) {
  write_attribute(data, "long_name", long_name);
  if (!units.empty()) write_attribute(data, "units", units);
}

std::vector<const char*> pointers(const std::vector<std::string>& values) {
  std::vector<const char*> list;
  list.reserve(values.size());
  for (const std::string& value : values) list.push_back(value.c_str());
  return list;
}

/// Chunks of smooth numbers: shuffle and the lightest deflate give nearly all there is to gain.
H5::DSetCreatPropList chunk_properties(const std::vector<hsize_t>& chunk, bool deflate) {
  H5::DSetCreatPropList properties = dataset_properties();
  properties.setChunk(static_cast<int>(chunk.size()), chunk.data());
  if (!deflate) return properties;
  properties.setShuffle();
  properties.setDeflate(1);
  return properties;
}

H5::FileCreatPropList file_properties() {
  H5::FileCreatPropList creation;
  check(H5Pset_link_creation_order(creation.getId(), creation_order), "track the order of names");
  check(H5Pset_attr_creation_order(creation.getId(), creation_order), "track the order of attributes");
  check(H5Pset_obj_track_times(creation.getId(), false), "turn time stamps off");
  return creation;
}

/// Rows of single numbers are many (each number of the summary is one) and written front to back: two chunks of each
/// stay in memory, where the library would keep a megabyte of each. Fields keep the library's cache.
H5::DSetAccPropList small_cache(const std::vector<hsize_t>& chunk) {
  H5::DSetAccPropList access;
  constexpr std::size_t slots = 11;              // a prime, some times the chunks
  constexpr double written_chunks_first = 0.75;  // the library's default
  if (chunk.size() == 1) access.setChunkCache(slots, 2 * chunk[0] * sizeof(double), written_chunks_first);
  return access;
}

}  // namespace

std::mutex& library_mutex() {
  static std::mutex one_caller;
  return one_caller;
}

H5::StrType utf8() {
  H5::StrType type(H5::PredType::C_S1, H5T_VARIABLE);
  type.setCset(H5T_CSET_UTF8);
  return type;
}

void set_attribute(const H5::H5Object& object, const std::string& name, const std::string& value) {
  write_attribute(object, name, value);
}

H5::H5File create_disk_file(const std::string& path) {
  H5::FileAccPropList access;
  // Newer formats mark a file that was not closed and then refuse to open it.
  check(H5Pset_libver_bounds(access.getId(), H5F_LIBVER_EARLIEST, H5F_LIBVER_V18), "choose a file format");
  use_steady_driver(access);
  return {path, H5F_ACC_TRUNC, file_properties(), access};
}

Node Node::child(const std::string& name) const {
  const hid_t properties = H5Pcreate(H5P_GROUP_CREATE);
  check(H5Pset_link_creation_order(properties, creation_order), "track the order of names");
  check(H5Pset_attr_creation_order(properties, creation_order), "track the order of attributes");
  check(H5Pset_obj_track_times(properties, false), "turn time stamps off");
  const hid_t id = H5Gcreate2(group_.getId(), name.c_str(), H5P_DEFAULT, properties, H5P_DEFAULT);
  H5Pclose(properties);
  if (id < 0) throw IoError("HDF5 could not create the group " + name);
  H5::Group group(id);
  H5Gclose(id);  // the C++ object holds its own reference
  return {group, this};
}

void Node::attribute(const std::string& name, const std::string& value) const { write_attribute(group_, name, value); }

void Node::add_scale(const std::string& name, const H5::DataSet& data) {
  check(H5DSset_scale(data.getId(), name.c_str()), "make a dimension scale");
  scales_.emplace(name, data);
}

void Node::dimension(const std::string& name, const std::vector<double>& values, const std::string& units,
                     const std::string& long_name) {
  const hsize_t size = values.size();
  const H5::DataSet data =
      group_.createDataSet(name, H5::PredType::IEEE_F64LE, H5::DataSpace(1, &size), dataset_properties());
  if (size > 0) data.write(values.data(), H5::PredType::NATIVE_DOUBLE);
  add_scale(name, data);
  describe(data, units, long_name);
}

void Node::dimension(const std::string& name, const std::vector<std::int32_t>& values, const std::string& long_name) {
  const hsize_t size = values.size();
  const H5::DataSet data =
      group_.createDataSet(name, H5::PredType::STD_I32LE, H5::DataSpace(1, &size), dataset_properties());
  if (size > 0) data.write(values.data(), H5::PredType::NATIVE_INT32);
  add_scale(name, data);
  describe(data, "1", long_name);
}

void Node::dimension(const std::string& name, const std::vector<std::string>& values, const std::string& long_name) {
  const hsize_t size = values.size();
  const H5::DataSet data = group_.createDataSet(name, utf8(), H5::DataSpace(1, &size), dataset_properties());
  if (size > 0) data.write(pointers(values).data(), utf8());
  add_scale(name, data);
  describe(data, "", long_name);
}

const H5::DataSet& Node::scale(const std::string& name) const {
  for (const Node* node = this; node != nullptr; node = node->parent_)
    if (const auto found = node->scales_.find(name); found != node->scales_.end()) return found->second;
  throw IoError("result file: no dimension named " + name);
}

H5::DataSpace Node::space(const std::string& name, const std::vector<std::string>& dimensions, std::size_t size) const {
  std::vector<hsize_t> shape;
  std::size_t expected = 1;
  for (const std::string& dimension : dimensions) {
    const auto length = static_cast<hsize_t>(scale(dimension).getSpace().getSimpleExtentNpoints());
    shape.push_back(length);
    expected *= length;
  }
  if (expected != size)
    throw IoError("result file: " + name + " has " + std::to_string(size) + " values, its axes ask for " +
                  std::to_string(expected));
  if (shape.empty()) return {};
  return H5::DataSpace(static_cast<int>(shape.size()), shape.data());
}

void Node::attach(const H5::DataSet& data, const std::vector<std::string>& dimensions) const {
  for (unsigned axis = 0; axis < dimensions.size(); ++axis)
    check(H5DSattach_scale(data.getId(), scale(dimensions[axis]).getId(), axis), "attach a dimension scale");
}

void Node::variable(const std::string& name, const std::vector<std::string>& dimensions,
                    const std::vector<double>& values, const std::string& units, const std::string& long_name) const {
  const double missing = std::numeric_limits<double>::quiet_NaN();
  H5::DSetCreatPropList properties = dataset_properties();
  properties.setFillValue(H5::PredType::NATIVE_DOUBLE, &missing);
  const H5::DataSet data =
      group_.createDataSet(name, H5::PredType::IEEE_F64LE, space(name, dimensions, values.size()), properties);
  if (!values.empty()) data.write(values.data(), H5::PredType::NATIVE_DOUBLE);
  data.createAttribute("_FillValue", H5::PredType::IEEE_F64LE, H5::DataSpace())
      .write(H5::PredType::NATIVE_DOUBLE, &missing);
  describe(data, units, long_name);
  attach(data, dimensions);
}

void Node::variable(const std::string& name, const std::vector<std::string>& dimensions,
                    const std::vector<std::int32_t>& values, const std::string& long_name) const {
  const H5::DataSet data =
      group_.createDataSet(name, H5::PredType::STD_I32LE, space(name, dimensions, values.size()), dataset_properties());
  if (!values.empty()) data.write(values.data(), H5::PredType::NATIVE_INT32);
  describe(data, "1", long_name);
  attach(data, dimensions);
}

void Node::variable(const std::string& name, const std::vector<std::string>& dimensions,
                    const std::vector<std::string>& values, const std::string& long_name) const {
  const H5::DataSet data =
      group_.createDataSet(name, utf8(), space(name, dimensions, values.size()), dataset_properties());
  if (!values.empty()) data.write(pointers(values).data(), utf8());
  describe(data, "", long_name);
  attach(data, dimensions);
}

void Node::growing_dimension(const std::string& name, const std::string& long_name) {
  const hsize_t size = 0, largest = H5S_UNLIMITED;
  const H5::DataSet data = group_.createDataSet(name, H5::PredType::STD_I32LE, H5::DataSpace(1, &size, &largest),
                                                chunk_properties({64}, false));
  add_scale(name, data);
  describe(data, "1", long_name);
}

std::size_t Node::length(const std::string& name) const {
  return static_cast<std::size_t>(scale(name).getSpace().getSimpleExtentNpoints());
}

void Node::grow(const std::string& name, std::size_t wanted) const {
  if (wanted <= length(name)) return;
  std::vector<std::int32_t> values(wanted);
  for (std::size_t i = 0; i < wanted; ++i) values[i] = static_cast<std::int32_t>(i + 1);
  H5::DataSet data = scale(name);
  const hsize_t size = wanted;
  data.extend(&size);
  data.write(values.data(), H5::PredType::NATIVE_INT32);
}

H5::DataSet Node::chunked(const std::string& name, const std::vector<std::string>& dimensions,
                          const std::vector<hsize_t>& chunk, const std::string& units,
                          const std::string& long_name) const {
  std::vector<hsize_t> shape(dimensions.size()), largest(dimensions.size());
  for (std::size_t i = 0; i < dimensions.size(); ++i)
    scale(dimensions[i]).getSpace().getSimpleExtentDims(&shape[i], &largest[i]);
  const double missing = std::numeric_limits<double>::quiet_NaN();
  H5::DSetCreatPropList properties = chunk_properties(chunk, true);
  properties.setFillValue(H5::PredType::NATIVE_DOUBLE, &missing);
  H5::DataSet data = group_.createDataSet(name, H5::PredType::IEEE_F64LE,
                                          H5::DataSpace(static_cast<int>(shape.size()), shape.data(), largest.data()),
                                          properties, small_cache(chunk));
  data.createAttribute("_FillValue", H5::PredType::IEEE_F64LE, H5::DataSpace())
      .write(H5::PredType::NATIVE_DOUBLE, &missing);
  describe(data, units, long_name);
  attach(data, dimensions);
  return data;
}

H5::DataSet Node::chunked_texts(const std::string& name, const std::string& dimension, hsize_t chunk,
                                const std::string& long_name) const {
  const hsize_t size = length(dimension);
  H5::DataSet data = group_.createDataSet(name, utf8(), H5::DataSpace(1, &size), chunk_properties({chunk}, false));
  describe(data, "", long_name);
  attach(data, {dimension});
  return data;
}

H5::DataSet Node::chunked_flags(const std::string& name, const std::string& dimension, hsize_t chunk, std::int8_t fill,
                                const std::string& long_name) const {
  const hsize_t size = length(dimension);
  H5::DSetCreatPropList properties = chunk_properties({chunk}, true);
  properties.setFillValue(H5::PredType::NATIVE_INT8, &fill);
  H5::DataSet data = group_.createDataSet(name, H5::PredType::STD_I8LE, H5::DataSpace(1, &size), properties);
  describe(data, "", long_name);
  attach(data, {dimension});
  return data;
}

MemoryFile::MemoryFile() {
  const H5::FileCreatPropList creation = file_properties();
  H5::FileAccPropList access;
  access.setCore(1U << 20U, false);
  // The file name is never opened: the core driver without backing store keeps everything in memory.
  file_ = H5::H5File("hoopfield-result", H5F_ACC_TRUNC, creation, access);
}

Node MemoryFile::root() const { return {file_.openGroup("/"), nullptr}; }

std::string MemoryFile::bytes() {
  file_.flush(H5F_SCOPE_GLOBAL);
  const ssize_t size = H5Fget_file_image(file_.getId(), nullptr, 0);
  if (size < 0) throw IoError("HDF5 could not finish the result file");
  std::string image(static_cast<std::size_t>(size), '\0');
  if (H5Fget_file_image(file_.getId(), image.data(), image.size()) != size)
    throw IoError("HDF5 could not finish the result file");
  file_.close();
  return image;
}

}  // namespace hoopfield::hdf5
