// SPDX-License-Identifier: BSD-3-Clause
// Identification of films and the comparison numbers: the same code as the command.
#include "bindings/python/src/arrays.hpp"
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/film.hpp"
#include "bindings/python/src/observer.hpp"
#include "sim/film_lab/datasheet.hpp"
#include "sim/film_lab/film_fit.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/io/text/film_writer.hpp"

#include <pybind11/stl.h>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

std::string short_key(const Parameter& parameter) {
  return std::string(parameter.key.substr(parameter.key.find('.') + 1));
}

DerivedSettings settings(double rate, double stretch, double width_exponent, std::optional<double> temperature) {
  return {rate, stretch, width_exponent, temperature};
}

py::dict film_numbers(const Film& film, double rate, double stretch, double width_exponent,
                      std::optional<double> temperature) {
  DerivedNumbers numbers;
  {
    const py::gil_scoped_release release;
    numbers = derive_numbers(film.description, settings(rate, stretch, width_exponent, temperature));
  }
  py::dict dict;
  for (const DerivedField& field : derived_fields()) dict[py::str(short_key(*field.parameter))] = numbers.*field.value;
  return dict;
}

Film film_of(const FilmFit& fit) {
  const std::string text = film_text(fit.film, film_remarks(fit));
  return Film(read_film_text({fit.film.name, text}), text, fit.film.name);
}

FilmFit fit_curves(const std::vector<LabCurve>& curves, std::optional<std::size_t> branches, const std::string& name,
                   std::optional<double> density, std::optional<double> neck_in, int starts, double model_error,
                   const std::vector<LabCurve>& hold_out, const py::object& progress) {
  FitOptions options;
  options.branches = branches;
  options.starts = starts;
  options.model_error = model_error;
  options.hold_out = hold_out;
  options.base = assumed_film();
  options.base.name = name;
  if (density) options.base.density = *density, options.base.assumed.erase("density");
  if (neck_in) options.base.neck_in = *neck_in, options.base.assumed.erase("neck_in");
  PythonObserver observer(progress);
  return observer.run([&] { return fit_film(curves, options, &observer); });
}

FilmFit fit_sheet(const std::string& path) {
  const py::gil_scoped_release release;
  const FilmSheet sheet = read_film_sheet(path);
  return film_from_sheet(sheet);
}

py::list parameter_list(const FilmFit& fit) {
  py::list list;
  for (const FittedParameter& p : fit.parameters) {
    py::dict entry;
    entry["key"] = p.key;
    entry["value"] = p.value;
    entry["low"] = p.low;
    entry["high"] = p.high;
    entry["error"] = p.error;
    entry["error_before_curves"] = p.prior_error;
    entry["determined"] = p.determined;
    entry["test_that_would_determine"] = p.test.empty() ? py::object(py::none()) : py::object(py::str(p.test));
    list.append(entry);
  }
  return list;
}

py::list curve_list(const std::vector<CurveResidual>& curves) {
  py::list list;
  for (const CurveResidual& c : curves) {
    py::dict entry;
    entry["name"] = c.name;
    entry["kind"] = film_test_name(c.kind);
    entry["rate"] = c.rate;
    entry["temperature"] = c.temperature;
    entry["points"] = c.rows_read;
    entry["rms"] = c.rms;
    entry["greatest_residual"] = c.greatest;
    entry["time"] = copy_out(c.time);
    std::vector<double> strain = c.stretch;
    for (double& s : strain) s -= 1.0;
    entry["stretch"] = copy_out(strain);
    entry["stress"] = copy_out(c.measured);
    entry["fitted"] = copy_out(c.fitted);
    list.append(entry);
  }
  return list;
}

py::dict number_dict(const FilmFit& fit) {
  py::dict dict;
  for (const DerivedInterval& d : fit.derived)
    dict[py::str(short_key(*d.parameter))] = py::make_tuple(d.value, d.error);
  return dict;
}

py::dict interval_dict(const FilmFit& fit) {
  py::dict dict;
  for (const DerivedInterval& d : fit.derived)
    if (d.value) dict[py::str(short_key(*d.parameter))] = py::make_tuple(d.low, d.high);
  return dict;
}

py::array_t<double> correlation_matrix(const FilmFit& fit) {
  const std::size_t n = fit.parameters.size();
  py::array_t<double> matrix({n, n});
  auto at = matrix.mutable_unchecked<2>();
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < n; ++j)
      at(static_cast<py::ssize_t>(i), static_cast<py::ssize_t>(j)) = correlation(fit, i, j);
  return matrix;
}

}  // namespace

void bind_film_fit(py::module_& m) {
  py::class_<FilmFit>(m, "FilmFit", "A film identified from curves or from a data sheet, and how well it is known.")
      .def_property_readonly("film", &film_of, "The film, with provenance and covariance in its text.")
      .def_property_readonly(
          "parameters", &parameter_list,
          "One dict per number of the law: key, value, low, high (95 %), error, determined, ...; SI.")
      .def_property_readonly("correlation", &correlation_matrix, "Correlation of the parameters.")
      .def_property_readonly(
          "curves", [](const FilmFit& fit) { return curve_list(fit.curves); },
          "One dict per curve: name, kind, rms, and arrays time, stretch, stress, fitted; SI.")
      .def_property_readonly(
          "held_out", [](const FilmFit& fit) { return curve_list(fit.held_out); },
          "The same of the curves held out, their stress predicted.")
      .def_property_readonly("numbers", &number_dict,
                             "Comparison numbers of the film: name to (value, standard error); SI.")
      .def_property_readonly("intervals", &interval_dict, "The same numbers: name to (low, high), 95 %; SI.")
      .def_property_readonly(
          "choices",
          [](const FilmFit& fit) {
            py::list list;
            for (const FitChoice& c : fit.choices) list.append(py::make_tuple(c.branches, c.bic, c.rms));
            return list;
          },
          "(branches, BIC, rms) for each number of branches tried.")
      .def_readonly("unknown", &FilmFit::unknown, "What the data cannot determine, in sentences.")
      .def_readonly("warnings", &FilmFit::warnings, "What was repaired in the curves, and more.")
      .def_readonly("misfit", &FilmFit::misfit, "Relative error beyond the scatter of the points.")
      .def_readonly("law_error", &FilmFit::law_error, "Relative error of the law that the intervals allow for.");

  m.def("film_numbers", &film_numbers, py::arg("film"), py::arg("rate"), py::arg("stretch"), py::arg("width_exponent"),
        py::arg("temperature"), "Comparison numbers of the film; SI.");
  m.def("fit_film", &fit_curves, py::arg("curves"), py::arg("branches"), py::arg("name"), py::arg("density"),
        py::arg("neck_in"), py::arg("starts"), py::arg("model_error"), py::arg("hold_out"), py::arg("progress"),
        "Film law from curves.");
  m.def("film_from_datasheet", &fit_sheet, py::arg("path"), "Film law from a data sheet file.");
}

}  // namespace hoopfield::python
