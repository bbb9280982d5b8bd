// SPDX-License-Identifier: BSD-3-Clause
// Scenarios: reading, changing, listing, text and pickle.
#include "bindings/python/src/arrays.hpp"
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/film.hpp"
#include "models/error.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/inputs_detail.hpp"
#include "sim/inputs/reader_support.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/scenario_writer.hpp"

#include <pybind11/stl.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

/// Value of one input as a Python object: number (SI), text, truth value, list of pairs or None.
struct ToPython {
  std::string_view key;
  py::object& out;
  void operator()(const std::string& field) const { out = py::str(field); }
  void operator()(bool field) const { out = py::bool_(field); }
  void operator()(int field) const { out = py::int_(field); }
  void operator()(double field) const { out = py::float_(field); }
  template <typename Number>
  void operator()(const std::optional<Number>& field) const {
    if (field) (*this)(*field);
  }
  void operator()(const StuckOr<const std::optional<double>>& field) const {
    field.value ? (*this)(*field.value) : (*this)(std::string("stuck"));
  }
  template <typename Pair>
  void operator()(const Pairs<const std::vector<Pair>>& field) const {
    if (!field.value.empty()) out = py::cast(field.value);
  }
  void operator()(const Spreads<const SpreadMap>& field) const {
    if (field.value.empty()) return;
    py::dict entries;
    for (const auto& [of, spread] : field.value) entries[py::str(of)] = spread.text;
    out = entries;
  }
  void operator()(const Calibrated<const CalibrationTable>& field) const {
    if (!field.value) return;
    py::dict table;
    table["keys"] = field.value->keys;
    table["load_scatter"] = field.value->load_scatter;
    table["readings"] = field.value->readings;
    out = table;
  }
  void operator()(const Tiers<const std::vector<TierInput>>& field) const {
    if (field.value.empty()) return;
    py::list tiers;
    for (const TierInput& tier : field.value) {
      py::dict item;
      item["height"] = tier.height;
      item["mass"] = tier.mass;
      item["friction_below"] = tier.friction_below ? py::object(py::float_(*tier.friction_below)) : py::none();
      tiers.append(item);
    }
    out = tiers;
  }
  template <typename Enum>
  requires std::is_enum_v<Enum>
  void operator()(Enum field) const {
    const Parameter* p = find_parameter(ParameterRoom::scenario, key);
    out = py::str(std::string(choice_list(*p)[static_cast<std::size_t>(field)]));
  }
};

py::object get(const Scenario& scenario, const std::string& key) {
  (void)detail::declaration_for(scenario, key);
  py::object value = py::none();
  visit_inputs(scenario, [&](std::string_view at, const auto& field) {
    if (at == key) ToPython{key, value}(field);
  });
  return value;
}

std::vector<std::string> keys() {
  std::vector<std::string> list;
  for (const Parameter& p : parameters(ParameterRoom::scenario)) list.emplace_back(p.key);
  return list;
}

Scenario replace(const Scenario& scenario, const std::vector<std::pair<std::string, InputValue>>& changes) {
  Scenario changed = scenario;
  set_inputs(changed, changes);
  return changed;
}

Scenario with_film(const Scenario& scenario, const Film& film) {
  Scenario changed = scenario;
  changed.film.file = film.path;
  changed.film_description = film.description;
  changed.film_text = film.text;
  changed.sources["film.file"] = {Origin::given, {}, 0, 0};
  resolve_scenario(changed);
  return changed;
}

py::list resolved(const Scenario& scenario) {
  py::list list;
  for (const InputRow& row : input_rows(scenario)) {
    py::dict item;
    item["key"] = row.key;
    item["value"] = get(scenario, row.key);
    if (item["value"].is_none() && std::isfinite(row.number)) item["value"] = row.number;
    item["text"] = row.text;
    item["unit"] = row.unit;
    item["origin"] = row.origin;
    item["file"] = row.file;
    item["line"] = row.line;
    list.append(item);
  }
  return list;
}

// Where the film file lies says nothing about the wrap; its text does.
std::string meaning(const Scenario& scenario) {
  Scenario copy = scenario;
  copy.film.file = "film";
  return scenario_text(copy) + scenario.film_text;
}

py::tuple get_state(const Scenario& s) {
  py::dict sources;
  for (const auto& [key, source] : s.sources)
    sources[py::str(key)] = py::make_tuple(static_cast<int>(source.origin), source.file, source.line, source.column);
  return py::make_tuple(s.schema, scenario_text(s), s.film_text, s.path, s.text, sources);
}

Scenario set_state(const py::tuple& state) {
  if (state.size() != 6) throw InputError("this pickled scenario is of another version");
  Scenario s =
      read_scenario_with_film(state[1].cast<std::string>(), state[3].cast<std::string>(), state[2].cast<std::string>());
  s.text = state[4].cast<std::string>();
  s.sources.clear();
  for (const auto& [key, value] : state[5].cast<py::dict>()) {
    const auto source = value.cast<std::tuple<int, std::string, int, int>>();
    if (std::get<0>(source) < 0 || std::get<0>(source) > static_cast<int>(Origin::assumed))
      throw InputError("this pickled scenario holds an origin that does not exist");
    s.sources[key.cast<std::string>()] = {static_cast<Origin>(std::get<0>(source)), std::get<1>(source),
                                          std::get<2>(source), std::get<3>(source)};
  }
  return s;
}

}  // namespace

void bind_scenario(py::module_& m) {
  py::class_<Scenario>(m, "Scenario", "A complete, validated set of inputs; never changed in place.")
      .def("replace", &replace, py::arg("changes"), "A copy with inputs set from texts with units or SI numbers.")
      .def("with_film", &with_film, py::arg("film"), "A copy wound with another film.")
      .def("get", &get, py::arg("key"), "SI number, text, truth value, list of pairs, or None when it has no value.")
      .def("resolved", &resolved, "Every input that has a value, with unit, origin and place.")
      .def("to_text", &scenario_text, "TOML of every input that was written or set.")
      .def("inputs_hash", &inputs_hash, "Equal inputs, equal hash, wherever the files lie.")
      .def_property_readonly("film",
                             [](const Scenario& s) { return Film(s.film_description, s.film_text, s.film.file); })
      .def_readonly("title", &Scenario::title)
      .def_readonly("path", &Scenario::path, "File it was read from; empty when made in memory.")
      .def_readonly("text", &Scenario::text, "The file as read.")
      .def_readonly("film_text", &Scenario::film_text, "The film file as read.")
      .def(
          "same", [](const Scenario& a, const Scenario& b) { return meaning(a) == meaning(b); }, py::arg("other"),
          "Equal values, origins and film text; where the film's file lies does not count.")
      .def("__reduce__", [m](const Scenario& s) -> py::tuple {
        return py::make_tuple(py::object(m.attr("_scenario_of")), py::make_tuple(get_state(s)));
      });
  m.def("_scenario_of", &set_state, py::arg("state"), "A pickled scenario.");

  m.def("read_scenario", &read_scenario, py::arg("path"), py::call_guard<py::gil_scoped_release>(),
        "Reads a scenario file and the film file it names.");
  m.def("scenario_from_text", &read_scenario_text, py::arg("text"), py::arg("name"), py::arg("base_dir"),
        "The same for a text; film paths start from base_dir.");
  m.def("scenario_with_film", &read_scenario_with_film, py::arg("text"), py::arg("name"), py::arg("film_text"),
        "The same with the text of the film file.");
  m.def("scenario_keys", &keys, "Every key a scenario may have, in the order of the reference.");
}

}  // namespace hoopfield::python
