// SPDX-License-Identifier: BSD-3-Clause
#include "tests/support/catch.hpp"
#include "tests/support/winding_cases.hpp"

#include <cmath>

using namespace hoopfield;
using namespace hoopfield::testing;

namespace {

double greatest_difference(const WindingResult& a, const WindingResult& b) {
  double greatest = 0.0;
  for (std::size_t i = 0; i < a.faces.size(); ++i)
    greatest = std::max(greatest, std::abs(a.faces[i].force - b.faces[i].force) / a.force_set);
  return greatest;
}

}  // namespace

TEST_CASE("winding: the error of face forces falls with the tolerance and stays below it", "[winding]") {
  WindingInput in = reference_winding();
  in.turns = 3.0;
  in.repeat_settled = false;
  in.tolerance = 1e-7;
  const WindingResult reference = wind(in);
  double last = 1.0;
  for (const double tolerance : {1e-2, 1e-3, 1e-4, 1e-5}) {
    in.tolerance = tolerance;
    const double error = greatest_difference(wind(in), reference);
    CHECK(error < 1.5 * tolerance);  // the tolerance is kept leg by leg
    CHECK(error < 0.9 * last);
    last = error;
  }
}

TEST_CASE("winding: one leg of the span is second order in the step with the full film law", "[winding]") {
  WindingInput in = reference_winding();
  in.ramp_turns = 0.0;
  in.tolerance = 1e-5;
  const Winder winder(in);
  WindingState s = winder.start();
  for (int i = 0; i < 9; ++i) winder.advance(s);
  const FaceEvent& event = winder.take_up().events()[s.events % 4];
  const double angle = event.angle + 2.0 * std::numbers::pi * static_cast<double>(s.events / 4);
  const double end = winder.span().rotation().time_at(angle);
  const SpanInterval leg{corner_before_face(event.face), s.time, end};
  const auto force = [&](std::size_t n) {
    return winder.span().advance(s.span, leg, n, [](SpanState&, const SpanPoint&) {}).force;
  };
  const double exact = (4.0 * force(4096) - force(2048)) / 3.0;
  for (const std::size_t n : {8U, 16U, 32U, 64U}) {
    const double order = std::log2(std::abs(force(n) - exact) / std::abs(force(2 * n) - exact));
    CHECK(order == Approx(2.0).margin(0.25));
    // Extrapolated pairs are far better than the finer of the two.
    const double better = (4.0 * force(2 * n) - force(n)) / 3.0;
    CHECK(std::abs(better - exact) < 0.2 * std::abs(force(2 * n) - exact));
  }
}

TEST_CASE("winding: slip converges with the tolerance", "[winding]") {
  WindingInput in = reference_winding();
  in.turns = 2.0;
  in.film_on_load = 0.06;
  in.tolerance = 1e-5;
  const WindingResult reference = wind(in);
  CHECK(reference.counters.slips > 0);
  for (const double tolerance : {1e-2, 1e-3}) {
    in.tolerance = tolerance;
    CHECK(greatest_difference(wind(in), reference) < 2.0 * tolerance);
  }
}
