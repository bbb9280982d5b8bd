// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/run_sweep.hpp"

#include "sim/io/hdf5/sweep_store.hpp"
#include "sim/io/text/output_files.hpp"

#include <memory>

namespace hoopfield {

namespace {

std::filesystem::path with_ending(std::filesystem::path path, const char* ending) {
  path += ending;
  return path;
}

/// The file and its companions must be no input of the sweep.
void check_names(const SweepPlan& plan, const std::filesystem::path& file) {
  OutputFiles files(true);
  files.reads(files_of(plan.scenario));
  for (const std::string& input : plan.files) files.reads(input);
  for (const SweepAxis& axis : plan.axes)
    if (axis.key == "film.file")
      for (const std::string& film : axis.texts)
        files.reads(std::filesystem::path(plan.scenario.path).parent_path() / film);
  for (const char* ending : {"", ".part", ".journal"}) files.add("-o", with_ending(file, ending));
  files.check_names();
}

/// Plan and options must outlive what it opens.
OpenSweepSink open_store(const SweepPlan& plan, const SweepOptions& options) {
  if (options.file.empty()) return {};
  check_names(plan, options.file);
  return [&](const SweepLayout& layout, SweepMemory& memory, const SweepPulse& pulse) {
    return std::make_unique<SweepStore>(plan, layout, options, memory, pulse);
  };
}

}  // namespace

SweepResult run_sweep(const SweepPlan& plan, const SweepOptions& options, SweepObserver* observer) {
  return compute_sweep(plan, options, observer, open_store(plan, options));
}

std::unique_ptr<CollectedSweep> collect_sweep(const SweepPlan& plan, const SweepOptions& options) {
  return std::make_unique<CollectedSweep>(plan, options, open_store);
}

}  // namespace hoopfield
