// SPDX-License-Identifier: BSD-3-Clause
// Calibration from readings, and what to read next.
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/observer.hpp"
#include "models/error.hpp"
#include "models/reading_quantity.hpp"
#include "sim/calibrate/calibration.hpp"
#include "sim/io/text/calibration_json.hpp"
#include "sim/io/text/readings_reader.hpp"
#include "sim/words/calibration_text.hpp"

#include <pybind11/stl.h>

#include <string>
#include <utility>
#include <vector>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

/// Readings of a text, under the name that messages show.
std::vector<Reading> readings_of(const std::vector<std::pair<std::string, std::string>>& texts) {
  std::vector<Reading> readings;
  for (const auto& [name, text] : texts)
    for (Reading& reading : read_readings_text({name, text})) readings.push_back(std::move(reading));
  return readings;
}

py::tuple calibrated(const Scenario& scenario, const std::vector<std::pair<std::string, std::string>>& texts,
                     std::vector<std::string> free, std::vector<std::string> held, std::size_t band_samples,
                     py::object progress) {
  const std::vector<Reading> readings = readings_of(texts);
  PythonObserver observer(std::move(progress));
  const Calibration found = observer.run([&] {
    observer.section(0.0, 1.0);
    CalibrationOptions options;
    options.free = std::move(free);
    options.held = std::move(held);
    options.band_samples = band_samples;
    return calibrate(scenario, readings, options, &observer);
  });
  return py::make_tuple(found.scenario, calibration_json(found), words::calibration_text(found, {}));
}

std::vector<double> predicted(const Scenario& scenario, const std::vector<std::pair<std::string, std::string>>& texts) {
  std::vector<ReadingPlace> places;
  for (const Reading& reading : readings_of(texts)) places.push_back(place_of(scenario, reading));
  return predicted_readings(scenario, places);
}

std::string next(const Scenario& scenario, py::object progress) {
  PythonObserver observer(std::move(progress));
  return observer.run([&] {
    observer.section(0.0, 1.0);
    return next_json(next_readings(scenario, &observer));
  });
}

std::string trial(const Scenario& present, const Scenario& candidate, std::size_t loads, double minutes,
                  double load_scatter) {
  return trial_json(plan_trial(present, candidate, {loads, minutes, load_scatter}));
}

}  // namespace

void bind_calibrate(py::module_& m) {
  m.def("calibrate", &calibrated, py::arg("scenario"), py::arg("readings"), py::arg("free"), py::arg("held"),
        py::arg("band_samples"), py::arg("progress") = py::none(),
        "The corrected scenario, JSON and words of a calibration.");
  m.def("predicted_readings", &predicted, py::arg("scenario"), py::arg("readings"),
        "What each reading of some texts would show on the load of a scenario, SI.");
  m.def("trial", &trial, py::arg("present"), py::arg("candidate"), py::arg("loads"), py::arg("minutes"),
        py::arg("load_scatter"), "JSON of the readings that tell two scenarios apart.");
  m.def("next_readings", &next, py::arg("scenario"), py::arg("progress") = py::none(),
        "JSON of the readings that would narrow the band most.");
}

}  // namespace hoopfield::python
