// SPDX-License-Identifier: BSD-3-Clause
// Laying out and running sweeps: sampling, threads, failures, memory and outputs.
#include "sim/io/hdf5/run_sweep.hpp"

#include "models/error.hpp"
#include "sim/film_path/film_path_cache.hpp"
#include "sim/io/text/json_writer.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/sweep/sampling.hpp"
#include "sim/wrap/plan.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sweep_cases.hpp"
#include "tests/support/synthetic_result.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <set>
#include <thread>

using namespace hoopfield;
using namespace hoopfield::testing;

namespace {

const SweepOutput& output(const SweepResult& result, const std::string& name) {
  const auto found =
      std::find_if(result.outputs.begin(), result.outputs.end(), [&](const SweepOutput& o) { return o.name == name; });
  REQUIRE(found != result.outputs.end());
  return *found;
}

SweepOptions jobs(unsigned count) {
  SweepOptions options;
  options.jobs = count;
  return options;
}

}  // namespace

TEST_CASE("Latin hypercube: one point per stratum in every dimension, and the seed decides", "[sweep]") {
  constexpr std::size_t count = 37, dimensions = 5;
  const std::vector<double> points = latin_hypercube(count, dimensions, 7);
  for (std::size_t d = 0; d < dimensions; ++d) {
    std::set<int> strata;
    for (std::size_t i = 0; i < count; ++i) {
      const double x = points[i * dimensions + d];
      CHECK(x > 0.0);
      CHECK(x <= 1.0);
      strata.insert(static_cast<int>(std::ceil(x * count)));
    }
    CHECK(strata.size() == count);
  }
  CHECK(points == latin_hypercube(count, dimensions, 7));
  CHECK(points != latin_hypercube(count, dimensions, 8));
}

TEST_CASE("Sobol: first points as published", "[sweep]") {
  // Dimension 1 is the van der Corput sequence in Gray-code order; dimension 2 from Joe and Kuo's direction numbers
  // (also SciPy 1.10 qmc.Sobol(2, scramble=False)).
  const std::vector<double> expected = {0,    0,     0.5,   0.5,   0.75,  0.25,  0.25,
                                        0.75, 0.375, 0.375, 0.875, 0.875, 0.625, 0.125};
  CHECK(sobol_points(7, 2) == expected);
}

TEST_CASE("grid: every combination, the last axis fastest, ends exact", "[sweep]") {
  const SweepPlan plan = quick_plan();
  REQUIRE(plan.case_count() == 24);
  CHECK(plan.grid_shape == std::vector<std::size_t>{3, 4, 2});
  CHECK(plan.axes[0].unit == "N");
  for (std::size_t i = 0; i < 24; ++i) {
    CHECK(plan.axes[0].numbers[i] == std::vector<double>{50.0, 70.0, 90.0}[i / 8]);
    CHECK(plan.axes[1].numbers[i] == std::vector<double>{2.0, 2.5, 2.9, 4.9}[i / 2 % 4]);
    CHECK(plan.axes[2].numbers[i] == std::vector<double>{0.15, 0.3}[i % 2]);
  }
  const Scenario last = sweep_scenario(plan, 21);
  CHECK(last.delivery.tension.force == 90.0);
  CHECK(last.pattern.pitch == 0.3);
}

TEST_CASE("samples: ranges stretched, lists and whole numbers shared alike", "[sweep]") {
  const SweepPlan plan =
      make_sweep_plan(quick_scenario(), Sampling::latin_hypercube,
                      {{"load.tiers", {}, InputValue(2.0), InputValue(5.0)},
                       {"delivery.tension.control", {std::string("constant"), std::string("follow")}},
                       {"friction.film_on_load", {std::string("stuck"), 0.3}},
                       {"storage.temperature", {}, InputValue("5 degC"), InputValue("40 degC")}},
                      40, 3);
  for (const double tiers : {2.0, 3.0, 4.0, 5.0})
    CHECK(std::count(plan.axes[0].numbers.begin(), plan.axes[0].numbers.end(), tiers) == 10);
  CHECK(std::count(plan.axes[1].texts.begin(), plan.axes[1].texts.end(), "follow") == 20);
  CHECK(std::count(plan.axes[2].texts.begin(), plan.axes[2].texts.end(), "stuck") == 20);
  CHECK(plan.axes[3].unit == "K");
  const auto [low, high] = std::minmax_element(plan.axes[3].numbers.begin(), plan.axes[3].numbers.end());
  CHECK(*low >= 278.15);
  CHECK(*high <= 313.15);
  CHECK(*high - *low > 33.0);
  CHECK(sweep_scenario(plan, 0).storage.temperature.size() == 1);
}

TEST_CASE("plans refuse what they cannot mean", "[sweep]") {
  const auto plan = [](std::vector<VariedInput> varied, Sampling sampling = Sampling::grid, std::size_t samples = 0) {
    return make_sweep_plan(quick_scenario(), sampling, varied, samples);
  };
  CHECK_THROWS_WITH(
      plan({{"delivery.tension.froce", {1.0}}}),
      "delivery.tension.froce: unknown key; expected a scenario key; did you mean delivery.tension.force?");
  CHECK_THROWS_AS(plan({{"delivery.prestretch", {9.0}}}), OutOfRange);
  CHECK_THROWS_WITH(plan({}), ContainsSubstring("nothing varies"));
  CHECK_THROWS_WITH(plan({{"load.length", {1.0, 1.1}}, {"load.width", {1.0}}}, Sampling::table),
                    "load.width: has 1 values beside 2 of load.length; expected one value per case in every column");
  CHECK_THROWS_WITH(plan({{"load.length", {1.0}}}, Sampling::sobol, 0), ContainsSubstring("has no cases"));
  CHECK_THROWS_WITH(make_sweep_plan(quick_scenario(), Sampling::grid, {{"load.length", {1.0}}}, 0, 1, {"hoop_tensoin"}),
                    ContainsSubstring("did you mean hoop_tension?"));
}

TEST_CASE("a sweep gives what predict gives, whatever the number of threads", "[sweep]") {
  const SweepPlan plan = quick_plan({"summary", "containment.end.top.faces", "hoop_tension_buildup", "layer_tension"});
  const SweepResult one = run_sweep(plan, jobs(1));
  CHECK(one.finished == 24);
  CHECK(one.failed == 6);
  for (const unsigned count : {2U, 5U}) CHECK(same(one, run_sweep(plan, jobs(count))));

  std::size_t compared = 0;
  for (std::size_t i = 0; i < plan.case_count(); i += 5) {
    if (one.status[i] != CaseStatus::done) continue;
    const Result direct = predict(sweep_scenario(plan, i));
    const std::vector<double> numbers = summary_numbers(direct);
    for (const SummaryOutput& s : summary_outputs()) {
      if (s.per_face || s.name == "pattern.pitch") continue;  // the pitch is varied, so it is no output
      CHECK(same(output(one, s.name).values[i], numbers.at(s.place)));
      ++compared;
    }
    const SweepOutput& field = output(one, "hoop_tension_buildup");
    REQUIRE(field.shape.size() == 3);
    CHECK(field.shape[0] >= direct.hoop_tension_buildup.shape[0]);
    const double* values = field.values.data() + i * field.shape[0] * field.shape[1] * field.shape[2];
    for (std::size_t k = 0; k < direct.hoop_tension_buildup.data.size(); ++k)
      CHECK(same(values[k], direct.hoop_tension_buildup.data[k]));
    if (field.shape[0] > direct.hoop_tension_buildup.shape[0])
      CHECK(std::isnan(values[direct.hoop_tension_buildup.data.size()]));
  }
  CHECK(compared >= 200);
}

TEST_CASE("a failed case is a message, its numbers are missing", "[sweep]") {
  const SweepResult result = run_sweep(quick_plan(), jobs(2));
  for (std::size_t i = 0; i < 24; ++i) {
    const bool beyond = i / 2 % 4 == 3;
    CHECK(result.status[i] == (beyond ? CaseStatus::failed : CaseStatus::done));
    CHECK(result.message[i].empty() == !beyond);
    CHECK(std::isnan(output(result, "containment.end.top.hoop_tension").values[i]) == beyond);
  }
}

TEST_CASE("inputs that do not fit together fail case by case", "[sweep]") {
  const SweepPlan plan = make_sweep_plan(quick_scenario(), Sampling::grid, {{"load.length", {1.2, 4.0}}});
  const SweepResult result = run_sweep(plan, jobs(1));
  CHECK(result.status[0] == CaseStatus::done);
  CHECK(result.status[1] == CaseStatus::failed);
  CHECK_THAT(result.message[1], ContainsSubstring("delivery.distance"));
}

TEST_CASE("times and heights that vary are kept per case", "[sweep]") {
  const SweepPlan plan = make_sweep_plan(quick_scenario(), Sampling::grid,
                                         {{"storage.duration", {60.0, 3600.0}}, {"numerics.slices", {3.0, 5.0}}}, 0, 1,
                                         {"closing_along_width"});
  const SweepResult result = run_sweep(plan, jobs(2));
  const SweepOutput& field = output(result, "closing_along_width");
  CHECK(field.dims == std::vector<std::string>{"time_index", "slice"});
  CHECK(field.shape[1] == 5);
  REQUIRE(result.coordinates.size() == 2);
  CHECK(result.coordinates[0].name == "time");
  CHECK(result.coordinates[0].per_case);
  CHECK(result.coordinates[0].values[field.shape[0] * 3 - 1] == 3600.0);  // the end of case 2
  CHECK(std::isnan(result.coordinates[1].values[3]));                     // case 0 has three slices
  CHECK(std::isnan(field.values[3]));
}

TEST_CASE("progress counts up on the calling thread and a refusal stops", "[sweep]") {
  struct Watcher : SweepObserver {
    std::thread::id thread = std::this_thread::get_id();
    std::size_t calls = 0, last = 0;
    bool go_on = true;
    bool progress(const SweepProgress& p) override {
      CHECK(std::this_thread::get_id() == thread);
      CHECK(p.total == 24);
      CHECK(p.finished >= last);
      last = p.finished;
      ++calls;
      return go_on;
    }
  };
  Watcher watcher;
  CHECK_FALSE(run_sweep(quick_plan(), jobs(2), &watcher).stopped);
  CHECK(watcher.last == 24);
  Watcher impatient;
  impatient.go_on = false;
  const SweepPlan slow = make_sweep_plan(slow_scenario(), Sampling::grid,
                                         {{"delivery.tension.force", {}, InputValue("50 N"), InputValue("90 N"), 24}});
  const SweepResult stopped = run_sweep(slow, jobs(1), &impatient);
  CHECK(stopped.stopped);
  CHECK(stopped.finished < 24);
  CHECK(std::count(stopped.status.begin(), stopped.status.end(), CaseStatus::pending) ==
        static_cast<std::ptrdiff_t>(24 - stopped.finished));
}

TEST_CASE("film paths are computed once and stay the same", "[sweep]") {
  const Scenario s = quick_scenario();
  FilmPathCache cache;
  const Result plain = predict(s);
  const Result first = predict(s, nullptr, &cache), second = predict(s, nullptr, &cache);
  CHECK(cache.size() == 1);
  CHECK(cache.hits() == 1);
  const std::vector<double> numbers = summary_numbers(plain);
  for (const Result* other : {&first, &second})
    for (std::size_t i = 0; i < numbers.size(); ++i) CHECK(same(numbers[i], summary_numbers(*other).at(i)));
  Scenario other = s;
  other.film_description.branches.at(0)["modulus"] *= 1.0 + 1e-15 * 4.0;  // the content counts, to the last bit
  (void)predict(other, nullptr, &cache);
  CHECK(cache.size() == 2);
}

TEST_CASE("the cache is bounded, shared and passes errors on", "[sweep]") {
  FilmPathCache cache(3);
  const SweepPlan plan = quick_plan();
  for (std::size_t i = 0; i < 24; i += 2) {
    try {
      (void)plan_wrap(sweep_scenario(plan, i), &cache);
    } catch (const Error&) {
      CHECK_THROWS_AS(plan_wrap(sweep_scenario(plan, i), &cache), Error);
    }
    CHECK(cache.size() <= 3);
  }
  FilmPathCache shared;
  std::vector<std::thread> threads;
  for (int t = 0; t < 4; ++t) threads.emplace_back([&] { (void)plan_wrap(sweep_scenario(plan, 0), &shared); });
  for (std::thread& thread : threads) thread.join();
  CHECK(shared.size() == 1);
  CHECK(shared.hits() == 3);
}

TEST_CASE("summary outputs are the numbers of the JSON object", "[sweep]") {
  const Result result = synthetic_result();
  const auto json = nlohmann::json::parse(summary_json(synthetic_scenario(), result));
  struct Suffix {
    const char *unit, *text;
    double scale, offset;
  };
  const Suffix suffixes[] = {{"N/m", "_N_per_m", 1, 0}, {"N", "_N", 1, 0},         {"m", "_mm", 1e3, 0},
                             {"m", "_m", 1, 0},         {"kg", "_kg", 1, 0},       {"s", "_s", 1, 0},
                             {"K", "_C", 1, -273.15},   {"1", "_percent", 100, 0}, {"1", "", 1, 0}};
  for (const SummaryOutput& output : summary_outputs()) {
    std::string pointer = "/" + output.name;
    std::replace(pointer.begin(), pointer.end(), '.', '/');
    bool found = false;
    for (const Suffix& suffix : suffixes) {
      const nlohmann::json::json_pointer place(pointer + suffix.text);
      if (output.unit != suffix.unit || !json.contains(place)) continue;
      CHECK(json[place].get<double>() ==
            Approx(summary_numbers(result).at(output.place) * suffix.scale + suffix.offset).epsilon(1e-12));
      found = true;
      break;
    }
    INFO(output.name);
    CHECK(found);
  }
}

TEST_CASE("a value out of bounds is refused, or fails its cases, by choice", "[sweep]") {
  const auto plan_of = [](const std::vector<VariedInput>& list) {
    return make_sweep_plan(quick_scenario(), Sampling::grid, list);
  };
  const std::vector<VariedInput> varied = {{"delivery.prestretch", {InputValue("900 %"), 2.5, 9.0}},
                                           {"delivery.tension.force", {InputValue("-5 N"), InputValue("60 N")}}};
  CHECK_THROWS_AS(plan_of(varied), OutOfRange);
  std::vector<VariedInput> kept = varied;
  for (VariedInput& v : kept) v.fails_outside = true;
  const SweepResult result = compute_sweep(plan_of(kept));
  for (std::size_t i = 0; i < 6; ++i) {
    INFO(i);
    CHECK(result.status[i] == (i == 3 ? CaseStatus::done : CaseStatus::failed));
    CHECK(result.message[i].empty() == (i == 3));
  }
  CHECK_THAT(result.message[1], ContainsSubstring("delivery.prestretch"));
  CHECK_THAT(result.message[2], ContainsSubstring("delivery.tension.force"));
  // What is no value at all is refused all the same.
  kept[0].values[0] = InputValue("nine");
  CHECK_THROWS_AS(plan_of(kept), InputError);
  kept[0].values = {9.0};
  kept[0].key = "no.such.key";
  CHECK_THROWS_AS(plan_of(kept), InputError);
}
