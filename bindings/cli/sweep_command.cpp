// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/sweep_command.hpp"

#include "bindings/cli/progress.hpp"
#include "bindings/cli/words.hpp"
#include "models/caution.hpp"
#include "sim/base/number_text.hpp"
#include "sim/io/hdf5/run_sweep.hpp"
#include "sim/sweep/sweep.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <iostream>
#include <map>
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

std::string rate_text(double rate) { return fixed(rate, rate < 10.0 ? 2 : 0) + " cases/s"; }

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

/// Messages of failed cases, most frequent first: message, number of cases, first case.
struct Failure {
  std::string message;
  std::size_t count = 0, first = 0;
};

std::vector<Failure> failures(const SweepResult& result) {
  std::map<std::string, Failure> by_message;
  for (std::size_t i = 0; i < result.status.size(); ++i) {
    if (result.status[i] != CaseStatus::failed) continue;
    Failure& failure = by_message.try_emplace(result.message[i], Failure{result.message[i], 0, i}).first->second;
    ++failure.count;
  }
  std::vector<Failure> list;
  for (auto& [message, failure] : by_message) list.push_back(std::move(failure));
  std::stable_sort(list.begin(), list.end(), [](const Failure& a, const Failure& b) {
    return a.count != b.count ? a.count > b.count : a.first < b.first;
  });
  return list;
}

std::string cases_text(std::size_t count) { return std::to_string(count) + (count == 1 ? " case" : " cases"); }

void print_page(const SweepCommandOptions& options, const SweepResult& result, const SweepProgress& progress) {
  constexpr std::size_t shown = 3;
  std::cout << options.output << ": " << cases_text(result.status.size()) << ", " << result.finished - result.failed
            << " done, " << result.failed << " failed";
  if (result.resumed > 0) std::cout << ", " << result.resumed << " from an earlier run";
  if (progress.rate > 0.0) std::cout << " (" << rate_text(progress.rate) << ")";
  std::cout << '\n';
  const std::vector<Failure> list = failures(result);
  for (std::size_t i = 0; i < std::min(list.size(), shown); ++i)
    std::cout << wrap(
        cases_text(list[i].count) + ", first case " + std::to_string(list[i].first) + ": " + list[i].message, "  ",
        "    ");
  if (list.size() > shown) std::cout << "  further messages are in the variable `message`\n";
  std::cout << wrap(std::string(short_caution), "", "");
}

void print_json(const SweepCommandOptions& options, const SweepResult& result) {
  nlohmann::ordered_json json = {
      {"file", options.output},  {"cases", result.status.size()}, {"done", result.finished - result.failed},
      {"failed", result.failed}, {"resumed", result.resumed},     {"caution", short_caution}};
  json["failures"] = nlohmann::ordered_json::array();
  for (const Failure& f : failures(result))
    json["failures"].push_back({{"message", f.message}, {"cases", f.count}, {"first_case", f.first}});
  std::cout << json.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) << '\n';
}

}  // namespace

int sweep_cases(const SweepCommandOptions& options, const CommonOptions& common) {
  const SweepPlan plan = read_sweep(options.sweep);
  SweepResult result;
  SweepProgress progress;
  {
    SweepBar bar;
    result = run_sweep(plan, {options.jobs, options.output, common.overwrite, options.resume, false}, &bar);
    progress = bar.last();
  }
  if (result.stopped) {
    std::cerr << "hoopfield: stopped on request; " << result.finished << " of " << cases_text(result.status.size())
              << " are kept in '" << options.output
              << ".part'.\nThe same command with --resume continues from there.\n";
    return exit_interrupted;
  }
  if (options.json)
    print_json(options, result);
  else
    print_page(options, result, progress);
  return exit_done;
}

void add_sweep_command(Program& program) {
  const Command command = program.root().add_command("sweep", "Predict many cases in parallel to one file",
                                                     "hoopfield sweep sweep.toml -o sweep.h5 --jobs 2");
  const auto options = std::make_shared<SweepCommandOptions>();
  command.add_option("sweep", options->sweep, "Sweep file (TOML): scenario, what varies, outputs")
      .required()
      .type_name("SWEEP.toml");
  command.add_option("-o,--output", options->output, "File to write (HDF5)").required().type_name("OUT.h5");
  command.add_option("--jobs", options->jobs, "Threads; one per processor if not given")
      .between(1, 1024)
      .type_name("N");
  command.add_flag("--resume", options->resume, "Continue a sweep that was stopped");
  command.add_flag("--json", options->json, "Print one JSON object instead of the page");
  command.takes_overwrite();
  command.runs([command, options] { return sweep_cases(*options, command.common()); });
}

}  // namespace hoopfield::cli
