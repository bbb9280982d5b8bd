// SPDX-License-Identifier: BSD-3-Clause
// Two sides draw by draw: closed forms of a paired difference, verdicts, loads that tell, savings.
#include "sim/compare/paired.hpp"
#include "models/error.hpp"
#include "sim/bands/bands.hpp"
#include "sim/bands/draw_points.hpp"
#include "sim/compare/compare.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/inputs/unknowns.hpp"
#include "sim/io/text/compare_reader.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"

#include <boost/math/distributions/students_t.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

using namespace hoopfield;

namespace {

const std::string pair = std::string(HOOPFIELD_SOURCE_DIR) + "/examples/08_thin_against_thick/";
const char* const least = "containment.after_storage.least_station.hoop_tension";

Scenario quick(const std::string& file) {
  Scenario s = read_scenario(pair + file);
  set_values(s, {{"numerics.slices", "8"}, {"storage.duration", "1 d"}, {"storage.temperature", "23 degC"}});
  return s;
}

Scenario with(Scenario s, const std::string& key, const std::string& text) {
  set_value(s, key, text);
  return s;
}

CompareOptions drawn(std::int64_t samples) {
  CompareOptions options;
  options.sensitivity = options.factors = options.film_numbers = false;
  options.band_samples = samples;
  return options;
}

Comparison against(const Scenario& present, const Scenario& candidate, std::int64_t samples) {
  return compare({{"present", "", present}, {"candidate", "", candidate}}, drawn(samples));
}

double width(const Band& band) { return band.high - band.low; }

}  // namespace

TEST_CASE("paired band: more, less and neither by the share of draws", "[paired]") {
  std::vector<double> then(20, 2.0), now(20, 3.0);
  now[0] = 1.0, now[1] = 2.0;
  const auto found = paired_band(then, now, 0.9);
  REQUIRE(found);
  CHECK(found->probability_more == Approx(0.9));
  CHECK(found->probability_less == Approx(0.05));
  CHECK(found->verdict == Verdict::more);
  CHECK(found->ratio->median == Approx(1.5));
  CHECK(found->difference.median == Approx(1.0));
  CHECK(paired_band(then, now, 0.91)->verdict == Verdict::not_distinguishable);
  CHECK(paired_band(now, then, 0.9)->verdict == Verdict::less);
  CHECK(std::string(verdict_word(Verdict::not_distinguishable)) == "not_distinguishable");
  // A draw without a number on one side drops from both; a present wrap that is not positive has no ratio.
  now[5] = then[6] = std::numeric_limits<double>::quiet_NaN();
  CHECK(paired_band(then, now, 0.9)->probability_more == Approx(16.0 / 18.0));
  then[7] = 0.0;
  CHECK_FALSE(paired_band(then, now, 0.9)->ratio);
  then.resize(17), now.resize(17);  // 15 pairs
  CHECK_FALSE(paired_band(then, now, 0.9));
}

TEST_CASE("paired band: what both sides share drops out of their difference", "[paired]") {
  // x = s z + e z1 and y = 5 + s z + e z2: the difference is normal with e sqrt(2), without pairing with more.
  constexpr std::size_t n = 1024;
  constexpr double shared = 3.0, own = 0.5, z95 = 1.6448536269514722;
  const DrawPoints points(n, 4, 11);
  std::vector<double> x, y, other;
  for (std::size_t i = 0; i < n; ++i) {
    x.push_back(shared * points.normal(i, 0) + own * points.normal(i, 1));
    y.push_back(5.0 + shared * points.normal(i, 0) + own * points.normal(i, 2));
    other.push_back(5.0 + shared * points.normal(i, 3) + own * points.normal(i, 2));
  }
  const Band paired = paired_band(x, y, 0.9)->difference, apart = paired_band(x, other, 0.9)->difference;
  CHECK(paired.median == Approx(5.0).margin(0.05));
  CHECK(width(paired) == Approx(2.0 * z95 * std::sqrt(2.0) * own).epsilon(0.04));
  CHECK(width(apart) == Approx(2.0 * z95 * std::sqrt(2.0 * (shared * shared + own * own))).epsilon(0.04));
}

TEST_CASE("loads to tell: the number at which a trial decides both ways", "[paired]") {
  CHECK(*loads_to_tell(1.5, 0.9) == 1.0);
  CHECK(*loads_to_tell(1.0 / 1.05, 0.9) == *loads_to_tell(1.05, 0.9));
  CHECK_FALSE(loads_to_tell(1.0, 0.9));
  CHECK_FALSE(loads_to_tell(1.0 + 1e-4, 0.9));
  // Trials drawn by another route: with n loads of each, a difference of 6 % is seen beyond its own error in nine of
  // ten trials, and none is seen in nine of ten trials where there is none.
  constexpr double ratio = 1.06, z = 1.2815515655446004;
  const double n = *loads_to_tell(ratio, 0.9);
  const double formula = 2.0 * 4.0 * z * z * (load_scatter * load_scatter + reading_scatter * reading_scatter) /
                         (std::log(ratio) * std::log(ratio));
  CHECK(n == std::ceil(formula));
  std::mt19937_64 engine(5);
  std::normal_distribution<double> normal;
  const auto mean_log = [&](double truth) {
    double sum = 0.0;
    for (int i = 0; i < static_cast<int>(n); ++i)
      sum += truth + load_scatter * normal(engine) + reading_scatter * normal(engine);
    return sum / n;
  };
  const double threshold = z * std::sqrt(2.0 * (load_scatter * load_scatter + reading_scatter * reading_scatter) / n);
  int seen = 0, false_alarms = 0;
  constexpr int trials = 4000;
  for (int t = 0; t < trials; ++t) {
    seen += mean_log(std::log(ratio)) - mean_log(0.0) > threshold ? 1 : 0;
    false_alarms += mean_log(0.0) - mean_log(0.0) > threshold ? 1 : 0;
  }
  CHECK(static_cast<double>(seen) / trials == Approx(0.9).margin(0.02));
  CHECK(static_cast<double>(false_alarms) / trials == Approx(0.1).margin(0.02));
}

TEST_CASE("compare: a side against itself has a difference without width", "[paired]") {
  const Comparison c = against(quick("present.toml"), quick("present.toml"), 16);
  const PairedBand* found = paired_band(c.sides[1], least);
  REQUIRE(found != nullptr);
  CHECK(found->difference.low == 0.0);
  CHECK(found->difference.high == 0.0);
  CHECK(found->probability_more == 0.0);
  CHECK(found->verdict == Verdict::not_distinguishable);
  CHECK_FALSE(found->loads_to_tell);
  for (const Saving& saving : c.sides[1].savings) {
    CHECK(saving.value == 0.0);
    if (saving.name != "co2e") CHECK(width(*saving.band) == 0.0);
  }
  CHECK(c.sides[0].paired.empty());
}

TEST_CASE("compare: shared draws tell apart what bands side by side do not", "[paired]") {
  const Scenario present = quick("present.toml");
  const Comparison c = against(present, with(present, "delivery.tension.force", "74 N"), 64);
  const Band then = *band_of_draws(compare_draws(c.sides[0], least)),
             now = *band_of_draws(compare_draws(c.sides[1], least));
  CHECK(now.low < then.high);  // side by side nothing could be said
  const PairedBand* found = paired_band(c.sides[1], least);
  REQUIRE(found != nullptr);
  CHECK(found->verdict == Verdict::more);
  CHECK(found->ratio->low > 1.0);
  CHECK(width(found->difference) < 0.2 * std::hypot(width(then), width(now)));
  // The draws of a side are those of its prediction alone, byte for byte.
  BandOptions alone = band_options(present);
  alone.samples = 64;
  const std::vector<double> by_itself = draw_bands(present, alone).numbers;
  const std::vector<double>& beside = c.sides[0].result->band->numbers;
  CHECK(std::equal(by_itself.begin(), by_itself.end(), beside.begin(), beside.end(), [](double a, double b) {
    return a == b || (std::isnan(a) && std::isnan(b));  // a margin without a requirement is no number
  }));
}

TEST_CASE("compare: one film is drawn once, another film by itself", "[paired]") {
  Scenario present = quick("present.toml");
  FilmCovariance& covariance = present.film_description.covariance.emplace();
  covariance = {{"network.modulus", "branch[1].flow_stress"}, {0.15, 0.1}, {1.0, 0.0, 0.0, 1.0}};
  for (const Unknown& u : unknown_inputs(present)) set_value(present, "uncertainty." + u.key, "exact");
  Scenario same = with(present, "delivery.tension.force", "71 N"), other = same;
  other.film_text += "\n# another text is another film\n";
  const auto wide = [](const Comparison& c) { return width(paired_band(c.sides[1], least)->difference); };
  CHECK(wide(against(present, same, 64)) < 0.3 * wide(against(present, other, 64)));
}

TEST_CASE("compare: readings are drawn with their standard error and Student's t", "[paired]") {
  const CompareSide present{"present", "", quick("present.toml")}, read = read_side(pair + "measured.toml");
  const Comparison c = compare({present, read}, drawn(1024));
  const MeasuredValue& value = *c.sides[1].readings->pull_force[1][1];
  REQUIRE(value.loads == 3);
  const double t95 = boost::math::quantile(boost::math::students_t(2.0), 0.95);
  const Band band = *band_of_draws(compare_draws(c.sides[1], "containment.after_storage.middle.pull_force"));
  CHECK(band.median == Approx(value.mean).epsilon(1e-3));
  CHECK(std::log(band.high / value.mean) == Approx(t95 * *value.standard_error / value.mean).epsilon(0.03));
  CHECK(std::log(band.low / value.mean) == Approx(-t95 * *value.standard_error / value.mean).epsilon(0.03));
  CHECK(paired_band(c.sides[1], "containment.after_storage.least_station.pull_force") != nullptr);
  CHECK(paired_band(c.sides[1], least) == nullptr);  // nobody reads a hoop tension
  CHECK(paired_band(c.sides[1], "cost.year.rolls") != nullptr);
  CHECK_FALSE(c.sides[1].savings.empty());
}

TEST_CASE("compare: savings of a year are the differences of its amounts", "[paired]") {
  const Comparison c = against(quick("present.toml"), quick("candidate.toml"), 32);
  REQUIRE(c.sides[1].savings.size() == 4);
  for (const Saving& saving : c.sides[1].savings) {
    CAPTURE(saving.name);
    REQUIRE(saving.band);
    CHECK(saving.band->low < saving.value);
    CHECK(saving.value < saving.band->high);
  }
  const auto year = [&](std::size_t i) { return *c.sides[i].economics->year; };
  CHECK(c.sides[1].savings[0].value == Approx(*year(0).rolls - *year(1).rolls));
  CHECK(c.sides[1].savings[1].value == Approx(year(0).film_mass - year(1).film_mass));
  CHECK(c.sides[1].savings[2].value == Approx(*year(0).cost - *year(1).cost));
  const double low = year(0).co2e_low - year(1).co2e_low, high = year(0).co2e_high - year(1).co2e_high;
  CHECK(c.sides[1].savings[3].value == Approx(0.5 * (low + high)));
  // Draw by draw: the band of the film saved is that of the difference of the draws.
  std::vector<double> saved = compare_draws(c.sides[0], "cost.year.film_mass");
  const std::vector<double> now = compare_draws(c.sides[1], "cost.year.film_mass");
  for (std::size_t i = 0; i < saved.size(); ++i) saved[i] -= now[i];
  CHECK(c.sides[1].savings[1].band->low == Approx(band_of_draws(saved)->low));
  // Another number of loads is another year.
  const Comparison more =
      against(quick("present.toml"), with(quick("candidate.toml"), "cost.loads_per_year", "1000"), 16);
  CHECK(more.sides[1].savings.empty());
}

TEST_CASE("compare: containment is judged in quantity and moment of the target", "[paired]") {
  Scenario present = quick("present.toml");
  set_values(present, {{"target.quantity", "pull_force"}, {"target.top", "100 N"}, {"target.at", "end"}});
  CHECK(against(present, quick("candidate.toml"), 0).containment_measure == "containment.end.least_station.pull_force");
  CHECK(against(quick("present.toml"), quick("candidate.toml"), 0).containment_measure == least);
}

TEST_CASE("compare: too many draws without a result on one side leave no band", "[paired]") {
  // At this force the film of the candidate runs away in more than one draw of twenty.
  const Scenario present = quick("present.toml");
  const Comparison c = against(present, with(present, "delivery.tension.force", "170 N"), 32);
  const ComparedSide& side = c.sides[1];
  REQUIRE_FALSE(side.failed);
  CHECK(side.result->band->failed_draws() > 0.05 * 32.0);
  CHECK(side.paired.empty());
  CHECK_THAT(side.paired_message, ContainsSubstring("no band"));
  for (const Saving& saving : side.savings) CHECK_FALSE(saving.band);
}

TEST_CASE("compare: wrong numbers of draws and shares are refused", "[paired]") {
  CompareOptions options = drawn(100);
  const auto run = [&] { return compare({{"", "", quick("present.toml")}, {"", "", quick("present.toml")}}, options); };
  CHECK_THROWS_WITH(run(), ContainsSubstring("power of two"));
  options.band_samples = 0;
  for (const double share : {0.5, 1.0, std::numeric_limits<double>::quiet_NaN()}) {
    options.words_at = share;
    CHECK_THROWS_AS(run(), OutOfRange);
  }
}

TEST_CASE("compare: a film that is hardly known is cautioned on its side", "[paired]") {
  const auto says = [](const ComparedSide& side, const std::string& code) {
    return std::any_of(side.warnings.begin(), side.warnings.end(), [&](const Warning& w) { return w.code == code; });
  };
  const Scenario present = quick("present.toml");
  Scenario sheet = present;
  sheet.film_description.provenance.source += std::string(data_sheet_mark);
  const Comparison c = against(present, sheet, 16);
  CHECK(says(c.sides[1], "film-from-data-sheet"));
  CHECK_FALSE(says(c.sides[0], "film-from-data-sheet"));
  CHECK(says(c.sides[0], "film-taken-exact"));
  Scenario fitted = present;
  fitted.film_description.covariance = FilmCovariance{{"network.modulus"}, {0.1}, {1.0}};
  CHECK_FALSE(says(against(fitted, present, 16).sides[0], "film-taken-exact"));
  CHECK_FALSE(says(against(present, present, 0).sides[0], "film-taken-exact"));  // no bands, nothing to be narrow
}

TEST_CASE("compare: a side dominates only where the draws agree", "[paired]") {
  const Scenario present = quick("present.toml");
  const auto compared = [&](const Scenario& candidate, std::int64_t samples, double words_at) {
    CompareOptions options = drawn(samples);
    options.words_at = words_at;
    return compare({{"present", "", present}, {"candidate", "", candidate}}, options);
  };
  // More force on the same film and pattern: more containment and, drawn on further, no more film.
  const Scenario stronger = with(present, "delivery.tension.force", "74 N");
  REQUIRE(compared(stronger, 0, 0.9).sides[0].dominated_by == std::vector<std::size_t>{1});
  const Comparison sure = compared(stronger, 32, 0.9);
  CHECK(sure.sides[0].dominated_by == std::vector<std::size_t>{1});
  // The share counted by another route.
  const Scenario candidate = with(quick("candidate.toml"), "delivery.tension.force", "60 N");
  const Comparison plain = compared(candidate, 0, 0.9);
  REQUIRE(plain.sides[0].dominated_by == std::vector<std::size_t>{1});
  const Comparison c = compared(candidate, 64, 0.9);
  const auto held = [&](std::size_t i) { return compare_draws(c.sides[i], c.containment_measure); };
  const auto cost = [&](std::size_t i) { return compare_draws(c.sides[i], c.cost_measure); };
  double better = 0.0;
  for (std::size_t i = 0; i < 64; ++i)
    better += held(1)[i] >= held(0)[i] && cost(1)[i] <= cost(0)[i] ? 1.0 / 64.0 : 0.0;
  REQUIRE(better > 0.52);
  REQUIRE(better < 0.98);
  CHECK(compared(candidate, 64, better - 0.01).sides[0].dominated_by == std::vector<std::size_t>{1});
  CHECK(compared(candidate, 64, better + 0.01).sides[0].dominated_by.empty());
}
