// SPDX-License-Identifier: BSD-3-Clause
// Distributions of uncertain inputs, and the table [uncertainty].
#include "sim/inputs/unknowns.hpp"
#include "models/error.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/scenario_writer.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <cmath>

using namespace hoopfield;

namespace {

const std::string folder = std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction";

Scenario with(const std::string& uncertainty) {
  std::string text = read_scenario(folder + "/scenario.toml").text;
  if (!uncertainty.empty()) text += "\n[uncertainty]\n" + uncertainty;
  return read_scenario_text(text, "s.toml", folder);
}

const Unknown* find(const std::vector<Unknown>& list, const std::string& key) {
  const auto it = std::find_if(list.begin(), list.end(), [&](const Unknown& u) { return u.key == key; });
  return it == list.end() ? nullptr : &*it;
}

Unknown get(const Scenario& s, const std::string& key) {
  const Unknown* found = nullptr;
  const std::vector<Unknown> list = unknown_inputs(s);
  found = find(list, key);
  INFO(key);
  REQUIRE(found != nullptr);
  return *found;
}

std::string complaint(const std::string& uncertainty) {
  try {
    with(uncertainty);
  } catch (const InputError& error) {
    return error.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("unknowns: median and ends of every distribution are those that are printed", "[bands]") {
  for (const Unknown& u : unknown_inputs(with(""))) {
    INFO(u.key);
    CHECK(value_at(u, 0.0) == Approx(u.value).epsilon(1e-12));
    CHECK(value_at(u, -normal_95) == Approx(u.low).epsilon(1e-12));
    CHECK(value_at(u, normal_95) == Approx(u.high).epsilon(1e-12));
    double before = value_at(u, -6.0);
    for (double z = -5.5; z <= 6.0; z += 0.5) {
      const double now = value_at(u, z);
      CHECK(now >= before);
      CHECK(now >= u.least);
      CHECK(now <= u.most);
      before = now;
    }
  }
}

TEST_CASE("unknowns: the scale follows from the bounds of the key", "[bands]") {
  const Scenario s = with("");
  const Unknown stiffness = get(s, "load.stiffness_along_length");  // above 0: logarithm
  CHECK(value_at(stiffness, 1.0) ==
        Approx(stiffness.value * std::pow(stiffness.high / stiffness.value, 1.0 / normal_95)));
  const Unknown friction = get(s, "friction.film_on_load");  // 0 to 5: logit
  const auto logit = [](double x) { return std::log(x / (5.0 - x)); };
  const double y = logit(friction.value) + 1.0 / normal_95 * (logit(friction.high) - logit(friction.value));
  CHECK(value_at(friction, 1.0) == Approx(5.0 / (1.0 + std::exp(-y))));
  const Unknown slip = get(s, "delivery.prestretch_slip");  // its value stands on the bound
  CHECK(value_at(slip, -2.0) == 0.0);
  CHECK(value_at(slip, 1.0) == Approx(0.1 / normal_95));
}

TEST_CASE("unknowns: given values have their declared error, measured ones the one that is stated", "[bands]") {
  CHECK(get(with(""), "load.stiffness_along_length").low == Approx(160e3));
  CHECK(get(with(""), "load.stiffness_along_length").origin == Origin::given);
  const Scenario s = with(
      "\"load.stiffness_along_length\" = \"5 %\"\n\"film.thickness\" = \"1 um\"\n"
      "\"delivery.prestretch\" = \"5 points\"\n\"load.corner_radius\" = [\"4 mm\", \"8 mm\"]\n"
      "\"wrapping.temperature\" = \"2 degC\"\n\"friction.film_on_load\" = \"exact\"\n");
  CHECK(get(s, "load.stiffness_along_length").high == Approx(210e3));
  CHECK(get(s, "load.stiffness_along_length").origin == Origin::measured);
  CHECK(get(s, "film.thickness").low == Approx(22e-6));
  CHECK(get(s, "delivery.prestretch").high == Approx(2.55));
  CHECK(get(s, "load.corner_radius").low == Approx(4e-3));
  CHECK(get(s, "wrapping.temperature").high == Approx(298.15));
  CHECK(find(unknown_inputs(s), "friction.film_on_load") == nullptr);
  // Written and read again it says the same.
  const Scenario again = read_scenario_text(scenario_text(s), "again.toml", folder);
  CHECK(again.uncertainty == s.uncertainty);
}

TEST_CASE("unknowns: what [uncertainty] cannot mean is refused with its place", "[bands]") {
  CHECK_THAT(complaint("\"film.thicknes\" = \"3 %\"\n"), ContainsSubstring("did you mean film.thickness"));
  CHECK_THAT(complaint("\"delivery.prestretch\" = \"5 %\"\n"),
             ContainsSubstring("points or a share") && ContainsSubstring("5 points"));
  CHECK_THAT(complaint("\"film.thickness\" = [\"26 um\", \"20 um\"]\n"), ContainsSubstring("wrong order"));
  CHECK_THAT(complaint("\"film.thickness\" = [\"24 um\", \"26 um\"]\n"), ContainsSubstring("not inside its range"));
  CHECK_THAT(complaint("\"film.thickness\" = [\"20 um\", \"0 um\"]\n"), ContainsSubstring("physical bounds"));
  CHECK_THAT(complaint("\"film.thickness\" = \"-3 %\"\n"), ContainsSubstring("negative"));
  CHECK_THAT(complaint("\"film.thickness\" = \"100 %\"\n"), ContainsSubstring("all of the value"));
  CHECK_THAT(complaint("\"film.thickness\" = 3\n"), ContainsSubstring("a share"));
  CHECK_THAT(complaint("\"film.thickness\" = \"3 kg\"\n"), ContainsSubstring("um"));
  CHECK_THAT(complaint("\"load.kind\" = \"exact\"\n"), ContainsSubstring("does not hold a number"));
  CHECK_THAT(complaint("\"film.file\" = \"3 %\"\n"), ContainsSubstring("as fitted"));
  CHECK_THAT(complaint("\"load.edge_pressure_limit\" = \"3 %\"\n"), ContainsSubstring("has no value"));
  CHECK_THAT(complaint("\"film.thicknes\" = \"3 %\"\n"), ContainsSubstring("s.toml:"));
  const Scenario s = with("");
  std::string text = s.text;
  text.replace(text.find("[numerics]"), 10, "[numerics]\nband_samples = 100");
  try {
    (void)read_scenario_text(text, "s.toml", folder);
    FAIL("accepted");
  } catch (const OutOfRange& error) {
    CHECK(error.line > 0);
    CHECK_THAT(error.what(), ContainsSubstring("100 is not a number of draws"));
  }
}

TEST_CASE("unknowns: the numbers of a film have the spread and the correlation of its covariance", "[bands]") {
  FilmDescription film = with("").film_description;
  film.covariance = FilmCovariance{{"network.modulus", "branch[1].flow_stress", "branch[2].activation_energy"},
                                   {0.1, 0.2, 3000.0},
                                   {1.0, 0.6, 0.0, 0.6, 1.0, -0.3, 0.0, -0.3, 1.0}};
  const FilmSpread spread(film);
  REQUIRE(spread.size() == 3);
  const auto moves = [&](const std::vector<double>& z) {
    const FilmDescription at = spread.at(z);
    return std::vector<double>{std::log(at.network.modulus / film.network.modulus),
                               std::log(at.branches[0]["flow_stress"] / film.branches[0]["flow_stress"]),
                               at.branches[1]["activation_energy"] - film.branches[1]["activation_energy"]};
  };
  // Rows of e A from unit vectors; (e A)(e A)^T is the covariance.
  std::vector<std::vector<double>> columns;
  for (const std::vector<double>& z : {std::vector<double>{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}) columns.push_back(moves(z));
  const double error[] = {0.1, 0.2, 3000.0};
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t j = 0; j < 3; ++j) {
      double sum = 0.0;
      for (const auto& column : columns) sum += column[i] * column[j];
      CHECK(sum ==
            Approx(error[i] * error[j] * film.covariance->correlation[i * 3 + j]).margin(1e-9 * error[i] * error[j]));
    }
  film.covariance->keys[0] = "branch[9].modulus";
  CHECK_THROWS_AS(FilmSpread(film), InputError);
}
