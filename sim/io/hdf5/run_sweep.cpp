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

}  // namespace

SweepResult run_sweep(const SweepPlan& plan, const SweepOptions& options, SweepObserver* observer) {
  if (options.file.empty()) return compute_sweep(plan, options, observer);
  check_names(plan, options.file);
  return compute_sweep(plan, options, observer,
                       [&](const SweepLayout& layout, SweepMemory& memory, const SweepPulse& pulse) {
                         return std::make_unique<SweepStore>(plan, layout, options, memory, pulse);
                       });
}

}  // namespace hoopfield
