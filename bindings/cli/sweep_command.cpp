// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/sweep_command.hpp"

#include "bindings/cli/print_sweep.hpp"
#include "bindings/cli/progress.hpp"
#include "models/error.hpp"
#include "sim/io/hdf5/run_sweep.hpp"
#include "sim/io/hdf5/sweep_merge.hpp"
#include "sim/io/hdf5/sweep_table.hpp"
#include "sim/io/text/output_files.hpp"
#include "sim/sweep/shard.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <iostream>
#include <memory>

#include <unistd.h>

namespace hoopfield::cli {
namespace {

std::string duration_text(double seconds) {
  const auto whole = static_cast<long long>(std::llround(seconds));
  if (whole < 60) return std::to_string(whole) + " s";
  if (whole < 3600) return std::to_string(whole / 60) + " min " + std::to_string(whole % 60) + " s";
  return std::to_string(whole / 3600) + " h " + std::to_string(whole % 3600 / 60) + " min";
}

/// One line on a terminal once the work takes over a second.
class SweepBar : public SweepObserver {
 public:
  ~SweepBar() override {
    if (visible_) std::cerr << "\r\x1b[K" << std::flush;
  }
  bool progress(const SweepProgress& p) override {
    last_ = p;
    if (::isatty(STDERR_FILENO) == 1 && std::chrono::steady_clock::now() - start_ > std::chrono::seconds(1)) draw(p);
    return !interrupted();
  }
  [[nodiscard]] const SweepProgress& last() const { return last_; }

 private:
  void draw(const SweepProgress& p) {
    constexpr std::size_t width = 20;
    const std::size_t filled = p.finished * width / std::max<std::size_t>(p.total, 1);
    std::cerr << "\r\x1b[K[" << std::string(filled, '#') << std::string(width - filled, '.') << "] " << p.finished
              << "/" << p.total;
    if (p.rate > 0.0) std::cerr << "  " << rate_text(p.rate) << ", " << duration_text(p.remaining) << " to go";
    if (p.failed > 0) std::cerr << "  " << p.failed << " failed";
    std::cerr << std::flush;
    visible_ = true;
  }
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
  SweepProgress last_;
  bool visible_ = false;
};

/// What the option parser cannot say of two options.
void check_words(const SweepCommandOptions& options) {
  const bool merges = !options.merged.empty();
  if (options.sweep.empty() && !merges)
    throw InputError("a sweep file is missing; expected SWEEP.toml, or --merge with shards to put together");
  if (!merges) return;
  if (!options.sweep.empty())
    throw InputError("--merge takes shards and no sweep file; '" + options.sweep + "' is one");
}

/// What the table may not replace, and whether it can be written: asked before anything is computed.
void check_csv(const SweepCommandOptions& options, const CommonOptions& common,
               std::vector<std::filesystem::path> read) {
  if (options.csv.empty()) return;
  OutputFiles files(common.overwrite);
  files.reads(read);
  files.reads(options.output);
  files.add("--csv", options.csv);
  files.check();
}

/// The table of all cases and the page.
void finish(const SweepCommandOptions& options, const CommonOptions& common, const FinishedSweep& finished) {
  if (!options.csv.empty()) write_sweep_csv(options.output, options.csv, common.overwrite);
  print_sweep(options, finished);
}

int merge_shards(const SweepCommandOptions& options, const CommonOptions& common) {
  const std::vector<std::filesystem::path> shards(options.merged.begin(), options.merged.end());
  check_csv(options, common, shards);
  finish(options, common, {merge_sweeps(shards, options.output, common.overwrite), 0.0});
  return exit_done;
}

/// Predicts to the file; the plan with its values is gone when the page is made.
SweepResult compute(const SweepCommandOptions& options, const CommonOptions& common, SweepProgress& progress) {
  SweepPlan plan = read_sweep(options.sweep);
  if (!options.shard.empty()) plan = take_shard(plan, parse_shard(options.shard));
  check_csv(options, common, {plan.files.begin(), plan.files.end()});
  SweepBar bar;
  SweepResult result = run_sweep(plan, {options.jobs, options.output, common.overwrite, options.resume, false}, &bar);
  progress = bar.last();
  return result;
}

}  // namespace

int sweep_cases(const SweepCommandOptions& options, const CommonOptions& common) {
  check_words(options);
  if (!options.merged.empty()) return merge_shards(options, common);
  SweepProgress progress;
  const SweepResult result = compute(options, common, progress);
  if (result.stopped) {
    std::cerr << "hoopfield: stopped on request; " << result.finished << " of " << cases_text(result.status.size())
              << " are kept in '" << options.output
              << ".part'.\nThe same command with --resume continues from there.\n";
    return exit_interrupted;
  }
  finish(options, common, {result, progress.rate});
  return exit_done;
}

void add_sweep_command(Program& program) {
  const Command command = program.root().add_command("sweep", "Predict many cases in parallel to one file",
                                                     "hoopfield sweep sweep.toml -o sweep.h5 --jobs 2");
  const auto options = std::make_shared<SweepCommandOptions>();
  command.add_option("sweep", options->sweep, "Sweep file (TOML): scenario, what varies, outputs")
      .type_name("SWEEP.toml");
  command.add_option("-o,--output", options->output, "File to write (HDF5)").required().type_name("OUT.h5");
  command.add_option("--jobs", options->jobs, "Threads; one per processor if not given")
      .between(1, 1024)
      .type_name("N");
  const Option resume = command.add_flag("--resume", options->resume, "Continue a sweep that was stopped");
  const Option shard =
      command
          .add_option("--shard", options->shard, "Compute one share only, the I-th of N, for --merge to put together")
          .type_name("I/N");
  command.add_option("--merge", options->merged, "Put shards together to the file of the whole sweep")
      .type_name("SHARD.h5 ...")
      .excludes(shard)
      .excludes(resume);
  command.add_option("--csv", options->csv, "Write every finished case as one line of a table, too")
      .type_name("CASES.csv");
  command.add_flag("--json", options->json, "Print one JSON object instead of the page");
  command.takes_overwrite();
  command.runs([command, options] { return sweep_cases(*options, command.common()); });
}

}  // namespace hoopfield::cli
