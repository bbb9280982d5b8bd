// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/python/src/curve_state.hpp"

#include "models/error.hpp"

#include <pybind11/numpy.h>
#include <pybind11/stl.h>

#include <array>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

using Points = py::array_t<double, py::array::c_style | py::array::forcecast>;
using Test = std::tuple<std::string, double, double, double, double, double, double, double, int, double, bool,
                        std::optional<double>>;

constexpr std::array numbers = {
    &FilmNumbers::secant_modulus,  &FilmNumbers::yield_stress,     &FilmNumbers::yield_strain,
    &FilmNumbers::end_stress,      &FilmNumbers::end_stiffness,    &FilmNumbers::kept,
    &FilmNumbers::loss_per_decade, &FilmNumbers::release_stretch,  &FilmNumbers::permanent_set,
    &FilmNumbers::permanent_share, &FilmNumbers::elastic_recovery, &FilmNumbers::work_lost_first,
    &FilmNumbers::work_lost_last,  &FilmNumbers::peak_kept,        &FilmNumbers::creep_start,
    &FilmNumbers::creep_strain};
constexpr py::ssize_t columns = 5;

[[noreturn]] void refuse() { throw InputError("FilmCurve: what was pickled is no curve of a virtual test"); }

}  // namespace

py::tuple state_of(const TestedFilm& tested) {
  const FilmTest& t = tested.test;
  std::vector<std::optional<double>> values;
  for (const auto number : numbers) values.push_back(tested.curve.numbers.*number);
  Points points({static_cast<py::ssize_t>(tested.curve.points.size()), columns});
  auto at = points.mutable_unchecked<2>();
  for (py::ssize_t i = 0; i < at.shape(0); ++i) {
    const FilmCurvePoint& p = tested.curve.points[static_cast<std::size_t>(i)];
    const double row[] = {p.time, p.stretch, p.stress, static_cast<double>(p.phase), p.temperature};
    for (py::ssize_t c = 0; c < columns; ++c) at(i, c) = row[c];
  }
  return py::make_tuple(Test{film_test_name(t.kind), t.rate, t.stretch, t.width_exponent, t.temperature, t.hold,
                             t.release_hold, t.wait, t.cycles, t.creep_stress, t.draw_heat, t.thickness},
                        values, points, tested.curve.loaded);
}

TestedFilm curve_from(const py::tuple& state) {
  if (state.size() != 4) refuse();
  TestedFilm tested;
  std::vector<std::optional<double>> values;
  Points points;
  try {
    const auto [kind, rate, stretch, exponent, temperature, hold, release_hold, wait, cycles, stress, heat, thickness] =
        state[0].cast<Test>();
    const auto found = film_test_kind(kind);
    if (!found) refuse();
    tested.test = {*found,       rate, stretch, exponent, temperature, hold,
                   release_hold, wait, cycles,  stress,   heat,        thickness};
    values = state[1].cast<std::vector<std::optional<double>>>();
    points = state[2].cast<Points>();
    tested.curve.loaded = state[3].cast<std::size_t>();
  } catch (const py::cast_error&) {
    refuse();
  }
  check_film_test(tested.test);
  if (values.size() != numbers.size() || points.ndim() != 2 || points.shape(1) != columns ||
      tested.curve.loaded >= static_cast<std::size_t>(points.shape(0)))
    refuse();
  for (std::size_t i = 0; i < numbers.size(); ++i) tested.curve.numbers.*numbers[i] = values[i];
  const auto at = points.unchecked<2>();
  for (py::ssize_t i = 0; i < at.shape(0); ++i) {
    if (!(at(i, 3) >= 0.0 && at(i, 3) <= static_cast<double>(FilmPhase::free))) refuse();
    tested.curve.points.push_back(
        {at(i, 0), at(i, 1), at(i, 2), static_cast<FilmPhase>(static_cast<unsigned char>(at(i, 3))), at(i, 4)});
  }
  return tested;
}

}  // namespace hoopfield::python
