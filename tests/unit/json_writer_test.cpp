// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/json_writer.hpp"
#include "sim/base/number_text.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/synthetic_result.hpp"

#include <nlohmann/json.hpp>

#include <limits>

using namespace hoopfield;
using hoopfield::testing::synthetic_result;
using hoopfield::testing::synthetic_scenario;
using Json = nlohmann::ordered_json;

TEST_CASE("the summary holds the agreed keys in the agreed order") {
  const Json json = Json::parse(summary_json(synthetic_scenario(), synthetic_result()));
  std::vector<std::string> keys;
  for (const auto& item : json.items()) keys.push_back(item.key());
  CHECK(keys == std::vector<std::string>{"schema",  "version", "title",    "caution", "containment",
                                         "film",    "span",    "pattern",  "load",    "sensitivity",
                                         "targets", "assumed", "ranking",  "indices", "band",
                                         "cost",    "transit", "warnings", "inputs",  "inputs_hash"});
  const Json& middle = json.at("containment").at("after_storage").at("middle");
  CHECK(middle.at("hoop_tension_N_per_m") == 450.0);
  CHECK(middle.at("faces").size() == 4);
  CHECK(middle.at("film_layers_min") == 4.0);
  CHECK(middle.at("film_layers_max") == 5.0);
  CHECK(json.at("film").at("stretch_on_load_percent").get<double>() == Approx(233.33333333333334));
  CHECK(json.at("film").at("film_temperature_C").get<double>() == Approx(33.85));
  CHECK(json.at("pattern").at("pitch_mm").get<double>() == Approx(190.0));
  CHECK(json.at("cost").at("film_per_load").get<double>() == Approx(1.6 * 0.206));
  CHECK(json.at("inputs").at("film.width").at("line") == 3);
  CHECK(json.at("inputs").at("film.width").at("origin") == "given");
}

TEST_CASE("numbers read back to the same double and texts to the same text") {
  Result result = synthetic_result();
  const double odd = 0.1 + 0.2;
  result.end.stations[0].hoop_tension = odd;
  result.end.stations[1].hoop_tension = std::numeric_limits<double>::denorm_min();
  const Scenario scenario = synthetic_scenario();
  const Json json = Json::parse(summary_json(scenario, result));
  CHECK(json.at("containment").at("end").at("top").at("hoop_tension_N_per_m").get<double>() == odd);
  CHECK(json.at("containment").at("end").at("middle").at("hoop_tension_N_per_m").get<double>() ==
        std::numeric_limits<double>::denorm_min());
  CHECK(json.at("title") == scenario.title);
  CHECK(json.at("warnings").at(0).at("text") == "assumed: \"cased\"");
}

TEST_CASE("a number that is not finite becomes null with a warning that names its place") {
  Result result = synthetic_result();
  result.after_storage.stations[2].pull_force = std::numeric_limits<double>::quiet_NaN();
  result.span.force_max = std::numeric_limits<double>::infinity();
  const std::string text = summary_json(synthetic_scenario(), result);
  const Json json = Json::parse(text);
  CHECK(json.at("containment").at("after_storage").at("bottom").at("pull_force_N").is_null());
  CHECK(json.at("span").at("force_max_N").is_null());
  REQUIRE(json.at("warnings").size() == 3);
  CHECK(json.at("warnings").at(1).at("code") == "not-finite");
  CHECK(json.at("warnings").at(1).at("key") == "containment.after_storage.bottom.pull_force_N");
  CHECK(text.find("nan") == std::string::npos);
}

TEST_CASE("bytes that are no UTF-8 do not break the object") {
  Scenario scenario = synthetic_scenario();
  scenario.title = "bad \xff byte \x01";
  CHECK(Json::parse(summary_json(scenario, synthetic_result())).at("title") == "bad \xEF\xBF\xBD byte \x01");
}

TEST_CASE("run facts stand last and apart") {
  const Scenario scenario = synthetic_scenario();
  const Result result = synthetic_result();
  const std::string plain = summary_json(scenario, result);
  Json with = Json::parse(summary_json(scenario, result, RunInfo{"2000-01-01T00:00:00Z", 0.5, "system", 2}));
  CHECK(with.at("run_info").at("host_threads") == 2);
  with.erase("run_info");
  CHECK(with == Json::parse(plain));
  CHECK(plain == summary_json(scenario, result));
}

TEST_CASE("no price, no cost, and not asked, no sensitivity") {
  Scenario scenario = synthetic_scenario();
  scenario.film.price.reset();
  Result result = synthetic_result();
  result.sensitivity.reset();
  const Json json = Json::parse(summary_json(scenario, result));
  CHECK_FALSE(json.contains("cost"));
  CHECK(json.at("sensitivity").is_null());
}

TEST_CASE("number texts") {
  CHECK(shortest(0.1) == "0.1");
  CHECK(shortest(1e22) == "1e+22");
  CHECK(fixed(-0.04, 1) == "0.0");
  CHECK(fixed(12.345, 2) == "12.35");
  CHECK(fixed(-1.26, 1) == "-1.3");
}
