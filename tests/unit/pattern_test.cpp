// SPDX-License-Identifier: BSD-3-Clause
#include "models/pattern/pattern.hpp"
#include "models/error.hpp"
#include "tests/support/catch.hpp"

#include <cmath>
#include <random>

using namespace hoopfield;

namespace {

PatternPlan plan_of(double height, double width, double pitch) {
  PatternPlan plan;
  plan.load_height = height;
  plan.laid_width = width;
  plan.pitch_up = plan.pitch_down = pitch;
  return plan;
}

const std::vector<double> event_turns = {0.1845, 0.4459, 0.6845, 0.9459};
const std::vector<std::size_t> event_faces = {0, 3, 2, 1};

}  // namespace

TEST_CASE("pattern: edge heights over the turns", "[pattern]") {
  PatternPlan plan = plan_of(1.5, 0.4, 0.2);
  plan.top_overhang = 0.05;
  const Pattern pattern(plan);
  CHECK(pattern.climb() == Approx(1.15));
  CHECK(pattern.lower_edge(1.9) == 0.0);
  CHECK(pattern.lower_edge(3.0) == Approx(0.2));
  CHECK(pattern.lower_edge(2 + 5.75) == Approx(1.15));
  CHECK(pattern.lower_edge(9.0) == Approx(1.15));  // top turns
  CHECK(pattern.lower_edge(2 + 5.75 + 2 + 1) == Approx(0.95));
  CHECK(pattern.turns() == 16.0);  // 2 + 5.75 + 2 + 5.75, completed
  CHECK(pattern.lower_edge(15.9) == 0.0);
}

TEST_CASE("pattern: turns that are denser over a third of the height", "[pattern]") {
  PatternPlan plan = plan_of(1.5, 0.4, 0.2);
  plan.top_overhang = 0.05;
  const auto film = [&] {
    const Pattern pattern(plan);
    std::vector<double> layers(15, 0.0);  // of the front face, per 0.1 m
    for (const Patch& patch : lay_patches(pattern, event_turns, event_faces))
      for (std::size_t i = 0; i < layers.size(); ++i) {
        const double low = 0.1 * static_cast<double>(i);
        if (patch.face == 0) layers[i] += covered_fraction(patch, low, low + 0.1);
      }
    return layers;
  };
  const std::vector<double> usual = film();
  const double turns = Pattern(plan).turns();
  plan.denser = {1.5, 1.0 / 3.0, 2.0 / 3.0};  // the middle of the film between 0.5 and 1.0 m, its edge 0.3 and 0.8 m
  const Pattern pattern(plan);
  CHECK(pattern.lower_edge(2 + 1.5) == Approx(0.3));  // as before up to there
  CHECK(pattern.lower_edge(2 + 1.5 + 3.75) == Approx(0.8));
  CHECK(pattern.lower_edge(2 + 1.5 + 3.75 + 1.75) == Approx(1.15));
  CHECK(pattern.turns() == 18.0);  // 2 + 7 + 2 + 7, which was 15.5
  const std::vector<double> middle = film();
  CHECK(middle[7] == Approx(1.5 * usual[7]).epsilon(0.1));  // 0.7 to 0.8 m
  CHECK(middle[1] == Approx(usual[1]).margin(1.0));         // the last turn is completed at the bottom
  CHECK(middle[14] == Approx(usual[14]).margin(0.5));
  plan.denser = {1.5, 0.0, 1.0};
  CHECK(Pattern(plan).turns() == std::ceil(1.5 * 15.5));
  CHECK(Pattern(plan).lower_edge(3.0) == 0.0);  // bottom turns are more, too
  plan.turns = 20.0;                            // counted: what is denser comes on top
  CHECK(Pattern(plan).turns() == 20.0 + std::ceil(1.5 * 15.5) - turns);
  plan.start_phase = 0.6;  // the climb starts later in both
  CHECK(Pattern(plan).turns() == 20.0 + std::ceil(1.5 * 15.5 + 0.6) - std::ceil(15.5 + 0.6));
  plan.start_phase = 0.0;
  plan.denser = {1.5, 0.0, 1.0 / 3.0};
  CHECK(Pattern(plan).lower_edge(3.0) == 0.0);
  CHECK(Pattern(plan).lower_edge(3.0 + 1.5) == Approx(0.2));
}

TEST_CASE("pattern: all turns at one height", "[pattern]") {
  PatternPlan plan = plan_of(0.2, 0.3, 0.0);
  plan.bottom_turns = 6;
  plan.top_turns = 0;
  const Pattern pattern(plan);
  CHECK(pattern.turns() == 6.0);
  const auto patches = lay_patches(pattern, event_turns, event_faces);
  CHECK(patches.size() == 24);
  for (const Patch& p : patches) CHECK(covered_fraction(p, 0.0, 0.2) == Approx(1.0).epsilon(1e-14));
  plan.bottom_turns = 0;
  CHECK_THROWS_AS(Pattern(plan), InputError);
}

TEST_CASE("pattern: covered fraction against a fine sum, and width conserved over all slices", "[pattern]") {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  for (int i = 0; i < 50; ++i) {
    Patch patch;
    patch.edge_begin = uniform(random) - 0.2;
    patch.edge_end = patch.edge_begin + 0.3 * (uniform(random) - 0.5);
    patch.width = 0.4 * uniform(random) + 0.01;
    const double low = uniform(random), high = low + 0.05;
    double sum = 0.0;
    const int n = 4000;
    for (int j = 0; j < n; ++j) {
      const double edge = patch.edge_begin + (patch.edge_end - patch.edge_begin) * (j + 0.5) / n;
      sum += std::max(0.0, std::min(edge + patch.width, high) - std::max(edge, low)) / (high - low) / n;
    }
    CHECK(covered_fraction(patch, low, high) == Approx(sum).margin(2e-4));
    double total = 0.0;
    for (int s = -20; s < 60; ++s) total += covered_fraction(patch, 0.05 * s, 0.05 * (s + 1)) * 0.05;
    CHECK(total == Approx(patch.width).epsilon(1e-9));
    double above = 0.0;
    for (int j = 0; j < n; ++j) {
      const double edge = patch.edge_begin + (patch.edge_end - patch.edge_begin) * (j + 0.5) / n;
      above += std::max(0.0, edge + patch.width - 0.5) / n;
    }
    CHECK(mean_width_above(patch, 0.5) == Approx(above).margin(1e-4));
  }
}

TEST_CASE("pattern: film layers in the helix zone: floor or ceil by height, width over pitch in the mean",
          "[pattern]") {
  // width 0.5, pitch 0.2: half the height has two layers, half has three, in one pass
  PatternPlan plan = plan_of(3.0, 0.5, 0.2);
  plan.descent = false;
  const auto patches = lay_patches(Pattern(plan), event_turns, event_faces);
  double mean = 0.0;
  int two = 0, three = 0;
  for (int s = 0; s < 200; ++s) {
    const double low = 1.2 + 0.2 * s / 200, high = low + 0.001;
    double layers = 0.0;
    // along one vertical line: the start corner of the front face
    for (const Patch& p : patches)
      if (p.face == 0) layers += p.edge_begin <= low && low < p.edge_begin + p.width ? 1.0 : 0.0;
    two += layers == 2.0;
    three += layers == 3.0;
    for (const Patch& p : patches) mean += covered_fraction(p, low, high) / 200 / 4;
  }
  CHECK(two + three == 200);
  CHECK(two == Approx(100).margin(2));
  CHECK(mean == Approx(2.5).epsilon(2e-3));
}

TEST_CASE("pattern: bare gaps and roping", "[pattern]") {
  CHECK(bare_gap(plan_of(1.5, 0.4, 0.45)) == Approx(0.05));
  CHECK(bare_gap(plan_of(1.5, 0.4, 0.39)) == 0.0);
  PatternPlan plan = plan_of(1.5, 0.4, 0.2);
  plan.roping_width = 0.05;
  const Pattern pattern(plan);
  CHECK(pattern.film_width(1.0) == 0.05);
  CHECK(pattern.film_width(5.0) == 0.4);
}

TEST_CASE("pattern: turns that were counted end the wrap", "[pattern]") {
  PatternPlan plan = plan_of(1.5, 0.4, 0.2);
  const Pattern natural(plan);
  plan.turns = natural.turns() + 2.0;
  const Pattern longer(plan);
  CHECK(longer.turns() == natural.turns() + 2.0);
  CHECK(longer.lower_edge(longer.turns()) == plan.start_height);  // two more turns where it began
  CHECK(longer.lower_edge(5.5) == natural.lower_edge(5.5));
  plan.turns = natural.turns() - 2.0;
  const Pattern shorter(plan);
  CHECK(shorter.turns() == natural.turns() - 2.0);
  CHECK(shorter.lower_edge(shorter.turns()) > plan.start_height);  // on its way down
}
