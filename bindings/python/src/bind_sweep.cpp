// SPDX-License-Identifier: BSD-3-Clause
// Sweeps: plans and runs.
#include "bindings/python/src/arrays.hpp"
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/observer.hpp"
#include "bindings/python/src/sweep_progress.hpp"
#include "models/error.hpp"
#include "sim/io/hdf5/run_sweep.hpp"
#include "sim/sweep/shard.hpp"

#include <pybind11/numpy.h>
#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>

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

class PythonSweepObserver : public SweepObserver {
 public:
  explicit PythonSweepObserver(PythonObserver& observer) : observer_(observer) {}
  bool progress(const SweepProgress& p) override { return observer_.progress(share_of(p), progress_text(p).c_str()); }

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

py::dict shard_attributes(const SweepShard& shard, std::size_t first_case) {
  py::dict attributes;
  attributes["shard"] = std::to_string(shard.number) + "/" + std::to_string(shard.count);
  attributes["shard_of"] = shard.whole_hash;
  attributes["shard_whole_cases"] = std::to_string(shard.whole_cases);
  attributes["shard_first_case"] = std::to_string(first_case);
  return attributes;
}

/// What a plan needs to be computed elsewhere: numbers as arrays, so that they stay exact and go as bytes.
py::tuple plan_state(const SweepPlan& plan) {
  py::list axes;
  for (const SweepAxis& axis : plan.axes) {
    const py::object values =
        axis.texts.empty()
            ? py::object(py::array_t<double>(static_cast<py::ssize_t>(axis.numbers.size()), axis.numbers.data()))
            : py::cast(axis.texts);
    axes.append(py::make_tuple(axis.key, axis.unit, values));
  }
  return py::make_tuple(plan.scenario, sampling_name(plan.sampling), axes, plan.outputs, plan.first_case);
}

SweepPlan plan_of_state(const Scenario& scenario, const std::string& sampling, const py::list& axes,
                        const std::vector<std::string>& outputs, std::size_t first_case) {
  SweepPlan plan;
  plan.scenario = scenario;
  plan.sampling = sampling_of(sampling);
  for (const py::handle& item : axes) {
    const auto axis = item.cast<py::tuple>();
    SweepAxis& made = plan.axes.emplace_back();
    made.key = axis[0].cast<std::string>();
    made.unit = axis[1].cast<std::string>();
    if (py::isinstance<py::array>(axis[2]))
      made.numbers = axis[2].cast<std::vector<double>>();
    else
      made.texts = axis[2].cast<std::vector<std::string>>();
  }
  plan.outputs = outputs;
  plan.first_case = first_case;
  return plan;
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
      .def_readonly("first_case", &SweepPlan::first_case, "number of the first case in the whole sweep")
      .def_property_readonly(
          "shard", [](const SweepPlan& p) { return p.shard ? shard_attributes(*p.shard, p.first_case) : py::dict(); },
          "What a file says of the share this plan is; empty for a whole sweep.")
      .def(
          "take_shard", [](const SweepPlan& p, const std::string& shard) { return take_shard(p, parse_shard(shard)); },
          py::arg("shard"), "The cases of one shard, \"3/16\", as a plan.")
      .def("case", &sweep_scenario, py::arg("index"), "The scenario of one case.")
      .def("__reduce__",
           [m](const SweepPlan& p) -> py::tuple {
             return py::make_tuple(py::object(m.attr("_plan_of")), plan_state(p));
           })
      .def("file_size", &sweep_file_size, py::call_guard<py::gil_scoped_release>(),
           "Greatest size of the file and its journal on disk, bytes.");
  using Varied = std::tuple<std::string, std::vector<InputValue>, std::optional<InputValue>, std::optional<InputValue>,
                            std::size_t>;
  m.def(
      "make_sweep_plan",
      [](const Scenario& scenario, const std::string& sampling, const std::vector<Varied>& varied, std::size_t samples,
         std::uint64_t seed, const std::vector<std::string>& outputs, bool fails_outside) {
        std::vector<VariedInput> inputs;
        for (const auto& [key, values, from, to, steps] : varied)
          inputs.push_back({key, values, from, to, steps, fails_outside});
        return make_sweep_plan(scenario, sampling_of(sampling), inputs, samples, seed, outputs);
      },
      py::arg("scenario"), py::arg("sampling"), py::arg("varied"), py::arg("samples"), py::arg("seed"),
      py::arg("outputs"), py::arg("fails_outside"),
      "Checks keys, values and outputs and lays out the cases; varied: (key, values, from, to, steps).");
  m.def("_plan_of", &plan_of_state, py::arg("scenario"), py::arg("sampling"), py::arg("axes"), py::arg("outputs"),
        py::arg("first_case"), "A pickled plan.");
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
