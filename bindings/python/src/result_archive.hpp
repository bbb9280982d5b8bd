// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A result as nested Python dictionaries and back: pickling without computing again.
#pragma once

#include "models/error.hpp"
#include "sim/base/members.hpp"
#include "sim/outputs/result.hpp"

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <string>
#include <type_traits>
#include <vector>

namespace hoopfield::python {

template <typename T>
inline constexpr bool is_plain = std::is_arithmetic_v<T> || std::is_same_v<T, std::string>;

/// Members by name. Long rows of numbers go as arrays, which pickle as one block of bytes.
class Saver {
 public:
  template <typename T>
  void operator()(const char* name, const T& value) {
    members_[name] = save(value);
  }
  template <typename T>
  void operator()(const char* name, Stretch<T> value) {
    members_[name] = save(value.ratio);
  }
  template <typename T>
  void operator()(const char* name, FaceNames<T> value) {
    members_[name] = save(value.faces);
  }
  [[nodiscard]] pybind11::dict take() { return members_; }

 private:
  template <typename T>
  static pybind11::object save(const T& value) {
    if constexpr (is_plain<T>) {
      return pybind11::cast(value);
    } else if constexpr (std::is_same_v<T, std::vector<double>>) {
      return pybind11::array_t<double>(static_cast<pybind11::ssize_t>(value.size()), value.data());
    } else if constexpr (is_vector<T> || is_array<T>) {
      pybind11::list list;
      for (const auto& item : value) list.append(save(item));
      return list;
    } else if constexpr (is_optional<T>) {
      return value ? save(*value) : pybind11::none();
    } else {
      Saver inner;
      T::members(value, inner);
      return inner.take();
    }
  }
  pybind11::dict members_;
};

/// The way back. Throws InputError for a member that is missing, of another kind or of another length.
class Loader {
 public:
  explicit Loader(pybind11::dict members) : members_(std::move(members)) {}
  template <typename T>
  void operator()(const char* name, T& value) {
    load(name, value);
  }
  template <typename T>
  void operator()(const char* name, Stretch<T> value) {
    load(name, value.ratio);
  }
  template <typename T>
  void operator()(const char* name, FaceNames<T> value) {
    load(name, value.faces);
    if constexpr (std::is_same_v<T, std::size_t>) {
      if (value.faces >= face_names.size()) fail(name);
    } else {
      for (const std::size_t face : value.faces)
        if (face >= face_names.size()) fail(name);
    }
  }

 private:
  template <typename T>
  void load(const char* name, T& value) {
    if (!members_.contains(name)) fail(name);
    try {
      load(value, members_[name]);
    } catch (const pybind11::cast_error&) {
      fail(name);
    }
  }
  [[noreturn]] static void fail(const char* name) {
    throw InputError(std::string("this pickled result does not hold what this version expects under \"") + name + "\"");
  }
  template <typename T>
  static void load(T& value, const pybind11::object& from) {
    if constexpr (is_plain<T>) {
      value = from.cast<T>();
    } else if constexpr (std::is_same_v<T, std::vector<double>>) {
      const auto array = from.cast<pybind11::array_t<double, pybind11::array::c_style | pybind11::array::forcecast>>();
      value.assign(array.data(), array.data() + array.size());
    } else if constexpr (is_vector<T> || is_array<T>) {
      const auto list = from.cast<pybind11::list>();
      if constexpr (is_vector<T>) value.resize(list.size());
      if (value.size() != list.size()) throw pybind11::cast_error("another length");
      for (std::size_t i = 0; i < value.size(); ++i) load(value[i], pybind11::object(list[i]));
    } else if constexpr (is_optional<T>) {
      if (!from.is_none()) load(value.emplace(), from);
    } else {
      Loader inner(from.cast<pybind11::dict>());
      T::members(value, inner);
      if constexpr (std::is_same_v<T, Field>) check_field(value);
    }
  }
  static void check_field(const Field& field) {
    std::size_t size = field.shape.empty() ? 0 : 1;
    for (const std::size_t length : field.shape) {
      if (length != 0 && size > field.data.size() / length) throw pybind11::cast_error("another length");
      size *= length;
    }
    if (size != field.data.size()) throw pybind11::cast_error("another length");
  }
  pybind11::dict members_;
};

/// Number of the layout of pickled results; raised when a member gets another meaning under its old name.
inline constexpr int pickle_layout = 2;

}  // namespace hoopfield::python
