// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A result as nested Python tuples and back: pickling without computing again.
#pragma once

#include "sim/outputs/result.hpp"

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <array>
#include <optional>
#include <type_traits>
#include <vector>

namespace hoopfield::python {

/// Lists the members of every part of a result, in one place for both directions.
template <typename Archive> void members(Archive& a, Field& v) { a(v.shape, v.data); }
template <typename Archive> void members(Archive& a, FilmPathResult& v) {
  a(v.prestretch_force, v.prestretch_power, v.draw_temperature_rise, v.film_temperature, v.roller_speed_1,
    v.roller_speed_2, v.dwell_time, v.residence_time, v.stretch_in_gap, v.stretch_on_load, v.laid_width,
    v.laid_thickness, v.stiffness_over_force, v.gap_sharpness, v.gap_position, v.gap_stretch, v.gap_temperature);
}
template <typename Archive> void members(Archive& a, SpanResult& v) {
  a(v.force_set, v.force_mean, v.force_min, v.force_max, v.laid_fraction, v.angle, v.force, v.take_up_speed,
    v.face_turn, v.face, v.face_force);
}
template <typename Archive> void members(Archive& a, PatternResult& v) {
  a(v.turns, v.pitch, v.overlap, v.gap, v.speed_up, v.speed_down, v.cycle_time, v.uncovered_top, v.uncovered_bottom);
}
template <typename Archive> void members(Archive& a, StationFace& v) {
  a(v.hoop_tension, v.film_layers, v.strand_force, v.pull_force);
}
template <typename Archive> void members(Archive& a, StationResult& v) {
  a(v.height, v.hoop_tension, v.band_tension, v.pull_force, v.strand_force, v.pull_force_film_stretch_share,
    v.tent_factor, v.film_layers, v.film_layers_min, v.film_layers_max, v.faces);
}
template <typename Archive> void members(Archive& a, ContainmentResult& v) {
  a(v.stations, v.least_hoop_tension, v.least_height, v.least_face);
}
template <typename Archive> void members(Archive& a, LoadResult& v) {
  a(v.closing_along_length, v.closing_along_width, v.corner_force, v.corner_pressure);
}
template <typename Archive> void members(Archive& a, FilmUse& v) { a(v.length_on_roll, v.mass); }
template <typename Archive> void members(Archive& a, Sensitivity& v) { a(v.end, v.after_storage); }
template <typename Archive> void members(Archive& a, UnknownInput& v) {
  a(v.key, v.low_text, v.high_text, v.value_text, v.containment_low, v.containment_high, v.effect, v.how_to_measure,
    v.failed, v.message);
}
template <typename Archive> void members(Archive& a, TargetResult& v) {
  a(v.station, v.quantity, v.at, v.wanted, v.predicted, v.met);
}
template <typename Archive> void members(Archive& a, Warning& v) { a(v.code, v.severity, v.key, v.text); }
template <typename Archive> void members(Archive& a, SolverCounters& v) {
  a(v.steps, v.rejected, v.iterations, v.branch_updates, v.corner_slips);
}
template <typename Archive> void members(Archive& a, Result& v) {
  a(v.version, v.time, v.height, v.turn, v.hoop_tension, v.film_layers, v.hoop_tension_buildup, v.layer_tension,
    v.closing_along_length, v.closing_along_width, v.temperature, v.film_path, v.span, v.pattern, v.end,
    v.after_storage, v.load, v.film, v.sensitivity, v.assumed, v.targets, v.warnings, v.force_balance_error,
    v.counters);
}

template <typename T> struct IsVector : std::false_type {};
template <typename T> struct IsVector<std::vector<T>> : std::true_type {};
template <typename T> struct IsArray : std::false_type {};
template <typename T, std::size_t n> struct IsArray<std::array<T, n>> : std::true_type {};
template <typename T> struct IsOptional : std::false_type {};
template <typename T> struct IsOptional<std::optional<T>> : std::true_type {};
template <typename T> inline constexpr bool is_plain = std::is_arithmetic_v<T> || std::is_same_v<T, std::string>;

/// Long rows of numbers go as arrays, which pickle as one block of bytes.
class Saver {
 public:
  template <typename... T> void operator()(T&... values) { (list_.append(save(values)), ...); }
  [[nodiscard]] pybind11::tuple take() { return pybind11::tuple(list_); }

 private:
  template <typename T> static pybind11::object save(T& value) {
    if constexpr (is_plain<T>) {
      return pybind11::cast(value);
    } else if constexpr (std::is_same_v<T, std::vector<double>>) {
      return pybind11::array_t<double>(static_cast<pybind11::ssize_t>(value.size()), value.data());
    } else if constexpr (IsVector<T>::value || IsArray<T>::value) {
      Saver inner;
      for (auto& item : value) inner(item);
      return inner.take();
    } else if constexpr (IsOptional<T>::value) {
      return value ? save(*value) : pybind11::none();
    } else {
      Saver inner;
      members(inner, value);
      return inner.take();
    }
  }
  pybind11::list list_;
};

class Loader {
 public:
  explicit Loader(pybind11::tuple values) : values_(std::move(values)) {}
  template <typename... T> void operator()(T&... values) { (load(values, values_[next_++]), ...); }

 private:
  template <typename T> static void load(T& value, const pybind11::object& from) {
    if constexpr (is_plain<T>) {
      value = from.cast<T>();
    } else if constexpr (std::is_same_v<T, std::vector<double>>) {
      const auto array = from.cast<pybind11::array_t<double, pybind11::array::c_style | pybind11::array::forcecast>>();
      value.assign(array.data(), array.data() + array.size());
    } else if constexpr (IsVector<T>::value) {
      value.resize(pybind11::len(from));
      Loader inner(from.cast<pybind11::tuple>());
      for (auto& item : value) inner(item);
    } else if constexpr (IsArray<T>::value) {
      Loader inner(from.cast<pybind11::tuple>());
      for (auto& item : value) inner(item);
    } else if constexpr (IsOptional<T>::value) {
      if (!from.is_none()) load(value.emplace(), from);
    } else {
      Loader inner(from.cast<pybind11::tuple>());
      members(inner, value);
    }
  }
  pybind11::tuple values_;
  std::size_t next_ = 0;
};

}  // namespace hoopfield::python
