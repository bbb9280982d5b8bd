// SPDX-License-Identifier: BSD-3-Clause
// Sweeps in blocks: computed elsewhere, or put together from shards.
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/sweep_progress.hpp"
#include "sim/io/hdf5/run_sweep.hpp"
#include "sim/io/hdf5/sweep_merge.hpp"
#include "sim/sweep/packed_records.hpp"

#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>

#include <cmath>
#include <memory>

namespace hoopfield::python {

namespace py = pybind11;

std::string progress_text(const SweepProgress& p) {
  std::string text = std::to_string(p.finished) + " of " + std::to_string(p.total) + " cases";
  if (p.failed > 0) text += " (" + std::to_string(p.failed) + " failed)";
  if (p.rate > 0.0) {
    text += ", " + std::to_string(std::lround(p.rate)) + " cases/s";
    if (p.finished < p.total) text += ", " + std::to_string(std::lround(std::ceil(p.remaining))) + " s left";
  }
  return text;
}

double share_of(const SweepProgress& p) {
  return p.total == 0 ? 1.0 : static_cast<double>(p.finished) / static_cast<double>(p.total);
}

void bind_sweep_blocks(py::module_& m) {
  using C = CollectedSweep;
  const auto release = py::call_guard<py::gil_scoped_release>();
  py::class_<C>(m, "CollectedSweep", "A sweep whose cases are computed elsewhere and come back in blocks.")
      .def(py::init([](const SweepPlan& plan, const std::filesystem::path& file, bool overwrite, bool resume) {
             SweepOptions options;
             options.file = file, options.overwrite = overwrite, options.resume = resume, options.keep = file.empty();
             return collect_sweep(plan, options);
           }),
           py::arg("plan"), py::arg("file"), py::arg("overwrite"), py::arg("resume"), release)
      .def(
          "pending",
          [](const C& c, std::size_t most) {
            std::vector<std::pair<std::size_t, std::size_t>> blocks;
            for (const CaseBlock& block : c.pending(most)) blocks.emplace_back(block.first, block.count);
            return blocks;
          },
          py::arg("most"), "What is not finished, as (first, count) with at most `most` cases each.")
      .def(
          "plan_of",
          [](const C& c, std::size_t first, std::size_t count) {
            return c.plan_of({first, count});
          },
          py::arg("first"), py::arg("count"), "The cases of a block as a plan.")
      .def(
          "take", [](C& c, const py::bytes& packed) { c.take(std::string_view(packed)); }, py::arg("packed"),
          "What compute_packed() made of a block.")
      .def(
          "fail",
          [](C& c, std::size_t first, std::size_t count, const std::string& message) {
            c.fail({first, count}, message);
          },
          py::arg("first"), py::arg("count"), py::arg("message"), release, "Records the cases of a block as failed.")
      .def(
          "progress",
          [](const C& c) {
            const SweepProgress p = c.progress();
            return py::make_tuple(share_of(p), progress_text(p));
          },
          "Share done, and a text.")
      .def("finish", &C::finish, release, "Saves what came; the last call.");
  m.def(
      "compute_packed",
      [](const SweepPlan& plan, unsigned jobs) {
        std::string packed;
        {
          const py::gil_scoped_release unlocked;
          packed = compute_packed(plan, jobs);
        }
        return py::bytes(packed);
      },
      py::arg("plan"), py::arg("jobs"), "Predicts every case of a plan; bytes for CollectedSweep.take().");
  m.def("merge_sweeps", &merge_sweeps, py::arg("shards"), py::arg("file"), py::arg("overwrite"),
        py::call_guard<py::gil_scoped_release>(), "Puts the files of all shards of a sweep together.");
}

}  // namespace hoopfield::python
