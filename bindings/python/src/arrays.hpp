// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Arrays in and out: checked on the way in, views without copying on the way out.
#pragma once

#include "sim/base/faces.hpp"

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>

#include <string>
#include <utility>
#include <vector>

namespace hoopfield::python {

/// A one-dimensional sequence of real, finite numbers, whatever its stride or byte order. Anything else is refused by
/// name: another rank, numbers that are not real, `size` not met (0 = any but none), NaN or infinity.
[[nodiscard]] std::vector<double> numbers_in(const pybind11::object& values, const char* name, std::size_t size = 0);

/// The same, where NaN and infinity stand for numbers that are missing.
[[nodiscard]] std::vector<double> numbers_or_gaps_in(const pybind11::object& values, const char* name);

/// Two columns of numbers of equal length as pairs.
[[nodiscard]] std::vector<std::pair<double, double>> pairs_in(const pybind11::object& first, const char* first_name,
                                                              const pybind11::object& second, const char* second_name);

/// Read-only view of memory that `owner` keeps alive.
template <typename T>
[[nodiscard]] pybind11::array_t<T> view(const T* data, const std::vector<std::size_t>& shape, pybind11::handle owner) {
  pybind11::array_t<T> array(std::vector<pybind11::ssize_t>(shape.begin(), shape.end()), data, owner);
  array.attr("setflags")(pybind11::arg("write") = false);
  return array;
}

[[nodiscard]] inline pybind11::array_t<double> view(const std::vector<double>& data, pybind11::handle owner) {
  return view(data.data(), {data.size()}, owner);
}

/// A field with axes it lacks as length 0, so that ranks never depend on the case.
[[nodiscard]] pybind11::array_t<double> view(const Field& field, std::size_t rank, pybind11::handle owner);

/// New arrays from vectors that go out of scope.
[[nodiscard]] pybind11::array_t<double> copy_out(const std::vector<double>& data);

}  // namespace hoopfield::python
