// SPDX-License-Identifier: BSD-3-Clause
// Draws, bands and ranking against closed forms.
#include "sim/bands/bands.hpp"
#include "models/error.hpp"
#include "sim/bands/draw_points.hpp"
#include "sim/bands/indices.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/inputs/unknowns.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/size.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

using namespace hoopfield;

namespace {

/// The reference case with few slices, everything exact but `keys`.
Scenario only(const std::set<std::string>& keys) {
  Scenario s = read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
  set_values(s, {{"numerics.slices", "10"}, {"storage.duration", "1 d"}, {"storage.temperature", "23 degC"}});
  for (const Unknown& u : unknown_inputs(s))
    if (keys.count(u.key) == 0) set_value(s, "uncertainty." + u.key, "exact");
  return s;
}

BandOptions with_samples(std::size_t samples) {
  BandOptions options;
  options.samples = samples;
  return options;
}

}  // namespace

TEST_CASE("draw points: one point in each of n intervals of every dimension", "[bands]") {
  constexpr std::size_t n = 128, dimensions = 150;
  const DrawPoints points(n, dimensions, 7);
  for (std::size_t d = 0; d < dimensions; ++d) {
    std::vector<int> hits(n, 0);
    for (std::size_t i = 0; i < n; ++i) {
      const double u = points.at(i, d);
      REQUIRE((u > 0.0 && u < 1.0));
      ++hits[static_cast<std::size_t>(u * n)];
    }
    CHECK(std::all_of(hits.begin(), hits.end(), [](int h) { return h == 1; }));
  }
  // A dimension is the same whatever others there are; another seed scrambles differently.
  CHECK(DrawPoints(n, 3, 7).at(5, 2) == points.at(5, 2));
  CHECK(DrawPoints(n, 3, 8).at(5, 2) != points.at(5, 2));
}

TEST_CASE("draw points: pairs of dimensions are nearly uncorrelated normals", "[bands]") {
  constexpr std::size_t n = 1024;
  const DrawPoints points(n, 40, 3);
  for (std::size_t a = 0; a < 40; a += 3)
    for (std::size_t b = a + 1; b < 40; b += 5) {
      double product = 0.0, square = 0.0;
      for (std::size_t i = 0; i < n; ++i) {
        product += points.normal(i, a) * points.normal(i, b);
        square += points.normal(i, a) * points.normal(i, a);
      }
      CHECK(std::abs(product / n) < 4.0 / std::sqrt(static_cast<double>(n)));
      CHECK(square / n == Approx(1.0).epsilon(0.03));
    }
}

TEST_CASE("bands: limits are ranks p (n + 1)", "[bands]") {
  std::vector<double> values(99);
  std::iota(values.begin(), values.end(), 1.0);
  const auto band = band_of_draws(values);
  REQUIRE(band);
  CHECK(band->low == Approx(5.0));
  CHECK(band->median == Approx(50.0));
  CHECK(band->high == Approx(95.0));
  values.push_back(std::nan(""));
  CHECK(band_of_draws(values)->high == Approx(95.0));
  CHECK_FALSE(band_of_draws({1.0, 2.0}));
}

TEST_CASE("bands: the error of their ends is that of ranks of random draws", "[bands]") {
  // Equally spaced numbers: a rank moved by sqrt(n p q) moves an end by sqrt(p q / n) of the whole, and the band is
  // 0.9.
  std::vector<double> values(999);
  std::iota(values.begin(), values.end(), 1.0);
  const auto error = sampling_error(values);
  REQUIRE(error);
  CHECK(*error == Approx(std::sqrt(0.05 * 0.95 / 999.0) / 0.9).epsilon(1e-9));
  CHECK_FALSE(sampling_error(std::vector<double>(99, 1.0)));
}

TEST_CASE("bands: nothing uncertain gives a band without width", "[bands]") {
  const Scenario s = only({});
  Result r = predict(s);
  add_bands(s, r, with_samples(16));
  REQUIRE(r.band);
  CHECK(r.band->unknowns.empty());
  const auto band = r.band->band("containment.end.middle.hoop_tension");
  REQUIRE(band);
  CHECK(band->low == r.end.stations[1].hoop_tension);
  CHECK(band->high == band->low);
}

TEST_CASE("bands: price, a linear case, has the quantiles of its input", "[bands]") {
  // Cost per load is film mass times price, and the mass does not depend on the price.
  Scenario s = only({});
  set_value(s, "uncertainty.film.price", "25 %");
  Result r = predict(s);
  add_bands(s, r, with_samples(test::sized<std::size_t>(1024, 64)));
  const auto band = r.band->band("cost.per_load");
  REQUIRE(band);
  const double nominal = r.film.mass * *s.film.price, near = test::sized(2e-3, 0.04);
  CHECK(band->median == Approx(nominal).epsilon(near));
  CHECK(band->low == Approx(0.75 * nominal).epsilon(near));
  CHECK(band->high == Approx(1.25 * nominal).epsilon(near));
}

TEST_CASE("bands: fixing one input leaves the draws of the others alone", "[bands]") {
  const Scenario s = only({"film.thickness", "delivery.tension.force_scale"});
  BandOptions held = with_samples(16);
  held.held = {"film.thickness"};
  const BandResult all = draw_bands(s, with_samples(16)), fixed = draw_bands(s, held);
  REQUIRE(all.unknowns.size() == 2);
  REQUIRE(fixed.unknowns.size() == 1);
  for (std::size_t i = 0; i < 16; ++i) CHECK(all.inputs[2 * i + 1] == fixed.inputs[i]);
}

TEST_CASE("bands: draws whose film breaks count as missed, and too many of them leave no band", "[bands]") {
  Scenario s = only({"delivery.tension.force_scale"});
  set_values(s, {{"delivery.tension.force", "150 N"}, {"target.middle", "1 N/m"}, {"target.at", "end"}});
  set_value(s, "uncertainty.delivery.tension.force_scale", "80 %");
  Result r = predict(s);
  add_bands(s, r, with_samples(64));
  REQUIRE(r.band);
  CHECK(r.band->failed_draws() > 0.05 * 64);
  CHECK_FALSE(r.band->message.empty());
  CHECK_FALSE(r.band->band("film.mass"));
  CHECK_FALSE(r.targets.at(0).probability);
  CHECK(std::any_of(r.warnings.begin(), r.warnings.end(),
                    [](const Warning& w) { return w.code == "band-draws-failed"; }));
  REQUIRE_FALSE(r.band->failed.empty());
  CHECK(r.band->failed.front().code == "film-fails");
}

TEST_CASE("bands: the probability of a target is the share of draws above it", "[bands]") {
  Scenario s = only({"delivery.tension.force_scale"});
  set_values(s, {{"target.middle", "1 N/m"}});
  Result r = predict(s);
  // At the median of a monotone number half of the draws are above.
  set_number(s, "target.middle", r.after_storage.stations[1].hoop_tension * (1.0 + 1e-9));
  r = predict(s);
  CHECK_FALSE(r.targets.at(0).met);
  const std::size_t draws = test::sized<std::size_t>(128, 32);
  add_bands(s, r, with_samples(draws));
  CHECK(*r.targets.at(0).probability == Approx(0.5).margin(1.28 / static_cast<double>(draws)));
  CHECK(*r.targets.at(0).probability_error == Approx(std::sqrt(0.25 / static_cast<double>(draws))).epsilon(0.02));
  CHECK_FALSE(r.targets.at(0).met);
  set_value(s, "target.probability", "50 %");
}

TEST_CASE("bands: draws are counts that can be halved", "[bands]") {
  CHECK_NOTHROW(check_band_samples(0));
  CHECK_NOTHROW(check_band_samples(65536));
  for (const std::int64_t n : {1, 8, 100, 131072}) CHECK_THROWS_AS(check_band_samples(n), OutOfRange);
}

TEST_CASE("regression finds the slopes of a plane and their share", "[bands]") {
  const DrawPoints points(64, 3, 1);
  std::vector<std::vector<double>> rows;
  std::vector<double> values;
  for (std::size_t i = 0; i < 64; ++i) {
    rows.push_back({points.normal(i, 0), points.normal(i, 1)});
    values.push_back(5.0 + 3.0 * rows.back()[0] - 4.0 * rows.back()[1]);
  }
  const Regression r = regress(rows, values);
  REQUIRE(r.slopes.size() == 2);
  CHECK(r.slopes[0] == Approx(3.0));
  CHECK(r.slopes[1] == Approx(-4.0));
  CHECK(r.adjusted_r_squared == Approx(1.0));
  CHECK(regress({{1.0}, {2.0}}, {1.0, 2.0}).slopes.empty());  // fewer rows than it takes
}

TEST_CASE("unknowns are ranked in the quantity of the target nearest to being missed", "[bands]") {
  Scenario s = only({"delivery.tension.force_scale", "stations.tent_factor", "film.thickness"});
  set_values(
      s, {{"target.quantity", "pull_force"}, {"target.at", "end"}, {"target.top", "1 N"}, {"target.middle", "90 N"}});
  Result r = predict(s);
  add_bands(s, r, with_samples(32));
  rank_unknowns(s, r, with_samples(32), 1);
  REQUIRE(r.assumed.size() == 3);
  CHECK(r.assumed.front().key == "stations.tent_factor");  // acts on pull force only
  for (const UnknownInput& u : r.assumed) {
    CHECK(u.quantity == "pull_force");
    CHECK(u.station == "middle");
    CHECK(u.at == "end");
  }
  const auto band = r.band->band("containment.end.middle.pull_force");
  REQUIRE(band);
  REQUIRE(r.assumed.front().known_low);
  CHECK(*r.assumed.front().known_high - *r.assumed.front().known_low < 0.8 * (band->high - band->low));
  CHECK_FALSE(r.assumed.back().known_low);
  REQUIRE(r.assumed.front().share);
  CHECK(*r.assumed.front().share > 0.5);
}

TEST_CASE("indices: an additive model has the shares of its variance", "[bands]") {
  const DrawPoints points(1024, 4, 5);
  std::vector<double> a, b, ab;
  for (std::size_t i = 0; i < 1024; ++i) {
    const double x = points.normal(i, 0), y = points.normal(i, 1), u = points.normal(i, 2), v = points.normal(i, 3);
    a.push_back(2.0 * x + y);
    b.push_back(2.0 * u + v);
    ab.push_back(2.0 * u + y);
  }
  const SobolIndex index = sobol_index(a, b, ab);
  CHECK(index.first == Approx(0.8).margin(0.03));
  CHECK(index.total == Approx(0.8).margin(0.03));
  CHECK(index.total_error > 0.0);
  CHECK_THROWS_AS(sobol_index({1.0}, {1.0}, {1.0}), InputError);
}
