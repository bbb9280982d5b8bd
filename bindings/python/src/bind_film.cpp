// SPDX-License-Identifier: BSD-3-Clause
// Films and their virtual tests.
#include "bindings/python/src/arrays.hpp"
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/curve_state.hpp"
#include "bindings/python/src/film.hpp"
#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/film_lab/film_test.hpp"
#include "sim/inputs/film_library.hpp"
#include "sim/inputs/film_reader.hpp"

#include <pybind11/stl.h>

#include <cmath>
#include <tuple>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

constexpr double step_tolerance = 1e-5;  // as in the tests of the command

Film film_from_text(const std::string& text, const std::string& name) {
  return Film(read_film_text({name, text}), text, name);
}

Film read_film_file(const std::string& path) { return film_from_text(read_input_text(path).text, path); }

// The same test as `hoopfield film test`, by the same code.
TestedFilm test_film(const Film& film, const std::string& kind, double rate, double stretch, double width_exponent,
                     std::optional<double> temperature, double hold, double release_hold, double wait, int cycles,
                     double stress, bool draw_heat) {
  const auto found = film_test_kind(kind);
  if (!found) throw InputError("kind: expected \"tensile\", \"relaxation\", \"recovery\", \"cycle\" or \"creep\"");
  FilmTest test;
  test.kind = *found;
  test.rate = rate;
  test.stretch = stretch;
  test.width_exponent = width_exponent;
  test.temperature = temperature.value_or(film.description.reference_temperature);
  test.hold = hold;
  test.release_hold = release_hold;
  test.wait = wait;
  test.cycles = cycles;
  test.creep_stress = stress;
  test.draw_heat = draw_heat;
  check_film_test(test);
  const py::gil_scoped_release release;
  return {test, run_film_test(film.description, test)};
}

/// Column of a curve; `offset` turns stretch ratio into strain.
py::array_t<double> column(const TestedFilm& tested, double FilmCurvePoint::*member, double offset = 0.0) {
  std::vector<double> values;
  for (const FilmCurvePoint& p : tested.curve.points) values.push_back(p.*member + offset);
  return copy_out(values);
}

void check_path(const Film& film, const std::vector<double>& time, const std::vector<double>& strain,
                const WidthMode& mode) {
  for (std::size_t i = 0; i < time.size(); ++i) {
    if (i > 0 && time[i] < time[i - 1])
      throw InputError("time: value " + std::to_string(i) + " runs backwards", {}, 0, 0, "time");
    if (!(strain[i] > -1.0 && 1.0 + strain[i] < film.law->stretch_limit(mode)))
      throw OutOfRange("stretch: value " + std::to_string(i) + " is outside what the film can reach (strain -1 to " +
                           short_number(film.law->stretch_limit(mode) - 1.0) + ")",
                       {}, 0, 0, "stretch");
  }
}

py::array_t<double> follow(const Film& film, const py::object& time_in, const py::object& stretch_in,
                           const py::object& temperature_in, double width_exponent) {
  const std::vector<double> time = numbers_in(time_in, "time");
  const std::vector<double> strain = numbers_in(stretch_in, "stretch", time.size());
  std::vector<double> temperature(time.size(), film.description.reference_temperature);
  if (!temperature_in.is_none()) temperature = numbers_in(temperature_in, "temperature", time.size());
  if (!(width_exponent >= 0.0 && width_exponent <= 0.5))
    throw OutOfRange("width_exponent: expected 0 to 0.5", {}, 0, 0, "width_exponent");
  const WidthMode mode = WidthMode::power(width_exponent);
  check_path(film, time, strain, mode);
  std::vector<double> stress(time.size());
  {
    const py::gil_scoped_release release;
    FilmState state;
    for (std::size_t i = 0; i < time.size(); ++i) {
      const double dt = i == 0 ? 0.0 : time[i] - time[i - 1];
      const double mid = i == 0 ? temperature[0] : 0.5 * (temperature[i - 1] + temperature[i]);
      (void)advance_controlled(*film.law, state, 1.0 + strain[i], dt, mode, mid, step_tolerance);
      stress[i] = film.law->stress(state, mode, temperature[i]).nominal;
    }
  }
  return copy_out(stress);
}

void bind_curve(py::module_& m) {
  py::class_<TestedFilm>(m, "FilmCurve", "Curve of a virtual test and the numbers read off it.")
      .def("__reduce__",
           [m](const TestedFilm& c) -> py::tuple {
             return py::make_tuple(py::object(m.attr("_curve_of")), state_of(c));
           })
      .def_property_readonly(
          "kind", [](const TestedFilm& c) { return film_test_name(c.test.kind); },
          "tensile, relaxation, recovery, cycle or creep")
      .def_property_readonly(
          "rate", [](const TestedFilm& c) { return c.test.rate; }, "1/s, speed of the grips over the starting length")
      .def_property_readonly(
          "time", [](const TestedFilm& c) { return column(c, &FilmCurvePoint::time); }, "s")
      .def_property_readonly(
          "stretch", [](const TestedFilm& c) { return column(c, &FilmCurvePoint::stretch, -1.0); }, "strain")
      .def_property_readonly(
          "stress", [](const TestedFilm& c) { return column(c, &FilmCurvePoint::stress); },
          "force over section on the roll, Pa")
      .def_property_readonly(
          "secant_modulus", [](const TestedFilm& c) { return c.curve.numbers.secant_modulus; },
          "Pa, secant from 0 to 1 % strain; None when the curve ends below")
      .def_property_readonly(
          "yield_stress", [](const TestedFilm& c) { return c.curve.numbers.yield_stress; },
          "Pa, first maximum of stress; None without one")
      .def_property_readonly(
          "yield_strain", [](const TestedFilm& c) { return c.curve.numbers.yield_strain; },
          "strain of that maximum; None without one")
      .def_property_readonly(
          "end_stress", [](const TestedFilm& c) { return c.curve.numbers.end_stress; }, "Pa, at the end of stretching")
      .def_property_readonly(
          "end_stiffness", [](const TestedFilm& c) { return c.curve.numbers.end_stiffness; },
          "d ln stress / d ln stretch ratio at the end of stretching")
      .def_property_readonly(
          "kept", [](const TestedFilm& c) { return c.curve.numbers.kept; },
          "share of end_stress left after the hold; None without a hold")
      .def_property_readonly(
          "loss_per_decade", [](const TestedFilm& c) { return c.curve.numbers.loss_per_decade; },
          "share of end_stress lost in the last decade of time")
      .def_property_readonly(
          "temperature", [](const TestedFilm& c) { return column(c, &FilmCurvePoint::temperature); }, "K")
      .def_property_readonly(
          "release_stretch", [](const TestedFilm& c) { return c.curve.numbers.release_stretch; },
          "strain when the force is first gone (recovery, cycle)")
      .def_property_readonly(
          "permanent_set", [](const TestedFilm& c) { return c.curve.numbers.permanent_set; },
          "permanent set: strain after the wait, of the starting length (recovery)")
      .def_property_readonly(
          "permanent_share", [](const TestedFilm& c) { return c.curve.numbers.permanent_share; },
          "the same over the strain reached: 1 - elastic_recovery")
      .def_property_readonly(
          "elastic_recovery", [](const TestedFilm& c) { return c.curve.numbers.elastic_recovery; },
          "share of the strain reached that is gone after the wait (recovery)")
      .def_property_readonly(
          "work_lost_first", [](const TestedFilm& c) { return c.curve.numbers.work_lost_first; },
          "share of the work of the first cycle not given back")
      .def_property_readonly(
          "work_lost_last", [](const TestedFilm& c) { return c.curve.numbers.work_lost_last; },
          "the same for the last cycle")
      .def_property_readonly(
          "peak_kept", [](const TestedFilm& c) { return c.curve.numbers.peak_kept; },
          "top stress of the last cycle over that of the first")
      .def_property_readonly(
          "creep_start", [](const TestedFilm& c) { return c.curve.numbers.creep_start; },
          "strain when the creep stress is reached")
      .def_property_readonly(
          "creep_strain", [](const TestedFilm& c) { return c.curve.numbers.creep_strain; },
          "strain added under the creep stress");
  m.def(
      "_curve_of", [](const py::args& state) { return curve_from(state); }, "A pickled curve.");
}

}  // namespace

void bind_film(py::module_& m) {
  bind_curve(m);
  py::class_<Film>(m, "Film", "A film: description, law and text.")
      .def("test", &test_film, py::arg("kind"), py::arg("rate"), py::arg("stretch"), py::arg("width_exponent"),
           py::arg("temperature"), py::arg("hold"), py::arg("release_hold") = 60.0, py::arg("wait") = 86400.0,
           py::arg("cycles") = 3, py::arg("stress") = 0.0, py::arg("draw_heat") = false,
           "Virtual test of a strip; SI, stretch as strain.")
      .def("follow", &follow, py::arg("time"), py::arg("stretch"), py::arg("temperature"), py::arg("width_exponent"),
           "Stress (Pa) along any path of stretch over time, one value per time.")
      .def_property_readonly("name", [](const Film& f) { return f.description.name; })
      .def_property_readonly("law", [](const Film& f) { return f.description.law; })
      .def_property_readonly(
          "density", [](const Film& f) { return f.description.density; }, "kg/m^3")
      .def_property_readonly(
          "neck_in", [](const Film& f) { return f.description.neck_in; }, "width exponent in the gap")
      .def_property_readonly(
          "reference_temperature", [](const Film& f) { return f.description.reference_temperature; }, "K")
      .def_property_readonly(
          "heat_capacity", [](const Film& f) { return f.description.thermal.heat_capacity; },
          "J/kg/K; 0 = no heat of drawing")
      .def_property_readonly(
          "branches", [](const Film& f) { return f.law->branch_count(); }, "number of relaxing branches")
      .def_property_readonly("source", [](const Film& f) { return f.description.provenance.source; })
      .def_property_readonly(
          "illustrative", [](const Film& f) { return f.description.provenance.illustrative; },
          "True when the numbers describe no real film")
      .def(
          "stretch_limit",
          [](const Film& f, double width_exponent) {
            return f.law->stretch_limit(WidthMode::power(width_exponent)) - 1.0;
          },
          py::arg("width_exponent") = 0.5, "Greatest strain of the network.")
      .def_readonly("text", &Film::text)
      .def_readonly("path", &Film::path)
      .def("__reduce__", [m](const Film& f) -> py::tuple {
        return py::make_tuple(py::object(m.attr("film_from_text")), py::make_tuple(f.text, f.path));
      });

  m.def("read_film", &read_film_file, py::arg("path"), "Reads a film file.");
  m.def("film_from_text", &film_from_text, py::arg("text"), py::arg("name"), "The same for a text.");
  m.def("library_films", &library_films, "Names of the films that come with hoopfield.");
  m.def(
      "library_film", [](const std::string& name) { return film_from_text(library_film(name), name + ".toml"); },
      py::arg("name"), "A film that comes with hoopfield.");
}

}  // namespace hoopfield::python
