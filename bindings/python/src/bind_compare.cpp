// SPDX-License-Identifier: BSD-3-Clause
// Comparisons: the numbers come as the JSON object of the command, the predictions as results.
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/observer.hpp"
#include "models/error.hpp"
#include "sim/io/text/compare_reader.hpp"
#include "sim/io/text/compare_writer.hpp"
#include "sim/words/answer_text.hpp"
#include "sim/words/compare_text.hpp"

#include <pybind11/stl.h>

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

SameWhat same_of(const std::string& word) {
  if (const auto same = same_of_word(word)) return *same;
  throw InputError("same: \"" + word +
                       "\" is not known; expected \"nothing\", \"settings\", \"span-force\" or "
                       "\"film-mass\"",
                   {}, 0, 0, "same");
}

CompareSide named(CompareSide side, const std::string& name) {
  if (!name.empty()) side.name = name;
  return side;
}

Comparison run(const std::vector<CompareSide>& sides, const std::string& same, bool best_prestretch, double break_share,
               bool sensitivity, bool factors, bool unknowns, bool present_unknowns, std::int64_t band_samples,
               double words_at, py::object progress) {
  CompareOptions options;
  options.same = same_of(same);
  options.best_prestretch = best_prestretch;
  options.break_share = break_share;
  options.sensitivity = sensitivity;
  options.factors = factors;
  options.unknowns = unknowns;
  options.present_unknowns = present_unknowns;
  options.band_samples = band_samples;
  options.words_at = words_at;
  PythonObserver observer(std::move(progress));
  Comparison comparison = observer.run([&] { return compare(sides, options, &observer); });
  observer.raise_pending();
  return comparison;
}

py::list predictions(const Comparison& comparison) {
  py::list list;
  for (const ComparedSide& side : comparison.sides)
    list.append(side.result ? py::object(py::make_tuple(*side.scenario, *side.result)) : py::object(py::none()));
  return list;
}

std::vector<std::string> sentences(const Comparison& comparison) {
  std::vector<std::string> list;
  for (std::size_t i = 1; i < comparison.sides.size(); ++i) {
    const std::string film = words::film_sentence(comparison, i, words::UnitStyle::metric);
    list.push_back(words::first_sentence(comparison, i, words::UnitStyle::metric) + (film.empty() ? "" : " " + film));
  }
  return list;
}

}  // namespace

void bind_compare(py::module_& m) {
  py::class_<CompareSide>(m, "CompareSide", "One side of a comparison before it is predicted.")
      .def_readonly("name", &CompareSide::name)
      .def_property_readonly("measured",
                             [](const CompareSide& s) { return std::holds_alternative<MeasuredSide>(s.content); });
  py::class_<Comparison>(m, "Comparison", "Sides predicted and judged.")
      .def("to_json", [](const Comparison& c) { return comparison_json(c); })
      .def("to_csv", &comparison_csv)
      .def(
          "text",
          [](const Comparison& c, bool inch_pound) {
            const auto units = inch_pound ? words::UnitStyle::inch_pound : words::UnitStyle::metric;
            return words::compare_text(c, {units, false});
          },
          py::arg("inch_pound"))
      .def("sentences", &sentences)
      .def("predictions", &predictions, "(scenario, result) of every side, None for measured and failed ones");
  m.def(
      "read_side", [](const std::string& path, const std::string& name) { return named(read_side(path), name); },
      py::arg("path"), py::arg("name"));
  m.def(
      "scenario_side",
      [](const Scenario& scenario, const std::string& name) {
        return CompareSide{name, scenario.path, scenario};
      },
      py::arg("scenario"), py::arg("name"));
  m.def("compare", &run, py::arg("sides"), py::arg("same"), py::arg("best_prestretch"), py::arg("break_share"),
        py::arg("sensitivity"), py::arg("factors"), py::arg("unknowns"), py::arg("present_unknowns"),
        py::arg("band_samples"), py::arg("words_at"), py::arg("progress"));
}

}  // namespace hoopfield::python
