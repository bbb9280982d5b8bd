// SPDX-License-Identifier: BSD-3-Clause
// Times the winding stage of the reference case (16 turns, control "follow"). Prints, asserts nothing.
// Processor time of this process, least of several batches.
#include "tests/support/winding_cases.hpp"

#include <algorithm>
#include <cstdio>
#include <ctime>

using namespace hoopfield;
using namespace hoopfield::testing;

namespace {

template <class F>
double milliseconds(F&& f, int repeats = 100) {
  double least = 1e300;
  for (int batch = 0; batch < 15; ++batch) {
    const std::clock_t begin = std::clock();
    for (int i = 0; i < repeats; ++i) f();
    least = std::min(least, 1e3 * static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC / repeats);
  }
  return least;
}

}  // namespace

int main() {
  WindingInput in = reference_winding();
  volatile double sink = 0.0;
  const WindingResult once = wind(in);
  std::printf("steps %zu (discarded %zu), turns copied %zu\n", once.counters.steps, once.counters.discarded,
              once.counters.copied_turns);
  std::printf("whole stage                     %.3f ms\n", milliseconds([&] { sink = wind(in).force_mean; }));
  in.laid = once.reference;
  std::printf("whole stage, laid film given    %.3f ms\n", milliseconds([&] { sink = wind(in).force_mean; }));
  std::printf("  set-up alone                  %.3f ms\n",
              milliseconds([&] { sink = Winder(in).take_up().mean_span(); }));
  std::printf("  take-up geometry alone        %.3f ms\n", milliseconds([&] { sink = TakeUp(in.plan).mean_span(); }));
  const TakeUp take_up(in.plan);
  const double each = milliseconds(
      [&] {
        for (int i = 0; i < 1000; ++i) sink = take_up.at(0.001 * i, 0).span;
      },
      10);
  std::printf("  geometry of the steps         %.3f ms\n", each * 1e-3 * static_cast<double>(once.counters.steps));
  FilmState film = once.reference;
  const double step = milliseconds(
      [&] {
        for (int i = 0; i < 1000; ++i)
          sink = in.law->step(film, once.reference.stretch * (1.0 + 1e-3 * (i % 2)), 0.05, in.mode, 296.15, 296.15)
                     .nominal;
      },
      10);
  std::printf("  film law of the steps         %.3f ms\n", step * 1e-3 * static_cast<double>(once.counters.steps));
  in.repeat_settled = false;
  std::printf("every turn computed             %.3f ms\n", milliseconds([&] { sink = wind(in).force_mean; }, 20));
  in.repeat_settled = true;
  in.film_on_load = in.film_on_film = 0.1;
  const WindingResult slipping = wind(in);
  std::printf("slipping (mu 0.1, %zu increments) %.3f ms\n", slipping.counters.slips,
              milliseconds([&] { sink = wind(in).force_mean; }, 20));
  in.control.kind = WindingControl::Kind::constant;
  std::printf("control \"constant\"              %.3f ms\n", milliseconds([&] { sink = wind(in).force_mean; }));
  return 0;
}
