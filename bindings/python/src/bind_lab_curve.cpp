// SPDX-License-Identifier: BSD-3-Clause
// Laboratory curves from files, arrays and virtual tests, put in order by the code the command uses.
#include "bindings/python/src/arrays.hpp"
#include "bindings/python/src/bind.hpp"
#include "models/error.hpp"
#include "sim/film_lab/lab_curve.hpp"

#include <pybind11/stl.h>

#include <algorithm>
#include <limits>
#include <utility>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

using Conditions = std::vector<std::pair<std::string, std::string>>;

std::vector<LabCondition> conditions_of(const Conditions& pairs) {
  std::vector<LabCondition> list;
  for (const auto& pair : pairs) list.push_back({pair.first, pair.second});
  return list;
}

LabCurve curve_from_file(const std::string& path, const std::string& columns, const Conditions& conditions) {
  const py::gil_scoped_release release;
  return read_lab_curve(path, {columns, "columns=", conditions_of(conditions)});
}

/// Columns that no curve needs may hold anything: they are named in a warning and their values are not looked at.
LabCurve curve_from_arrays(const std::string& name, const std::vector<std::string>& names, const py::list& values,
                           const Conditions& conditions) {
  LabTable table{name, {}, conditions_of(conditions)};
  std::size_t rows = 0;
  for (std::size_t i = 0; i < names.size(); ++i) {
    table.columns.push_back({names[i], {}});
    if (!names_lab_column(names[i])) continue;
    table.columns.back().values = numbers_or_gaps_in(values[i], (name + ": " + names[i]).c_str());
    rows = std::max(rows, table.columns.back().values.size());
  }
  for (LabTable::Column& column : table.columns)
    if (!names_lab_column(column.name)) column.values.assign(rows, std::numeric_limits<double>::quiet_NaN());
  const py::gil_scoped_release release;
  return read_lab_table(table);
}

LabCurve curve_of_test(const TestedFilm& tested, const std::string& name) {
  return lab_curve(tested.test, tested.curve, name);
}

}  // namespace

void bind_lab_curve(py::module_& m) {
  py::class_<LabCurve>(m, "LabCurve", "A laboratory curve, read and put in order.")
      .def_readonly("name", &LabCurve::name)
      .def_readonly("warnings", &LabCurve::warnings, "What was repaired, in sentences.");
  m.def("curve_from_file", &curve_from_file, py::arg("path"), py::arg("columns"), py::arg("conditions"),
        "A curve from a file; columns: names for a table without any, else empty.");
  m.def("curve_from_arrays", &curve_from_arrays, py::arg("name"), py::arg("names"), py::arg("values"),
        py::arg("conditions"), "A curve from columns of one length, named as in a file.");
  m.def("curve_of_test", &curve_of_test, py::arg("curve"), py::arg("name"), "A virtual test as a laboratory curve.");
}

}  // namespace hoopfield::python
