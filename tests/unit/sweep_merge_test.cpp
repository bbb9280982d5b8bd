// SPDX-License-Identifier: BSD-3-Clause
// Shards of a sweep: which cases they hold, and that together they are the whole.
#include "sim/io/hdf5/sweep_merge.hpp"
#include "models/error.hpp"
#include "sim/io/hdf5/sweep_file.hpp"
#include "sim/io/hdf5/sweep_journal.hpp"
#include "sim/sweep/shard.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sweep_cases.hpp"

#include <set>

using namespace hoopfield;
using namespace hoopfield::testing;
namespace fs = std::filesystem;

namespace {

const std::vector<std::string> with_fields = {"containment.end.middle", "layer_tension", "closing_along_length"};

SweepOptions to(const fs::path& file) {
  SweepOptions options;
  options.jobs = 1;
  options.file = file;
  options.keep = false;
  return options;
}

fs::path write_shard(const TemporaryFolder& folder, const SweepPlan& plan, std::size_t number, std::size_t count,
                     const std::string& word = "s") {
  const fs::path file = folder / (word + std::to_string(number) + ".h5").c_str();
  static_cast<void>(run_sweep(take_shard(plan, {number, count}), to(file)));
  return file;
}

std::vector<CaseRecord> records_of(const fs::path& file) {
  const SweepFileHead head = read_sweep_head(file);
  SweepFileReader reader(file, head.head.case_count(), head.layout);
  return reader.read(0, head.head.case_count());
}

std::string refusal(const std::vector<fs::path>& shards, const fs::path& file) {
  try {
    static_cast<void>(merge_sweeps(shards, file));
  } catch (const InputError& error) {
    CHECK_FALSE(fs::exists(file));
    return error.what();
  }
  return "not refused";
}

}  // namespace

TEST_CASE("shards hold every case once, evenly", "[sweep][shard]") {
  const SweepPlan plan = quick_plan();
  for (const std::size_t count : {1U, 2U, 5U, 7U, 24U}) {
    std::size_t next = 0;
    for (std::size_t number = 1; number <= count; ++number) {
      const SweepPlan part = take_shard(plan, {number, count});
      CHECK(part.first_case == next);
      CHECK(part.case_count() >= plan.case_count() / count);
      CHECK(part.case_count() <= plan.case_count() / count + 1);
      for (std::size_t i = 0; i < part.case_count(); ++i) {
        CHECK(part.axes[0].numbers[i] == plan.axes[0].numbers[next + i]);
        CHECK(part.axes[2].numbers[i] == plan.axes[2].numbers[next + i]);
      }
      next += part.case_count();
    }
    CHECK(next == plan.case_count());
  }
}

TEST_CASE("every shard has a hash of its own", "[sweep][shard]") {
  const SweepPlan plan = quick_plan();
  std::set<std::string> hashes = {sweep_hash(plan), sweep_hash(take_shard(plan, {1, 1}))};
  for (std::size_t number = 1; number <= 4; ++number) hashes.insert(sweep_hash(take_shard(plan, {number, 4})));
  CHECK(hashes.size() == 6);
}

TEST_CASE("what is no shard is refused", "[sweep][shard]") {
  for (const char* text : {"", "3", "3/", "/16", "0/4", "5/4", "3/16x", "-1/4", "1.5/4", "3 / 16", "1/0"})
    CHECK_THROWS_AS(parse_shard(text), InputError);
  CHECK(parse_shard("3/16").number == 3);
  CHECK(parse_shard("3/16").count == 16);
  CHECK_THROWS_AS(take_shard(quick_plan(), {1, 25}), InputError);
}

TEST_CASE("merged shards are the file of one process", "[sweep][shard][file]") {
  const TemporaryFolder folder;
  const std::vector<std::string> summary;
  for (const auto& outputs : {summary, with_fields}) {
    const SweepPlan plan = quick_plan(outputs);
    const std::string word = outputs.empty() ? "summary" : "fields";
    const fs::path whole = folder / (word + ".h5").c_str(), merged = folder / (word + "_merged.h5").c_str();
    const SweepResult one = run_sweep(plan, to(whole));
    std::vector<fs::path> shards;
    for (const std::size_t number : {3U, 1U, 5U, 2U, 4U}) shards.push_back(write_shard(folder, plan, number, 5, word));
    const SweepResult result = merge_sweeps(shards, merged);
    CHECK(result.status == one.status);
    CHECK(result.failed == one.failed);
    const SweepFileHead a = read_sweep_head(whole), b = read_sweep_head(merged);
    CHECK(a.head.hash == b.head.hash);
    CHECK_FALSE(b.head.shard.has_value());
    CHECK(a.head.inputs.scenario_text == b.head.inputs.scenario_text);
    const std::vector<CaseRecord> x = records_of(whole), y = records_of(merged);
    REQUIRE(x.size() == y.size());
    for (std::size_t i = 0; i < x.size(); ++i) {
      CHECK(x[i].message == y[i].message);
      CHECK(same(x[i].scalars, y[i].scalars));
      CHECK(field_hash(x[i]) == field_hash(y[i]));
    }
  }
}

TEST_CASE("what does not belong together is not merged", "[sweep][shard][file]") {
  const TemporaryFolder folder;
  const SweepPlan plan = quick_plan({"film.mass"});
  const fs::path merged = folder / "merged.h5";
  const fs::path one = write_shard(folder, plan, 1, 3), two = write_shard(folder, plan, 2, 3),
                 three = write_shard(folder, plan, 3, 3);
  CHECK_THAT(refusal({one, three}, merged), ContainsSubstring("shard 2 of 3 is missing"));
  CHECK_THAT(refusal({two}, merged), ContainsSubstring("shards 1, 3 of 3 are missing"));
  CHECK_THAT(refusal({}, merged), ContainsSubstring("no shard"));
  CHECK_THAT(refusal({one, two, three, two}, merged), ContainsSubstring("two files hold the same shard: 2/3"));
  const fs::path half = write_shard(folder, plan, 2, 2, "half");
  CHECK_THAT(refusal({one, half}, merged), ContainsSubstring("divided in two ways"));
  const fs::path other = write_shard(folder, quick_plan({"film.laid_width", "film.mass"}), 2, 3, "other");
  CHECK_THAT(refusal({one, other, three}, merged), ContainsSubstring("the outputs differ"));
  SweepPlan wider = plan;
  set_inputs(wider.scenario, {{"load.width", std::string("0.9 m")}});
  const fs::path scenario = write_shard(folder, wider, 2, 3, "wider");
  CHECK_THAT(refusal({one, scenario, three}, merged), ContainsSubstring("scenarios or films differ"));
  const fs::path whole = folder / "whole.h5";
  static_cast<void>(run_sweep(plan, to(whole)));
  CHECK_THAT(refusal({one, whole}, merged), ContainsSubstring("is a whole sweep"));
  CHECK_THROWS_WITH(merge_sweeps({one, two, three}, one, true), ContainsSubstring("is an input of this call"));
  CHECK(records_of(one).size() == plan.case_count() / 3);
  CHECK_THROWS_AS(merge_sweeps({folder / "none.h5"}, merged), IoError);
  static_cast<void>(merge_sweeps({one, two, three}, merged));
  CHECK_THROWS_AS(merge_sweeps({one, two, three}, merged), IoError);
  CHECK(merge_sweeps({one, two, three}, merged, true).finished == plan.case_count());
}

TEST_CASE("a shard that is not finished is named", "[sweep][shard][file]") {
  struct Stop : SweepObserver {
    bool progress(const SweepProgress& p) override { return p.finished < 1; }
  } stop;
  const TemporaryFolder folder;
  SweepPlan plan =
      make_sweep_plan(slow_scenario(), Sampling::sobol,
                      {{"delivery.tension.force", {}, InputValue(40.0), InputValue(90.0)}}, 64, 1, {"film.mass"});
  const fs::path one = write_shard(folder, plan, 1, 32), late = folder / "late.h5";
  REQUIRE(run_sweep(take_shard(plan, {2, 2}), to(late), &stop).stopped);
  CHECK_THAT(refusal({one, late}, folder / "merged.h5"), ContainsSubstring("late.h5' is not finished"));
  fs::path part = late;
  part += ".part";
  const fs::path first = write_shard(folder, plan, 1, 2, "first");
  CHECK_THAT(refusal({first, part}, folder / "merged.h5"), ContainsSubstring("of its 32 cases are pending"));
}
