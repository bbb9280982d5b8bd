// SPDX-License-Identifier: BSD-3-Clause
#include "sim/compare/compare.hpp"

#include "models/error.hpp"
#include "sim/bands/rank_unknowns.hpp"
#include "sim/base/parallel.hpp"
#include "sim/compare/detail.hpp"
#include "sim/transit/transit_numbers.hpp"

#include <algorithm>
#include <filesystem>
#include <set>

namespace hoopfield {

namespace {

using namespace compare_detail;

std::string short_name(const CompareSide& side) {
  if (!side.name.empty()) return side.name;
  if (!side.file.empty()) return std::filesystem::path(side.file).stem().string();
  const Scenario* scenario = std::get_if<Scenario>(&side.content);
  return scenario != nullptr ? scenario->title : std::get<MeasuredSide>(side.content).title;
}

/// Names tell sides apart: "force 70", "force 70 (2)".
void make_distinct(std::vector<ComparedSide>& sides) {
  std::set<std::string> taken;
  for (std::size_t i = 0; i < sides.size(); ++i) {
    if (sides[i].name.empty()) sides[i].name = "side " + std::to_string(i + 1);
    const std::string wanted = sides[i].name;
    for (std::size_t n = 2; !taken.insert(sides[i].name).second; ++n)
      sides[i].name = wanted + " (" + std::to_string(n) + ")";
  }
}

void check_count(std::size_t count) {
  if (count >= 2 && count <= most_compared_sides) return;
  throw InputError("compare needs 2 to " + std::to_string(most_compared_sides) +
                   " sides, the first being the present one; "
                   "there " +
                   (count == 1 ? "is" : "are") + " " + std::to_string(count));
}

void check_options(const CompareOptions& options) {
  check_band_samples(options.band_samples);
  if (!(options.break_share > 0.0 && options.break_share <= 1.0))
    throw OutOfRange("the share of the break stretch is outside the physical bounds; expected more than 0 to 1", {}, 0,
                     0, "break_share");
  if (!(options.words_at > 0.5 && options.words_at < 1.0))
    throw OutOfRange(
        "the share of draws for \"more\" or \"less\" is out of range; expected more than 0.5 to less than 1", {}, 0, 0,
        "words_at");
}

class Comparer {
 public:
  Comparer(std::vector<CompareSide> sides, const CompareOptions& options, Observer* observer)
      : sides_(std::move(sides)), observer_(observer) {
    check_count(sides_.size());
    check_options(options);
    comparison_.options = options;
  }

  Comparison run() {
    for (const CompareSide& side : sides_) comparison_.sides.push_back(blank(side));
    make_distinct(comparison_.sides);
    // What candidates are made equal to must be settled first.
    run_parallel(1, observer_, 0.0, 0.1, "predicting the present wrap",
                 [this](std::size_t i, Observer* watch) { work_on(i, watch); });
    const CompareOptions& options = comparison_.options;
    const double share = options.factors ? 0.5 : 1.0;
    const double before_draws = options.band_samples > 0 ? 0.2 : share;
    run_parallel(sides_.size() - 1, observer_, 0.1, before_draws, "predicting the sides",
                 [this](std::size_t i, Observer* watch) { work_on(i + 1, watch); });
    for (std::size_t i = 0; i < sides_.size(); ++i) gather_readings(i);
    if (options.band_samples > 0) draw_sides(comparison_, sides_, observer_, before_draws, share);
    for (ComparedSide& side : comparison_.sides) add_break_even(side);
    judge_dominance(comparison_);
    collect_compare_warnings(comparison_);
    if (options.factors) explain_differences(comparison_, observer_, share, 1.0, cache_);
    return std::move(comparison_);
  }

 private:
  static ComparedSide blank(const CompareSide& side) {
    ComparedSide a;
    a.name = short_name(side);
    a.file = side.file;
    const Scenario* scenario = std::get_if<Scenario>(&side.content);
    a.measured = scenario == nullptr;
    a.title = scenario != nullptr ? scenario->title : std::get<MeasuredSide>(side.content).title;
    return a;
  }

  void work_on(std::size_t i, Observer* observer) {
    if (comparison_.sides[i].measured) return;
    try {
      predict_side(i, observer);
    } catch (const Error& error) {
      if (i == 0) throw;  // nothing to compare against
      ComparedSide& side = comparison_.sides[i];
      side.failed = true;
      side.message = error.what();
      side.result.reset();
      side.in_transit.clear();
      side.film_numbers.reset();
      side.economics.reset();
    }
  }

  void predict_side(std::size_t i, Observer* observer) {
    ComparedSide& side = comparison_.sides[i];
    const CompareOptions& options = comparison_.options;
    Scenario& s = side.scenario.emplace(std::get<Scenario>(sides_[i].content));
    const ComparedSide& present = comparison_.sides.front();
    const bool candidate = i > 0 && present.scenario;
    // The pre-stretch changes the film mass, so the mass is made equal last.
    if (candidate && options.same != SameWhat::film_mass)
      make_same(*present.scenario, s, options.same, side.adjustments, cache_);
    if (options.best_prestretch) find_best_prestretch(s, options, side.adjustments, observer, cache_);
    if (candidate && options.same == SameWhat::film_mass)
      make_same(*present.scenario, s, options.same, side.adjustments, cache_);
    side.result = predict(s, observer, &cache_);
    if (options.sensitivity) add_sensitivity(s, *side.result, observer);
    if (options.film_numbers) test_film(side, observer);
    if (options.unknowns || (options.present_unknowns && i == 0)) rank_unknowns(s, *side.result, observer);
    side.in_transit = weakest_transit_numbers(s, *side.result);
    if (economics_asked(s.film, s.cost)) side.economics = economics(s, *side.result);
  }

  static void test_film(ComparedSide& side, Observer* observer) {
    DerivedSettings settings;
    settings.stretch = side.result->film_path.stretch_on_load - 1.0;
    settings.temperature = side.result->temperature.front();
    if (!(settings.stretch > 0.05)) return;  // hardly stretched: there is nothing to hold and let back
    try {
      side.film_numbers = derive_numbers(side.scenario->film_description, settings, observer);
    } catch (const Error& error) {
      // The prediction stands without them.
      side.warnings.push_back({"no-film-numbers", "note", "film.file",
                               std::string("virtual tests of the film alone could not be made: ") + error.what()});
    }
  }

  [[nodiscard]] std::array<std::optional<double>, 3> common_stations() const {
    for (const ComparedSide& side : comparison_.sides)
      if (side.scenario)
        return {side.scenario->stations.top, side.scenario->stations.middle, side.scenario->stations.bottom};
    return {};
  }

  void gather_readings(std::size_t i) {
    ComparedSide& side = comparison_.sides[i];
    const MeasuredSide* measured = std::get_if<MeasuredSide>(&sides_[i].content);
    if (measured == nullptr) return;
    side.readings = gather(*measured, common_stations());
    side.warnings = side.readings->warnings;
    if (!side.readings->film_mass || !economics_asked(measured->film, measured->cost)) return;
    const RollFilm film{measured->film.width, measured->film.thickness, measured->density.value_or(0.0)};
    const double mass = side.readings->film_mass->mean;
    const double length = film.mass_per_length() > 0.0 ? laid_length(mass, 1.0, film) : 0.0;
    side.economics = economics({length, mass}, film, measured->film.price, measured->cost);
  }

  void add_break_even(ComparedSide& side) const {
    const ComparedSide& present = comparison_.sides.front();
    if (&side == &present || !present.economics || !side.economics) return;
    side.break_even_price = break_even_price(*present.economics, *side.economics);
  }

  std::vector<CompareSide> sides_;
  Observer* observer_;
  FilmPathCache cache_;
  Comparison comparison_;
};

}  // namespace

Comparison compare(std::vector<CompareSide> sides, const CompareOptions& options, Observer* observer) {
  return Comparer(std::move(sides), options, observer).run();
}

}  // namespace hoopfield
