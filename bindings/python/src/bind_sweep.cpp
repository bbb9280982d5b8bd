// SPDX-License-Identifier: BSD-3-Clause
// Sweeps: plans and runs.
#include "bindings/python/src/arrays.hpp"
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/observer.hpp"
#include "models/error.hpp"
#include "sim/io/hdf5/run_sweep.hpp"

#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>

#include <cmath>
#include <memory>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

Sampling sampling_of(const std::string& name) {
  if (name == "grid") return Sampling::grid;
  if (name == "latin-hypercube") return Sampling::latin_hypercube;
  if (name == "sobol") return Sampling::sobol;
  if (name == "table") return Sampling::table;
  throw InputError(
      "sampling: \"" + name + "\" is not known; expected \"grid\", \"latin-hypercube\", \"sobol\" or \"table\"", {}, 0,
      0, "sampling");
}

std::string sampling_name(Sampling sampling) {
  constexpr const char* names[] = {"grid", "latin-hypercube", "sobol", "table"};
  return names[static_cast<std::size_t>(sampling)];
}

/// "1234 of 5000 cases (2 failed), 310 cases/s, 12 s left"
std::string progress_text(const SweepProgress& p) {
  std::string text = std::to_string(p.finished) + " of " + std::to_string(p.total) + " cases";
  if (p.failed > 0) text += " (" + std::to_string(p.failed) + " failed)";
  if (p.rate > 0.0) {
    text += ", " + std::to_string(std::lround(p.rate)) + " cases/s";
    if (p.finished < p.total) text += ", " + std::to_string(std::lround(std::ceil(p.remaining))) + " s left";
  }
  return text;
}

class PythonSweepObserver : public SweepObserver {
 public:
  explicit PythonSweepObserver(PythonObserver& observer) : observer_(observer) {}
  bool progress(const SweepProgress& p) override {
    const double share = p.total == 0 ? 1.0 : static_cast<double>(p.finished) / static_cast<double>(p.total);
    return observer_.progress(share, progress_text(p).c_str());
  }

 private:
  PythonObserver& observer_;
};

/// What the user raised, or Ctrl-C, comes out; a function that returned False only ends the sweep early.
SweepResult run(const SweepPlan& plan, unsigned jobs, const std::filesystem::path& file, bool overwrite, bool resume,
                bool keep, py::object progress) {
  SweepOptions options;
  options.jobs = jobs, options.file = file, options.overwrite = overwrite, options.resume = resume, options.keep = keep;
  PythonObserver observer(std::move(progress));
  PythonSweepObserver watch(observer);
  SweepResult result = observer.run([&] { return run_sweep(plan, options, &watch); });
  observer.raise_pending();
  return result;
}

py::object axis_values(const py::object& self, const SweepAxis& axis) {
  if (axis.texts.empty()) return view(axis.numbers, self);
  return py::cast(axis.texts);
}

void bind_plan(py::module_& m) {
  py::class_<SweepAxis>(m, "SweepAxis", "One varied input and its value in every case.")
      .def_readonly("key", &SweepAxis::key)
      .def_readonly("unit", &SweepAxis::unit, "SI unit of numbers; empty for pure numbers and texts")
      .def_property_readonly(
          "values", [](const py::object& self) { return axis_values(self, self.cast<const SweepAxis&>()); },
          "array of SI numbers, or list of texts");
  py::class_<SweepPlan>(m, "SweepPlan", "One scenario, the inputs that vary, and their value in every case.")
      .def_readonly("axes", &SweepPlan::axes)
      .def_readonly("grid_shape", &SweepPlan::grid_shape, "grid only: values per axis, the last varies fastest")
      .def_readonly("outputs", &SweepPlan::outputs)
      .def_property_readonly("case_count", &SweepPlan::case_count)
      .def_property_readonly("sampling", [](const SweepPlan& p) { return sampling_name(p.sampling); })
      .def_property_readonly("hash", &sweep_hash, "Equal plans, equal hash.")
      .def("case", &sweep_scenario, py::arg("index"), "The scenario of one case.")
      .def("file_size", &sweep_file_size, py::call_guard<py::gil_scoped_release>(),
           "Greatest size of the file and its journal on disk, bytes.");
  using Varied = std::tuple<std::string, std::vector<InputValue>, std::optional<InputValue>, std::optional<InputValue>,
                            std::size_t>;
  m.def(
      "make_sweep_plan",
      [](const Scenario& scenario, const std::string& sampling, const std::vector<Varied>& varied, std::size_t samples,
         std::uint64_t seed, const std::vector<std::string>& outputs) {
        std::vector<VariedInput> inputs;
        for (const auto& [key, values, from, to, steps] : varied) inputs.push_back({key, values, from, to, steps});
        return make_sweep_plan(scenario, sampling_of(sampling), inputs, samples, seed, outputs);
      },
      py::arg("scenario"), py::arg("sampling"), py::arg("varied"), py::arg("samples"), py::arg("seed"),
      py::arg("outputs"),
      "Checks keys, values and outputs and lays out the cases; varied: (key, values, from, to, steps).");
  m.def("read_sweep", &read_sweep, py::arg("path"), "Reads a sweep file with its scenario and table.");
}

void bind_run(py::module_& m) {
  using O = SweepOutput;
  py::class_<O>(m, "SweepOutput", "One output of all cases.")
      .def_readonly("name", &O::name)
      .def_readonly("unit", &O::unit)
      .def_readonly("long_name", &O::long_name)
      .def_readonly("dims", &O::dims, "after case")
      .def_property_readonly(
          "values",
          [](const py::object& self) {
            const auto& o = self.cast<const O&>();
            std::size_t row = 1;
            for (const std::size_t n : o.shape) row *= n;
            std::vector<std::size_t> shape = {row == 0 ? 0 : o.values.size() / row};
            shape.insert(shape.end(), o.shape.begin(), o.shape.end());
            return view(o.values.data(), shape, self);
          },
          "(case, *dims); NaN for failed and pending cases");
  using C = SweepCoordinate;
  py::class_<C>(m, "SweepCoordinate", "Values along a dimension of field outputs.")
      .def_readonly("name", &C::name)
      .def_readonly("unit", &C::unit)
      .def_readonly("per_case", &C::per_case)
      .def_property_readonly(
          "values",
          [](const py::object& self) {
            const auto& c = self.cast<const C&>();
            if (!c.per_case) return view(c.values, self);
            return view(c.values.data(), {c.size == 0 ? 0 : c.values.size() / c.size, c.size}, self);
          },
          "(size) or, per case, (case, size)");
  using R = SweepResult;
  py::class_<R>(m, "SweepResult", "Data of a sweep.")
      .def_property_readonly(
          "status",
          [](const py::object& self) {
            const auto& s = self.cast<const R&>().status;
            return view(reinterpret_cast<const std::int8_t*>(s.data()), {s.size()}, self);
          },
          "0 done, 1 failed, 2 pending")
      .def_readonly("message", &R::message, "why a case failed")
      .def_readonly("outputs", &R::outputs)
      .def_readonly("coordinates", &R::coordinates)
      .def_readonly("finished", &R::finished)
      .def_readonly("failed", &R::failed)
      .def_readonly("resumed", &R::resumed)
      .def_readonly("stopped", &R::stopped);
  m.def("run_sweep", &run, py::arg("plan"), py::arg("jobs"), py::arg("file"), py::arg("overwrite"), py::arg("resume"),
        py::arg("keep"), py::arg("progress"),
        "Predicts every case of a plan on `jobs` threads (0 = one per processor).");
}

}  // namespace

void bind_sweep(py::module_& m) {
  bind_plan(m);
  bind_run(m);
}

}  // namespace hoopfield::python
