// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/python/src/arrays.hpp"

#include "models/error.hpp"

#include <cmath>

namespace hoopfield::python {

namespace py = pybind11;

namespace {

[[noreturn]] void refuse(const char* name, const std::string& what) {
  throw InputError(std::string(name) + ": " + what, {}, 0, 0, name);
}

std::string shape_text(const py::array& array) { return py::str(array.attr("shape")).cast<std::string>(); }

}  // namespace

std::vector<double> numbers_or_gaps_in(const py::object& values, const char* name) {
  if (py::isinstance<py::str>(values) || py::isinstance<py::bytes>(values))
    refuse(name, "is a text; expected an array of numbers in SI units");
  py::array array;
  try {
    array = py::module_::import("numpy").attr("asarray")(values);
  } catch (py::error_already_set&) {
    refuse(name, "cannot be read as an array; expected one row of numbers");
  }
  const char kind = array.dtype().kind();
  if (kind != 'f' && kind != 'i' && kind != 'u')
    refuse(name, "has dtype " + py::str(array.dtype()).cast<std::string>() + "; expected real numbers");
  if (array.ndim() != 1) refuse(name, "has shape " + shape_text(array) + "; expected one dimension");
  const auto doubles = py::array_t<double, py::array::c_style | py::array::forcecast>::ensure(array);
  if (!doubles) refuse(name, "cannot be read as an array of double-precision numbers");
  const auto count = static_cast<std::size_t>(doubles.size());
  if (count == 0) refuse(name, "is empty");
  return {doubles.data(), doubles.data() + count};
}

std::vector<double> numbers_in(const py::object& values, const char* name, std::size_t size) {
  std::vector<double> out = numbers_or_gaps_in(values, name);
  if (size != 0 && out.size() != size)
    refuse(name, "has " + std::to_string(out.size()) + " values; expected " + std::to_string(size));
  for (std::size_t i = 0; i < out.size(); ++i)
    if (!std::isfinite(out[i])) refuse(name, "value " + std::to_string(i) + " is not a finite number");
  return out;
}

std::vector<std::pair<double, double>> pairs_in(const py::object& first, const char* first_name,
                                                const py::object& second, const char* second_name) {
  const std::vector<double> a = numbers_in(first, first_name);
  const std::vector<double> b = numbers_in(second, second_name, a.size());
  std::vector<std::pair<double, double>> pairs;
  for (std::size_t i = 0; i < a.size(); ++i) pairs.emplace_back(a[i], b[i]);
  return pairs;
}

py::array_t<double> view(const Field& field, std::size_t rank, py::handle owner) {
  std::vector<std::size_t> shape = field.shape;
  shape.resize(rank, 0);
  return view(field.data.data(), shape, owner);
}

py::array_t<double> copy_out(const std::vector<double>& data) {
  return py::array_t<double>(static_cast<py::ssize_t>(data.size()), data.data());
}

}  // namespace hoopfield::python
