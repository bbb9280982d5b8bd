// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/answer_text.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/synthetic_result.hpp"

using namespace hoopfield;
using namespace hoopfield::words;
using hoopfield::testing::synthetic_result;
using hoopfield::testing::synthetic_scenario;

namespace {

TargetResult target(double predicted, bool met, std::optional<double> probability) {
  TargetResult t;
  t.station = "middle";
  t.quantity = "hoop_tension";
  t.at = "after_storage";
  t.wanted = 500.0;
  t.predicted = predicted;
  t.met = met;
  t.probability = probability;
  return t;
}

}  // namespace

TEST_CASE("a target is held, missed, or neither, by the share of draws that reach it", "[words]") {
  CHECK(holding(target(600, true, 0.95), 0.9) == Holding::holds);
  CHECK(holding(target(600, false, 0.5), 0.9) == Holding::open);
  CHECK(holding(target(600, false, 0.05), 0.9) == Holding::misses);
  // Without draws the predicted value decides, and nothing stays open.
  CHECK(holding(target(600, true, std::nullopt), 0.9) == Holding::holds);
  CHECK(holding(target(400, false, std::nullopt), 0.9) == Holding::misses);
}

TEST_CASE("the first sentence says what is held in the quantity of the target", "[words]") {
  Scenario scenario = synthetic_scenario();
  Result result = synthetic_result();
  result.targets.clear();
  CHECK(target_verdict(scenario, result, UnitStyle::metric).empty());
  CHECK(first_sentence(scenario, result, UnitStyle::metric) == stations_sentence(scenario, result, UnitStyle::metric));

  scenario.target.emplace();
  scenario.target->probability = 0.9;
  result.targets = {target(450, false, std::nullopt)};
  CHECK(first_sentence(scenario, result, UnitStyle::metric) ==
        "The wrap misses its target: hoop tension, middle, after storage, 450 N/m against 500 N/m wanted.");
  result.targets = {target(550, true, 0.96)};
  CHECK(first_sentence(scenario, result, UnitStyle::metric) ==
        "The wrap holds: hoop tension, middle, after storage, 550 N/m against 500 N/m wanted, reached in 96 % of "
        "cases where 90 % are asked for.");
  result.targets = {target(550, false, 0.7)};
  UnknownInput unknown;
  unknown.key = "delivery.tension.force_scale";
  unknown.effect = 0.27;
  result.assumed = {unknown};
  CHECK(first_sentence(scenario, result, UnitStyle::metric) ==
        "It cannot be told whether the wrap holds: hoop tension, middle, after storage, 550 N/m against 500 N/m "
        "wanted, reached in 70 % of cases where 90 % are asked for; the band is so wide first of all because of the "
        "true film force against the set one.");
  CHECK(largest_unknown(result) ==
        "The largest unknown is the true film force against the set one: over its range it alone moves the judged "
        "number by 27 %. Measure "
        "it first.");
  result.assumed.front().failed = true;  // it moves the result out of what can be computed, which is not a number
  CHECK(largest_unknown(result).empty());
}

TEST_CASE("keys in a text become words", "[words]") {
  CHECK(without_keys("give stations.tent_factor before you rely on it.") ==
        "give \u201cextra pull of an uncut sheet (tent factor)\u201d before you rely on it.");
  CHECK(without_keys("set load.settling.") == "set \u201csettling\u201d.");
  // What only looks like a key stays: names of files, decimal numbers, ends of sentences.
  CHECK(without_keys("present.toml says 1.5 kg, e.g. here.there") == "present.toml says 1.5 kg, e.g. here.there");
  CHECK(without_keys("") == "");
  CHECK(input_words("load.settling") == "settling");
  CHECK(input_words("wrapping.temperature") == "temperature while wrapping");
}
