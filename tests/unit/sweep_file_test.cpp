// SPDX-License-Identifier: BSD-3-Clause
// The file of a sweep: stopping, resuming, damage, refusals.
#include "models/error.hpp"
#include "sim/io/hdf5/run_sweep.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sweep_cases.hpp"

#include <fstream>
#include <map>

using namespace hoopfield;
using namespace hoopfield::testing;
namespace fs = std::filesystem;

namespace {

const std::vector<std::string> with_fields = {"containment.end.middle", "layer_tension", "closing_along_length"};

SweepOptions to(const fs::path& file, bool resume = false) {
  SweepOptions options;
  options.jobs = 1;
  options.file = file;
  options.resume = resume;
  return options;
}

/// Stops once enough cases are finished.
struct StopAfter : SweepObserver {
  explicit StopAfter(std::size_t cases) : wanted(cases) {}
  std::size_t wanted;
  bool progress(const SweepProgress& p) override { return p.finished < wanted; }
};

fs::path with_ending(fs::path path, const char* ending) {
  path += ending;
  return path;
}

SweepPlan long_plan(const std::vector<std::string>& outputs) {
  return make_sweep_plan(slow_scenario(), Sampling::sobol,
                         {{"delivery.tension.force", {}, InputValue(40.0), InputValue(90.0)},
                          {"delivery.prestretch", {}, InputValue(2.0), InputValue(2.9)},
                          {"load.length", {1.2, 1.0, 1.1, 4.0}}},  // the outlet is nearer than the last one reaches
                         32, 1, outputs);
}

/// The plan computed in one go, once for all tests.
const SweepResult& whole_result(const std::vector<std::string>& outputs) {
  static std::map<bool, SweepResult> results;
  const auto [found, is_new] = results.try_emplace(outputs.empty());
  if (is_new) found->second = run_sweep(long_plan(outputs));
  return found->second;
}

std::size_t stop_early(const SweepPlan& plan, const fs::path& file) {
  StopAfter stop(3);
  const SweepResult part = run_sweep(plan, to(file), &stop);
  REQUIRE(part.stopped);
  // On a slow machine a stop gives up cases that are computed but not yet written.
  REQUIRE(part.finished >= 1);
  CHECK_FALSE(fs::exists(file));
  CHECK(fs::exists(with_ending(file, ".part")));
  CHECK(fs::exists(with_ending(file, ".journal")));
  return part.finished;
}

void cut(const fs::path& file, std::uintmax_t bytes) { fs::resize_file(file, bytes); }

}  // namespace

TEST_CASE("stopped and resumed sweeps end as if never stopped", "[sweep][file]") {
  const TemporaryFolder folder;
  const std::vector<std::string> summary;
  for (const auto& outputs : {summary, with_fields}) {
    const SweepPlan plan = long_plan(outputs);
    const SweepResult& whole = whole_result(outputs);
    CHECK(whole.failed > 0);
    CHECK(whole.failed < 32);
    const fs::path file = folder / (outputs.empty() ? "summary.h5" : "fields.h5");
    const std::size_t before = stop_early(plan, file);

    SECTION(outputs.empty() ? "as it is" : "as it is, fields") {
      const SweepResult resumed = run_sweep(plan, to(file, true));
      CHECK(resumed.resumed == before);
      CHECK(same(whole, resumed));
    }
    SECTION(outputs.empty() ? "part cut short" : "part cut short, fields") {
      cut(with_ending(file, ".part"), fs::file_size(with_ending(file, ".part")) / 2);
      const SweepResult resumed = run_sweep(plan, to(file, true));
      if (outputs.empty()) CHECK(resumed.resumed == before);  // the journal holds every number
      CHECK(same(whole, resumed));
    }
    SECTION(outputs.empty() ? "part gone" : "part gone, fields") {
      fs::remove(with_ending(file, ".part"));
      CHECK(same(whole, run_sweep(plan, to(file, true))));
    }
    SECTION(outputs.empty() ? "part overwritten with noise" : "part overwritten with noise, fields") {
      std::ofstream(with_ending(file, ".part"), std::ios::binary) << std::string(5000, '\x5a');
      CHECK(same(whole, run_sweep(plan, to(file, true))));
    }
    SECTION(outputs.empty() ? "journal gone" : "journal gone, fields") {
      fs::remove(with_ending(file, ".journal"));
      const SweepResult resumed = run_sweep(plan, to(file, true));
      CHECK(resumed.resumed == before);
      CHECK(same(whole, resumed));
    }
    SECTION(outputs.empty() ? "journal cut in its last group" : "journal cut in its last group, fields") {
      const fs::path journal = with_ending(file, ".journal");
      cut(journal, fs::file_size(journal) - 7);
      const SweepResult resumed = run_sweep(plan, to(file, true));
      CHECK(resumed.resumed < before);
      CHECK(same(whole, resumed));
    }
    SECTION(outputs.empty() ? "stopped twice" : "stopped twice, fields") {
      StopAfter stop(before + 3);
      CHECK(run_sweep(plan, to(file, true), &stop).stopped);
      CHECK(same(whole, run_sweep(plan, to(file, true))));
    }
    if (fs::exists(file)) {
      CHECK_FALSE(fs::exists(with_ending(file, ".part")));
      CHECK_FALSE(fs::exists(with_ending(file, ".journal")));
      // Resuming a finished sweep reads it back.
      const SweepResult again = run_sweep(plan, to(file, true));
      CHECK(again.finished == 32);
      CHECK(same(whole, again));
      fs::remove(file);
    }
    fs::remove(with_ending(file, ".part"));
    fs::remove(with_ending(file, ".journal"));
  }
}

TEST_CASE("an exception of the observer leaves and keeps what is finished", "[sweep][file]") {
  struct Thrower : SweepObserver {
    bool progress(const SweepProgress& p) override {
      if (p.finished >= 3) throw std::runtime_error("enough");
      return true;
    }
  };
  const TemporaryFolder folder;
  const SweepPlan plan = long_plan({});
  Thrower thrower;
  CHECK_THROWS_WITH(run_sweep(plan, to(folder / "x.h5"), &thrower), "enough");
  const SweepResult resumed = run_sweep(plan, to(folder / "x.h5", true));
  CHECK(resumed.resumed >= 3);
  CHECK(same(whole_result({}), resumed));
}

TEST_CASE("what must not be lost is not lost", "[sweep][file]") {
  const TemporaryFolder folder;
  const fs::path file = folder / "x.h5";
  const SweepPlan plan = long_plan({});
  (void)stop_early(plan, file);

  CHECK_THROWS_WITH(run_sweep(plan, to(file)), ContainsSubstring("an unfinished sweep lies in"));
  CHECK_THROWS_WITH(run_sweep(quick_plan(), to(file, true)), ContainsSubstring("it belongs to another sweep"));
  fs::remove(with_ending(file, ".part"));
  CHECK_THROWS_WITH(run_sweep(quick_plan(), to(file, true)), ContainsSubstring("it belongs to another sweep"));

  SweepOptions again = to(file);
  again.overwrite = true;
  CHECK(run_sweep(plan, again).finished == 32);
  CHECK_THROWS_WITH(run_sweep(plan, to(file)), ContainsSubstring("the file exists"));
  CHECK_THROWS_WITH(run_sweep(quick_plan(), to(file, true)), ContainsSubstring("the file holds another sweep"));
  CHECK_THROWS_AS(run_sweep(plan, to(folder / "none" / "x.h5")), IoError);
}

TEST_CASE("a sweep too large for the disk is refused before it starts", "[sweep][file]") {
  const TemporaryFolder folder;
  Scenario scenario = quick_scenario();
  set_number(scenario, "numerics.slices", 500.0);
  const SweepPlan plan = make_sweep_plan(scenario, Sampling::grid,
                                         {{"delivery.tension.force", {}, InputValue(40.0), InputValue(90.0), 3000},
                                          {"friction.film_on_load", {}, InputValue(0.1), InputValue(0.5), 3000}},
                                         0, 1, {"hoop_tension", "hoop_tension_buildup"});
  CHECK(sweep_file_size(plan) > 1e12);
  CHECK_THROWS_WITH(run_sweep(plan, to(folder / "x.h5")), ContainsSubstring("the disk has"));
  CHECK_FALSE(fs::exists(folder / "x.h5.part"));
}

TEST_CASE("the stated size bounds the file", "[sweep][file]") {
  const TemporaryFolder folder;
  for (const auto& outputs : {std::vector<std::string>{}, with_fields}) {
    const SweepPlan plan = long_plan(outputs);
    SweepOptions options = to(folder / "x.h5");
    options.overwrite = true;
    (void)run_sweep(plan, options);
    CHECK(static_cast<double>(fs::file_size(folder / "x.h5")) < sweep_file_size(plan));
  }
}

TEST_CASE("two sweeps do not write one file", "[sweep][file]") {
  struct Rival : SweepObserver {
    Rival(const SweepPlan& p, fs::path f) : plan(p), file(std::move(f)) {}
    const SweepPlan& plan;
    fs::path file;
    bool tried = false;
    bool progress(const SweepProgress& p) override {
      if (!tried && p.finished < p.total) {
        CHECK_THROWS_WITH(run_sweep(plan, to(file, true)), ContainsSubstring("another sweep is writing"));
        tried = true;
      }
      return true;
    }
  };
  const TemporaryFolder folder;
  const SweepPlan plan = long_plan({});
  Rival rival(plan, folder / "x.h5");
  CHECK(run_sweep(plan, to(folder / "x.h5"), &rival).finished == 32);
  CHECK(rival.tried);
}
