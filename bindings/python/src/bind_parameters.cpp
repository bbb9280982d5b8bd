// SPDX-License-Identifier: BSD-3-Clause
// Declarations of inputs and outputs, and units.
#include "bindings/python/src/bind.hpp"
#include "models/parameter.hpp"
#include "models/units.hpp"
#include "sim/words/explain.hpp"
#include "sim/words/face_sketch.hpp"

#include <pybind11/stl.h>

#include <string>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

std::string room_name(const Parameter& p) {
  constexpr const char* words[] = {"scenario", "film_file", "measured_file", "output", "film_number"};
  return words[static_cast<std::size_t>(p.room)];
}

std::string kind_name(const Parameter& p) {
  constexpr const char* names[] = {"number", "integer", "flag", "text", "choice", "table"};
  return names[static_cast<std::size_t>(p.kind)];
}

std::optional<double> bound_value(const std::optional<Bound>& bound) {
  return bound ? std::optional<double>(bound->value) : std::nullopt;
}

}  // namespace

void bind_parameters(py::module_& m) {
  using P = Parameter;
  py::class_<P>(m, "Parameter", "Declaration of one input or output.")
      .def_property_readonly("key", [](const P& p) { return std::string(p.key); })
      .def_property_readonly("room", &room_name,
                             "\"scenario\", \"film_file\", \"measured_file\", \"output\" or \"film_number\"")
      .def_property_readonly("kind", &kind_name, "\"number\", \"integer\", \"flag\", \"text\", \"choice\" or \"table\"")
      .def_property_readonly(
          "unit", [](const P& p) { return std::string(p.unit); }, "SI unit; empty for none")
      .def_property_readonly("customary_unit", [](const P& p) { return std::string(p.metric); })
      .def_property_readonly("required", [](const P& p) { return p.required; })
      .def_property_readonly(
          "default", [](const P& p) { return std::string(p.default_text); }, "as a user writes it")
      .def_property_readonly(
          "lower", [](const P& p) { return bound_value(p.lower); }, "physical bound, SI")
      .def_property_readonly(
          "upper", [](const P& p) { return bound_value(p.upper); }, "physical bound, SI")
      .def_property_readonly("choices",
                             [](const P& p) {
                               const auto list = choice_list(p);
                               return std::vector<std::string>(list.begin(), list.end());
                             })
      .def_property_readonly("sentence", [](const P& p) { return std::string(p.sentence); })
      .def_property_readonly("how_to_measure", &how_to_measure)
      .def_property_readonly(
          "caution", [](const P& p) { return caution_text(p); },
          "what can hurt whoever measures it so, and what to do about it; empty for nothing")
      .def_property_readonly("reference", &reference_text)
      .def("__repr__", [](const P& p) { return "<hoopfield.Parameter " + std::string(p.key) + ">"; });

  m.def(
      "short_caution", [] { return std::string(short_caution); }, "What every prediction carries.");
  m.def("face_sketch", &words::face_sketch, "The load from above with the names of its faces.");
  m.def("find_parameters", &find_parameters, py::arg("text"), py::return_value_policy::reference,
        "Declarations meant by a key or by its last part.");
  m.def(
      "explain_text", [](const std::string& key) { return words::explain_text(key, words::UnitStyle::metric); },
      py::arg("key"), "Page of one key, list of a table, or list of all for \"\". Raises InputError with near keys.");
  m.def("nearest_keys", &nearest_keys, py::arg("text"), py::arg("count") = 3, "Declared keys nearest to a text.");
  m.def("parse_quantity", &parse_quantity, py::arg("text"), py::arg("si_unit"),
        "\"12 rpm\" to SI: parse_quantity(\"12 rpm\", \"rad/s\"). Raises InputError.");
  m.def("to_unit", &to_unit, py::arg("si_value"), py::arg("unit"), "An SI value in another unit. Raises InputError.");
}

}  // namespace hoopfield::python
