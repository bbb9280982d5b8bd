// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/detail/hdf5_read.hpp"

namespace hoopfield::hdf5 {
namespace {

template <typename Value>
std::vector<Value> values_of(const H5::DataSet& data, const H5::DataType& type) {
  std::vector<Value> values(static_cast<std::size_t>(data.getSpace().getSimpleExtentNpoints()));
  if (!values.empty()) data.read(values.data(), type);
  return values;
}

}  // namespace

bool has_attribute(const H5::H5Object& object, const std::string& name) { return object.attrExists(name); }

std::string text_attribute(const H5::H5Object& object, const std::string& name) {
  const H5::Attribute attribute = object.openAttribute(name);
  std::string text;
  attribute.read(attribute.getDataType(), text);
  // A text of no length is stored as one zero byte.
  return text == std::string(1, '\0') ? std::string() : text;
}

bool is_text(const H5::DataSet& data) { return data.getTypeClass() == H5T_STRING; }

std::vector<double> numbers(const H5::DataSet& data) { return values_of<double>(data, H5::PredType::NATIVE_DOUBLE); }

std::vector<std::int32_t> whole_numbers(const H5::DataSet& data) {
  return values_of<std::int32_t>(data, H5::PredType::NATIVE_INT32);
}

std::vector<std::string> texts(const H5::DataSet& data) {
  std::vector<char*> pointers = values_of<char*>(data, utf8());
  std::vector<std::string> out;
  out.reserve(pointers.size());
  for (const char* text : pointers) out.emplace_back(text != nullptr ? text : "");
  if (!pointers.empty()) H5::DataSet::vlenReclaim(pointers.data(), utf8(), data.getSpace());
  return out;
}

}  // namespace hoopfield::hdf5
