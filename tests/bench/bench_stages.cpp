// SPDX-License-Identifier: BSD-3-Clause
// Stages of a prediction, each alone. Run with --benchmark_format=json for a record with compiler and counters.
#include "sim/base/build_info.hpp"
#include "sim/film_path/draw.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/wrap/plan.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/bench/bare_loop.hpp"

#include <benchmark/benchmark.h>

#include <cmath>
#include <string>
#include <vector>

using namespace hoopfield;

namespace {

const std::string root = HOOPFIELD_SOURCE_DIR;

const Scenario& reference() {
  static const Scenario scenario = read_scenario(root + "/examples/01_first_prediction/scenario.toml");
  return scenario;
}

/// One closed-form step of a block of elements, time per element.
void film_step(benchmark::State& state) {
  const auto law = make_film_law(reference().film_description);
  const auto size = static_cast<std::size_t>(state.range(0));
  const WrapPlan plan = plan_wrap(reference());
  FilmBlock begin, end;
  begin.allocate(size, law->branch_count());
  end.allocate(size, law->branch_count());
  begin.size = size;
  BlockStress stress;
  stress.allocate(size, law->branch_count());
  std::vector<double> to(size);
  for (std::size_t i = 0; i < size; ++i) {
    begin.stretch[i] = plan.film_path.laid.stretch;
    for (std::size_t k = 0; k < law->branch_count(); ++k)
      begin.strain[k * begin.stride + i] = plan.film_path.laid.strain[k];
    to[i] = begin.stretch[i] * (1.0 - 1e-4 * static_cast<double>(i % 7));
  }
  for (auto _ : state) {
    law->step_block(begin, end, to.data(), 10.0, plan.film_path.mode, 296.15, 296.15, stress);
    benchmark::DoNotOptimize(stress.nominal.data());
    benchmark::ClobberMemory();
  }
  state.SetItemsProcessed(static_cast<std::int64_t>(state.iterations() * size));
  state.counters["time_per_element"] = benchmark::Counter(static_cast<double>(state.iterations() * size),
                                                          benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}
BENCHMARK(film_step)->Arg(64)->Arg(4096);

/// The slow operations of such a step alone: how far film_step is from the processor's limit. In AVX2, whatever
/// HOOPFIELD_SIMD says.
void film_step_limit(benchmark::State& state) {
  const std::size_t size = 64, branches = reference().film_description.branches.size();
  std::vector<double> values(size * branches, 1.0);
  for (auto _ : state) {
    bare_loop(values.data(), size, branches);
    benchmark::DoNotOptimize(values.data());
    benchmark::ClobberMemory();
  }
  state.counters["time_per_element"] = benchmark::Counter(static_cast<double>(state.iterations() * size),
                                                          benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}
BENCHMARK(film_step_limit);

void draw_in_gap(benchmark::State& state) {
  const Scenario& s = reference();
  const auto law = make_film_law(s.film_description);
  DrawInput in;
  in.law = law.get();
  in.ratio = 1.0 + s.delivery.prestretch;
  in.gap = s.delivery.roller_gap;
  in.roller_speed_1 = 0.26;
  in.width_exponent = s.film_description.neck_in;
  in.volumetric_heat = s.film_description.density * s.film_description.thermal.heat_capacity;
  for (auto _ : state) benchmark::DoNotOptimize(draw(in).nominal_stress);
}
BENCHMARK(draw_in_gap)->Unit(benchmark::kMicrosecond);

/// Film path, winding and pattern: all before film lies on the load.
void plan_of_wrap(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(plan_wrap(reference()).patches.size());
}
BENCHMARK(plan_of_wrap)->Unit(benchmark::kMillisecond);

void count(benchmark::State& state, const SolverCounters& counters, std::size_t elements) {
  state.counters["steps"] = static_cast<double>(counters.steps);
  state.counters["rejected"] = static_cast<double>(counters.rejected);
  state.counters["iterations"] = static_cast<double>(counters.iterations);
  state.counters["branch_updates"] = static_cast<double>(counters.branch_updates);
  state.counters["elements"] = static_cast<double>(elements);
}

/// Build-up alone (storage of no time), then build-up with seven days of storage: storage is the difference.
void build_up_and_storage(benchmark::State& state) {
  Scenario s = reference();
  if (state.range(0) == 0) s.storage.duration = 0.0;
  const WrapPlan plan = plan_wrap(s);
  const BuildUpInput input = build_up_input(s, plan);
  BuildUpResult result;
  for (auto _ : state) {
    result = build_up(input);
    benchmark::DoNotOptimize(result.residual);
  }
  count(state, result.counters, result.elements);
}
BENCHMARK(build_up_and_storage)->ArgName("with_storage")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void predict_reference_case(benchmark::State& state) {
  Scenario s = reference();
  s.numerics.slices = static_cast<int>(state.range(0));
  Result result;
  for (auto _ : state) {
    result = predict(s);
    benchmark::DoNotOptimize(result.force_balance_error);
  }
  count(state, result.counters, 0);
}
BENCHMARK(predict_reference_case)->ArgName("slices")->Arg(30)->Arg(60)->Arg(240)->Unit(benchmark::kMillisecond);

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
  benchmark::AddCustomContext("hoopfield_version", build_version());
  benchmark::AddCustomContext("compiler", build_compiler());
  benchmark::AddCustomContext("simd", build_simd());
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
}
