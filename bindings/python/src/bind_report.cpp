// SPDX-License-Identifier: BSD-3-Clause
// Reports: the page of the command, from results, and the sentence that it begins with.
#include "bindings/python/src/bind.hpp"
#include "sim/io/text/report_page.hpp"
#include "sim/io/text/report_writer.hpp"
#include "sim/words/answer_text.hpp"

#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

/// Name, scenario, result, why there is no result, known by readings only.
using Side = std::tuple<std::string, std::optional<Scenario>, std::optional<Result>, std::string, bool>;

void write(const std::filesystem::path& path, const std::vector<Side>& sides, const std::string& comparison_json,
           bool inch_pound, bool overwrite) {
  ReportInput input;
  for (const auto& [name, scenario, result, message, measured] : sides) {
    ReportSide side;
    side.name = name;
    side.message = message;
    side.measured = measured;
    if (scenario) side.scenario = std::make_shared<const Scenario>(*scenario);
    if (scenario && result) side.result = std::make_shared<const Result>(*result);
    input.sides.push_back(std::move(side));
  }
  input.inch_pound = inch_pound;
  input.comparison_json = comparison_json;
  write_report(path, input, overwrite);
}

}  // namespace

void bind_report(py::module_& m) {
  m.def("write_report", &write, py::arg("path"), py::arg("sides"), py::arg("comparison_json"), py::arg("inch_pound"),
        py::arg("overwrite"), py::call_guard<py::gil_scoped_release>(),
        "Writes a report; sides are (name, scenario, result, message, measured).");
  m.def(
      "first_sentence",
      [](const Scenario& scenario, const Result& result) {
        return words::first_sentence(scenario, result, words::UnitStyle::metric);
      },
      py::arg("scenario"), py::arg("result"), "What the command and the report say first of a prediction.");
  m.def(
      "report_page_absence", [] { return std::string(report_page_absence()); },
      "Why this build writes plain tables only; empty when it has the page.");
}

}  // namespace hoopfield::python
