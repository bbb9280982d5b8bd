// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Python classes of the structs of a result: one read-only property per member, documented by its declaration.
#pragma once

#include "bindings/python/src/arrays.hpp"
#include "models/output_names.hpp"
#include "sim/base/members.hpp"

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <algorithm>
#include <string>
#include <type_traits>
#include <vector>

namespace hoopfield::python {

/// "Sum over film layers ... (N/m)"; empty for members that are not declared.
[[nodiscard]] std::string member_doc(const std::string& key);

/// Number of axes of a declared field.
[[nodiscard]] std::size_t member_rank(const std::string& key);

/// Defines a property for every member of `Owner`. A stretch is shown as strain, places of faces as their names, rows
/// and fields as read-only arrays without a copy, other structs as themselves. Arrays of structs (stations and faces)
/// are left to the caller.
template <typename Owner>
class Exposer {
 public:
  /// \param prefix of the keys under which the members are declared: "pattern."
  Exposer(pybind11::class_<Owner>& to, std::string prefix) : class_(to), prefix_(std::move(prefix)) {}

  template <typename T>
  void operator()(const char* name, const T&) {
    const std::size_t place = next_++;
    if constexpr (std::is_same_v<T, std::vector<double>>) {
      property(name,
               [place](const pybind11::object& self) { return view(pick<T>(self.cast<const Owner&>(), place), self); });
    } else if constexpr (std::is_same_v<T, Field>) {
      property(name, [place, rank = member_rank(prefix_ + name)](const pybind11::object& self) {
        return view(pick<T>(self.cast<const Owner&>(), place), rank, self);
      });
    } else if constexpr (is_array<T>) {
      return;
    } else if constexpr (std::is_arithmetic_v<T>) {
      property(name, [place](const Owner& self) { return pick<T>(self, place); });
    } else {
      property(name, [place](const Owner& self) -> const T& { return pick<T>(self, place); });
    }
  }
  void operator()(const char* name, Stretch<const double>) {
    property(name,
             [place = next_++](const Owner& self) { return pick<Stretch<const double>>(self, place).ratio - 1.0; });
  }
  void operator()(const char* name, Stretch<const std::vector<double>>) {
    property(name, [place = next_++](const Owner& self) {
      std::vector<double> strains = pick<Stretch<const std::vector<double>>>(self, place).ratio;
      for (double& s : strains) s -= 1.0;
      return copy_out(strains);
    });
  }
  void operator()(const char* name, FaceNames<const std::size_t>) {
    property(name, [place = next_++](const Owner& self) {
      return std::string(face_names.at(pick<FaceNames<const std::size_t>>(self, place).faces));
    });
  }
  void operator()(const char* name, FaceNames<const std::vector<std::size_t>>) {
    property(name, [place = next_++](const Owner& self) {
      std::vector<std::string> names;
      for (const std::size_t f : pick<FaceNames<const std::vector<std::size_t>>>(self, place).faces)
        names.emplace_back(face_names.at(f));
      return names;
    });
  }

 private:
  /// The member at a place of the walk; plain members by reference, wrapped ones by value.
  template <typename T>
  static decltype(auto) pick(const Owner& owner, std::size_t place) {
    constexpr bool wrapped = std::is_aggregate_v<T> &&
                             (
                                 requires(T t) { t.ratio; } || requires(T t) { t.faces; }) &&
                             !HasMembers<const T>;
    if constexpr (wrapped) {
      std::optional<T> found;
      walk<T>(owner, place, [&](const T& member) { found.emplace(member); });
      return T(*found);
    } else {
      const T* found = nullptr;
      walk<T>(owner, place, [&](const T& member) { found = &member; });
      return static_cast<const T&>(*found);
    }
  }
  template <typename T, typename Take>
  static void walk(const Owner& owner, std::size_t place, Take&& take) {
    std::size_t at = 0;
    Owner::members(owner, [&](const char*, const auto& member) {
      if constexpr (std::is_same_v<std::decay_t<decltype(member)>, T>) {
        if (at == place) take(member);
      }
      ++at;
    });
  }

  template <typename Getter>
  void property(const char* name, Getter&& getter) {
    std::string python_name(name);
    std::replace(python_name.begin(), python_name.end(), '.', '_');
    class_.def_property_readonly(python_name.c_str(), std::forward<Getter>(getter), member_doc(prefix_ + name).c_str());
  }

  pybind11::class_<Owner>& class_;
  std::string prefix_;
  std::size_t next_ = 0;
};

template <typename Owner>
pybind11::class_<Owner> expose(pybind11::module_& m, const char* name, const char* doc, const std::string& prefix) {
  pybind11::class_<Owner> c(m, name, doc);
  const Owner sample{};
  Owner::members(sample, Exposer<Owner>(c, prefix));
  return c;
}

}  // namespace hoopfield::python
