// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How the structs of a result show their members to visitors.
///
/// Each has `template <typename Self, typename Visitor> static void members(Self& s, Visitor&& visit)` beside its
/// members, which calls `visit(name, member)` for each. What the numbers mean is declared in
/// models/parameter_outputs.cpp; writers, pickling and Python walk the members and take names and units from there.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <type_traits>
#include <vector>

namespace hoopfield {

/// A stretch ratio inside, strain to everybody else: one number or a row of them.
template <typename Value>
struct Stretch {
  Value& ratio;
};
template <typename Value>
Stretch(Value&) -> Stretch<Value>;  // clang 14 deduces no aggregates by itself

/// Places in face_names, shown as the names: one or a row of them.
template <typename Value>
struct FaceNames {
  Value& faces;
};
template <typename Value>
FaceNames(Value&) -> FaceNames<Value>;

/// A visitor that takes any member; asks whether a struct shows its members.
struct AnyMember {
  template <typename Member>
  void operator()(const char*, Member&&) const {}
};
template <typename T>
concept HasMembers = requires(T& value) {
  std::remove_const_t<T>::members(value, AnyMember{});
};

template <typename T>
inline constexpr bool is_vector = false;
template <typename T>
inline constexpr bool is_vector<std::vector<T>> = true;
template <typename T>
inline constexpr bool is_array = false;
template <typename T, std::size_t n>
inline constexpr bool is_array<std::array<T, n>> = true;
template <typename T>
inline constexpr bool is_optional = false;
template <typename T>
inline constexpr bool is_optional<std::optional<T>> = true;

}  // namespace hoopfield
