// SPDX-License-Identifier: BSD-3-Clause
// Alternatives side by side: modes, dominance, failures, and factors that add up.
#include "sim/compare/compare.hpp"
#include "models/error.hpp"
#include "sim/compare/detail.hpp"
#include "sim/compare/exchange.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/compare_reader.hpp"
#include "sim/io/text/compare_writer.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/size.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <fstream>
#include <set>
#include <sstream>

using namespace hoopfield;
using Json = nlohmann::ordered_json;

namespace {

const std::string root = HOOPFIELD_SOURCE_DIR;
const std::string pair = root + "/examples/08_thin_against_thick/";
const char* const least = "containment.after_storage.least_station.hoop_tension";

Scenario quick(const std::string& file) {
  Scenario s = read_scenario(pair + file);
  set_number(s, "numerics.slices", test::sized(20, 12));
  return s;
}

CompareSide side(const std::string& name, Scenario s) { return {name, "", std::move(s)}; }

std::vector<CompareSide> both() {
  return {side("present", quick("present.toml")), side("candidate", quick("candidate.toml"))};
}

double value(const Comparison& c, std::size_t i, const std::string& name) {
  return compare_value(c.sides.at(i), name).value();
}

CompareOptions plain() {
  CompareOptions options;
  options.sensitivity = options.factors = false;
  return options;
}

}  // namespace

TEST_CASE("compare: numbers are those of predict", "[compare]") {
  const Comparison c = compare(both(), plain());
  const Result r = predict(quick("candidate.toml"));
  CHECK(value(c, 1, "containment.end.top.hoop_tension") == r.end.stations[0].hoop_tension);
  CHECK(value(c, 1, "containment.after_storage.bottom.pull_force") == r.after_storage.stations[2].pull_force);
  CHECK(value(c, 1, "film.mass") == r.film.mass);
  CHECK(value(c, 1, "cost.per_load") == *economics(quick("candidate.toml"), r).cost);
  CHECK_FALSE(compare_value(c.sides[0], "cost.break_even_price"));
  CHECK_FALSE(compare_value(c.sides[1], "sensitivity.end"));
  CHECK(c.differences.empty());
}

TEST_CASE("compare: factors add up to the whole in both orders", "[compare]") {
  const Comparison c = compare(both());
  REQUIRE(c.differences.size() == 1);
  const Difference& d = c.differences[0];
  std::vector<std::string> names;
  for (const FactorShare& f : d.factors) names.push_back(f.factor);
  CHECK(names == std::vector<std::string>{"film law", "pre-stretch", "thickness", "span force", "turns"});
  CHECK(d.forward_message + d.reverse_message == "");
  bool orders_differ = false;
  for (std::size_t q = 0; q < c.explained.size(); ++q) {
    double forward = 0.0, reverse = 0.0, size = 0.0;
    for (const FactorShare& f : d.factors) {
      forward += f.forward.at(q);
      reverse += f.reverse.at(q);
      size += std::abs(f.forward[q]);
      orders_differ = orders_differ || std::abs(f.forward[q] - f.reverse[q]) > 1e-3 * size;
    }
    const double whole = value(c, 1, c.explained[q]) - value(c, 0, c.explained[q]);
    CHECK(d.total[q] == whole);
    CHECK(forward == Approx(whole).margin(1e-9 * size));
    CHECK(reverse == Approx(whole).margin(1e-9 * size));
  }
  CHECK(orders_differ);  // else one order would do
  // The first step forward is the present wrap with the other film, predicted by itself.
  Scenario moved = quick("present.toml");
  copy_inputs(quick("candidate.toml"), moved, [](std::string_view key) { return key == "film.file"; });
  const double alone = predict(moved).film.mass - value(c, 0, "film.mass");
  CHECK(d.factors[0].forward.back() == Approx(alone).epsilon(1e-12));
}

TEST_CASE("compare: the sentence of the README has the sign of the numbers", "[compare]") {
  const Comparison c = compare(read_sides({pair + "present.toml", pair + "candidate.toml"}));
  std::ifstream in(pair + "README.md");
  std::stringstream text;
  text << in.rdbuf();
  const double contains = value(c, 1, least) / value(c, 0, least) - 1.0,
               film = value(c, 1, "film.mass") / value(c, 0, "film.mass") - 1.0;
  const auto percent = [](double share) {
    return std::to_string(static_cast<int>(std::lround(std::abs(share) * 100.0))) + " %";
  };
  CHECK_THAT(text.str(), ContainsSubstring("contains " + percent(contains) + (contains < 0.0 ? " less" : " more")));
  CHECK_THAT(text.str(), ContainsSubstring(percent(film) + (film < 0.0 ? " less film" : " more film")));
  const Difference& d = c.differences.at(0);
  const auto q =
      static_cast<std::size_t>(std::find(c.explained.begin(), c.explained.end(), least) - c.explained.begin());
  for (const FactorShare& f : d.factors) {
    const double mean = 0.5 * (f.forward[q] + f.reverse[q]);
    CHECK_THAT(text.str(), ContainsSubstring("- " + f.factor + (mean < 0.0 ? ": less" : ": more")));
  }
  CHECK_THAT(text.str(),
             ContainsSubstring("thickness: more, on average; alone, on the present wrap, it would be less"));
  Scenario thin = read_scenario(pair + "present.toml");
  set_value(thin, "film.thickness", "15 um");
  const Result alone = predict(thin);
  CHECK(alone.after_storage.stations[1].hoop_tension < value(c, 0, "containment.after_storage.middle.hoop_tension"));
  CHECK(alone.film_path.stretch_on_load - 1.0 > thin.delivery.prestretch);
}

TEST_CASE("compare: the film's own numbers are those of its virtual tests at the stretch on the load", "[compare]") {
  const Comparison c = compare(both(), plain());
  const Scenario s = quick("candidate.toml");
  DerivedSettings settings;
  settings.stretch = c.sides[1].result->film_path.stretch_on_load - 1.0;
  settings.temperature = 296.15;
  const DerivedNumbers wanted = derive_numbers(s.film_description, settings);
  for (const DerivedField& field : derived_fields()) {
    INFO(field.parameter->key);
    CHECK(compare_value(c.sides[1], std::string(field.parameter->key)) == wanted.*field.value);
  }
  CHECK(value(c, 1, "film_numbers.stress_at_200") > value(c, 0, "film_numbers.stress_at_200"));  // the stiffer film
  CHECK(value(c, 1, "film_numbers.break_stretch") == Approx(3.8));
  CompareOptions without = plain();
  without.film_numbers = false;
  CHECK_FALSE(compare_value(compare(both(), without).sides[1], "film_numbers.break_stretch"));
}

TEST_CASE("compare: sensitivity is d ln(containment) / d ln(force)", "[compare]") {
  CompareOptions options = plain();
  options.sensitivity = true;
  const Comparison c = compare(both(), options);
  Result r = predict(quick("present.toml"));
  add_sensitivity(quick("present.toml"), r);
  CHECK(value(c, 0, "sensitivity.after_storage") == Approx(r.sensitivity->after_storage).epsilon(1e-9));
}

TEST_CASE("compare: same settings take panel and machine, not film and load", "[compare]") {
  Scenario candidate = quick("candidate.toml");
  set_values(candidate, {{"load.height", "1.4 m"}, {"delivery.roller_gap", "80 mm"}});
  CompareOptions options = plain();
  options.same = SameWhat::settings;
  const Comparison c = compare({side("a", quick("present.toml")), side("b", candidate)}, options);
  const Scenario& s = *c.sides[1].scenario;
  CHECK(s.delivery.prestretch == 2.0);
  CHECK(*s.delivery.tension.force == 70.0);
  CHECK(s.delivery.roller_gap == 0.05);
  CHECK(*s.pattern.pitch == 0.19);
  CHECK(s.film.thickness == Approx(15e-6));
  CHECK(s.film_description.name == candidate.film_description.name);
  CHECK(s.load.height == 1.4);
  CHECK(c.sides[1].adjustments.size() == 4);
  REQUIRE(c.sides[1].warnings.size() == 1);
  CHECK(c.sides[1].warnings[0].code == "other-load");
  CHECK(c.sides[0].adjustments.empty());
}

TEST_CASE("compare: same span force", "[compare]") {
  CompareOptions options = plain();
  options.same = SameWhat::span_force;
  const Comparison c = compare(both(), options);
  CHECK(value(c, 1, "span.force_set") == 70.0);
  CHECK(c.sides[1].scenario->delivery.prestretch == Approx(2.7));
}

TEST_CASE("compare: same film mass to the nearest whole turn", "[compare]") {
  CompareOptions options = plain();
  options.same = SameWhat::film_mass;
  const Comparison c = compare(both(), options);
  const double turns = value(c, 1, "pattern.turns"), mass = value(c, 1, "film.mass");
  CHECK(std::abs(mass - value(c, 0, "film.mass")) <= 0.5 * mass / turns * (1 + 1e-3));
  REQUIRE(c.sides[1].adjustments.size() == 1);
  CHECK(c.sides[1].adjustments[0].key == "pattern.pitch");
  Scenario other = *c.sides[1].scenario;
  for (const double step : {-1.0, 1.0}) {  // one turn more or less is farther off
    const double climbing = turns - 4.0;
    set_number(other, "pattern.pitch", c.sides[1].adjustments[0].after * climbing / (climbing + step));
    const Result r = predict(other);
    CHECK(r.pattern.turns == turns + step);
    CHECK(std::abs(r.film.mass - value(c, 0, "film.mass")) > std::abs(mass - value(c, 0, "film.mass")));
    other = *c.sides[1].scenario;
  }
}

TEST_CASE("compare: all turns at one height get other turns for the same film mass", "[compare]") {
  Scenario a = quick("present.toml"), b = quick("candidate.toml");
  for (Scenario* s : {&a, &b})
    set_values(*s, {{"pattern.pitch", "0 mm"}, {"pattern.bottom_turns", "4"}, {"pattern.top_turns", "0"}});
  CompareOptions options = plain();
  options.same = SameWhat::film_mass;
  const Comparison c = compare({side("a", a), side("b", b)}, options);
  CHECK(c.sides[1].adjustments.at(0).key == "pattern.bottom_turns");
  CHECK(value(c, 1, "pattern.turns") > 4.0);  // thinner film, more turns
}

TEST_CASE("compare: the best pre-stretch contains more than its neighbours and keeps the break limit", "[compare]") {
  CompareOptions options = plain();
  options.best_prestretch = true;
  const Comparison c = compare(both(), options);
  for (std::size_t i = 0; i < 2; ++i) {
    const Scenario& s = *c.sides[i].scenario;
    CHECK(s.delivery.prestretch <= 0.8 * s.film_description.breaking->stretch * (1 + 1e-12));
    for (const double other : {0.9, 1.1}) {
      Scenario moved = s;
      set_number(moved, "delivery.prestretch", s.delivery.prestretch * other);
      const Comparison near = compare({side("a", moved), side("b", moved)}, plain());
      // Nothing near contains more by 1 %, and what takes less film contains less by 1 %.
      const double share = value(near, 0, least) / value(c, i, least);
      CHECK(share <= 1.0 / (1.0 - compare_detail::equal_containment) * (1.0 + 1e-6));
      if (value(near, 0, "film.mass") < value(c, i, "film.mass")) CHECK(share < 1.0);
    }
  }
  options.break_share = 0.2;  // 90 % of stretch: the limit binds
  const Comparison bound = compare(both(), options);
  CHECK(bound.sides[0].scenario->delivery.prestretch == Approx(0.2 * 4.5).epsilon(0.02));
  options.break_share = 1.2;
  CHECK_THROWS_AS(compare(both(), options), OutOfRange);
}

TEST_CASE("compare: of pre-stretches that contain the same, the one with the least film is taken", "[compare]") {
  const Scenario s = quick("present.toml");
  Scenario moved = s;
  std::vector<Adjustment> adjustments;
  FilmPathCache cache;
  compare_detail::find_best_prestretch(moved, plain(), adjustments, nullptr, cache);
  const Result found = predict(moved);
  const double limit = 0.8 * s.film_description.breaking->stretch;
  std::vector<Result> all;
  const int steps = test::sized(60, 30);
  for (int i = 0; i <= steps; ++i) {
    Scenario other = s;
    set_number(other, "delivery.prestretch", limit * i / steps);
    try {
      all.push_back(predict(other));
    } catch (const SolverError&) {
    }
  }
  REQUIRE(all.size() > 10);
  double best = 0.0, least_mass = 1e300;
  for (const Result& r : all) best = std::max(best, least_of_stations(r.after_storage));
  for (const Result& r : all)
    if (least_of_stations(r.after_storage) >= (1.0 - compare_detail::equal_containment) * best)
      least_mass = std::min(least_mass, r.film.mass);
  CHECK(least_of_stations(found.after_storage) >= (1.0 - 1.2 * compare_detail::equal_containment) * best);
  CHECK(found.film.mass <= least_mass * 1.01);

  // With draws also what they cannot tell from the best counts as equal, up to 5 %: it takes no more film, and the
  // draws of the two do not say "less".
  Scenario drawn = s;
  CompareOptions options = plain();
  options.band_samples = 32;
  compare_detail::find_best_prestretch(drawn, options, adjustments, nullptr, cache);
  const Result chosen = predict(drawn);
  CHECK(chosen.film.mass <= found.film.mass * (1.0 + 1e-9));
  CHECK(least_of_stations(chosen.after_storage) >= (1.0 - 1.1 * compare_detail::equal_over_draws) * best);
  CHECK(chosen.film.mass < 0.99 * found.film.mass);  // here the draws allow less film than one percent does
  const Result* top = &*std::max_element(all.begin(), all.end(), [](const Result& x, const Result& y) {
    return least_of_stations(x.after_storage) < least_of_stations(y.after_storage);
  });
  Scenario strongest = s;
  set_number(strongest, "delivery.prestretch", limit * static_cast<double>(top - all.data()) / 60);
  const Comparison against = compare({side("best", strongest), side("drawn", drawn)}, options);
  CHECK(paired_band(against.sides[1], least)->probability_less < 0.95);
}

TEST_CASE("compare: a candidate that fails is recorded, a present wrap that fails is not", "[compare]") {
  std::vector<CompareSide> sides = both();
  Scenario weak = quick("present.toml");
  weak.film_description.breaking.reset();
  sides.push_back(side("no break stretch", weak));
  CompareOptions options = plain();
  options.best_prestretch = true;
  const Comparison c = compare(sides, options);
  CHECK(c.sides[2].failed);
  CHECK_THAT(c.sides[2].message, ContainsSubstring("break stretch"));
  CHECK_FALSE(compare_value(c.sides[2], "film.mass"));
  CHECK_FALSE(c.sides[1].failed);
  CHECK_FALSE(c.containment_measure.empty());
  const Json json = Json::parse(comparison_json(c));
  CHECK(json.at("sides").at(2).at("status") == "failed");
  CHECK(json.at("sides").at(2).at("prediction").is_null());
  CHECK(json.at("sides").at(2).at("numbers").empty());
  std::swap(sides[0], sides[2]);
  CHECK_THROWS_AS(compare(sides, options), InputError);
}

TEST_CASE("compare: dominance is containment against cost", "[compare]") {
  Scenario dear = quick("present.toml"), strong = quick("present.toml"), same = quick("present.toml");
  set_values(dear, {{"film.price", "2 /kg"}});
  set_values(strong, {{"delivery.tension.force", "75 N"}, {"film.price", "1.7 /kg"}});
  const Comparison c =
      compare({side("present", quick("present.toml")), side("dear", dear), side("strong", strong), side("same", same)},
              plain());
  using List = std::vector<std::size_t>;
  CHECK(c.cost_measure == "cost.per_load");
  CHECK(c.sides[0].dominates == List{1});
  CHECK(c.sides[0].dominated_by.empty());  // the same numbers dominate nothing
  CHECK(c.sides[1].dominated_by == List{0, 2, 3});
  CHECK(c.sides[2].dominated_by.empty());
  CHECK(c.sides[3].dominates == List{1});
  set_values(dear, {{"cost.currency", "USD"}});
  const Comparison mixed = compare({side("present", quick("present.toml")), side("dear", dear)}, plain());
  CHECK(mixed.cost_measure == "film.mass");
  CHECK(mixed.sides[1].warnings.at(0).code == "other-currency");
  CHECK_FALSE(mixed.sides[1].break_even_price);
}

TEST_CASE("compare: a number that is not finite dominates nothing", "[compare]") {
  Comparison c;
  for (const double force : {100.0, std::nan(""), 120.0}) {
    ComparedSide a;
    a.measured = true;
    a.readings.emplace();
    for (auto& station : a.readings->pull_force[1]) station = MeasuredValue{force, {}, 1};
    a.readings->film_mass = MeasuredValue{0.2, {}, 1};
    c.sides.push_back(a);
  }
  compare_detail::judge_dominance(c);
  using List = std::vector<std::size_t>;
  CHECK(c.sides[2].dominates == List{0});
  CHECK(c.sides[1].dominates.empty());
  CHECK(c.sides[1].dominated_by.empty());
}

TEST_CASE("compare: measured against predicted pull forces is cautioned unless calibrated", "[compare]") {
  const auto warned = [](Scenario s) {
    const Comparison c = compare({read_side(pair + "measured.toml"), side("candidate", std::move(s))}, plain());
    CHECK(c.containment_measure == "containment.after_storage.least_station.pull_force");
    const auto& own = c.sides[0].warnings;
    CHECK(std::any_of(own.begin(), own.end(), [](const Warning& w) { return w.code == "illustrative-readings"; }));
    return std::any_of(c.warnings.begin(), c.warnings.end(),
                       [](const Warning& w) { return w.code == "pull-force-not-calibrated"; });
  };
  Scenario calibrated = quick("candidate.toml");
  set_number(calibrated, "stations.tent_factor", 2.0);
  CHECK(warned(quick("candidate.toml")));
  CHECK_FALSE(warned(calibrated));
}

TEST_CASE("compare: two to twenty-four sides, with distinct names", "[compare]") {
  const Scenario s = quick("present.toml");
  CHECK_THROWS_AS(compare({side("a", s)}, plain()), InputError);
  CHECK_THROWS_AS(compare(std::vector<CompareSide>(most_compared_sides + 1, side("a", s)), plain()), InputError);
  static_assert(most_compared_sides >= 20);
  const Comparison c = compare(std::vector<CompareSide>(24, side("a", s)), plain());
  CHECK(c.sides[23].name == "a (24)");
  CHECK(c.sides[23].result->film.mass == c.sides[0].result->film.mass);
}

TEST_CASE("compare: twenty films in one scenario cost little more than their predictions", "[compare]") {
  const std::string film = root + "/models/parameters/films/";
  std::vector<std::string> files;
  for (int i = 0; i < 10; ++i) files.insert(files.end(), {film + "general-film.toml", film + "tough-film-23um.toml"});
  const auto sides = read_film_sides(files, pair + "present.toml");
  const auto processor_time = [](auto&& work) {
    const std::clock_t start = std::clock();
    work();
    return static_cast<double>(std::clock() - start);
  };
  const Scenario& one = std::get<Scenario>(sides.front().content);
  const auto predict_five = [&] {
    for (int i = 0; i < 5; ++i) CHECK(predict(one).film.mass > 0.0);
  };
  predict_five();  // warm
  const double single = processor_time(predict_five) / 5.0;
  Comparison c;
  const double all = processor_time([&] { c = compare(sides); });
  INFO("twenty films cost as much as " << all / single << " predictions");
  CHECK(all < 110.0 * single);        // sixty of them are predictions: each film's own and two for its sensitivity
  CHECK(c.differences.size() == 10);  // the other nine are the present film again
}

TEST_CASE("compare: films alone in one scenario", "[compare]") {
  const std::string films = root + "/models/parameters/films/";
  auto sides = read_film_sides({films + "general-film.toml", films + "thin-stiff-film.toml"}, pair + "present.toml");
  for (CompareSide& one : sides) set_number(std::get<Scenario>(one.content), "numerics.slices", 20);
  const Comparison c = compare(sides);
  REQUIRE(c.differences.size() == 1);
  REQUIRE(c.differences[0].factors.size() == 1);
  CHECK(c.differences[0].factors[0].factor == "film law");
  CHECK(c.differences[0].factors[0].forward == c.differences[0].total);
  CHECK(c.sides[0].result->film.mass == predict(quick("present.toml")).film.mass);
}

TEST_CASE("compare: every input that acts belongs to one factor", "[compare]") {
  const Scenario s = quick("present.toml");
  visit_inputs(s, [](std::string_view key, const auto&) {
    const auto owners = std::count_if(factors().begin(), factors().end(), [&](const Factor& f) { return f.owns(key); });
    const bool idle = key.starts_with("scenario.") || key.starts_with("report.") || key.starts_with("cost.") ||
                      key == "film.price" || key == "uncertainty" || key == "numerics.band_samples";
    INFO(key);
    CHECK(owners == (idle ? 0 : 1));
  });
  CHECK(differing_keys(s, s).empty());
}

TEST_CASE("compare: every quantity has a few words of its own for the head of a column", "[compare]") {
  std::set<std::string> seen;
  for (const CompareQuantity& q : compare_quantities()) {
    INFO(q.name);
    CHECK_FALSE(q.short_name.empty());
    CHECK(q.short_name.size() <= 32);
    CHECK(seen.insert(q.short_name).second);
  }
}

TEST_CASE("compare: the JSON object holds what the comparison holds", "[compare]") {
  const Comparison c = compare(both());
  const Json json = Json::parse(comparison_json(c));
  CHECK(json.at("schema") == 2);
  CHECK(json.at("kind") == "comparison");
  const Json& candidate = json.at("sides").at(1);
  for (const CompareQuantity& q : compare_quantities()) {
    const auto wanted = q.value(c.sides[1]);
    INFO(q.json_name);
    REQUIRE(candidate.at("numbers").contains(q.json_name) == wanted.has_value());
    if (wanted) CHECK(candidate.at("numbers").at(q.json_name).get<double>() == *wanted * q.per_si);
  }
  CHECK(json.at("quantities").size() == compare_quantities().size());
  CHECK(candidate.at("prediction").at("film").at("mass_kg") == candidate.at("numbers").at("film.mass_kg"));
  const Json& ratio = candidate.at("against_present").at("film.mass_kg").at("ratio");
  CHECK(ratio.get<double>() == Approx(value(c, 1, "film.mass") / value(c, 0, "film.mass")));
  CHECK(comparison_json(c) == comparison_json(compare(both())));  // byte for byte, whatever the threads did
  std::istringstream rows(comparison_csv(c));
  std::string header, first;
  std::getline(rows, header);
  std::getline(rows, first);
  const auto cells = [](const std::string& row) {
    std::size_t count = 1;
    bool quoted = false;
    for (const char ch : row) {
      quoted = quoted != (ch == '"');
      count += ch == ',' && !quoted ? 1 : 0;
    }
    return count;
  };
  CHECK(cells(header) == cells(first));
  CHECK(cells(header) == compare_quantities().size() + 11);
}

TEST_CASE("compare: an observer can stop it", "[compare]") {
  class Stop : public Observer {
    bool progress(double, const char*) override { return false; }
  } stop;
  CHECK_THROWS_AS(compare(both(), {}, &stop), Interrupted);
}
