// SPDX-License-Identifier: BSD-3-Clause
// Containment against cost, and what a reader must know before comparing.
#include "sim/compare/detail.hpp"
#include "sim/compare/exchange.hpp"
#include "sim/inputs/unknowns.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/transit/transit_target.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace hoopfield::compare_detail {

namespace {

using Sides = std::vector<const ComparedSide*>;

bool all_have(const Sides& sides, const std::string& quantity) {
  return std::all_of(sides.begin(), sides.end(), [&](const ComparedSide* s) { return compare_value(*s, quantity); });
}

bool one_currency(const Sides& sides) {
  return std::all_of(sides.begin(), sides.end(), [&](const ComparedSide* s) {
    return s->economics && s->economics->currency == (*sides.front()).economics.value_or(Economics{}).currency;
  });
}

/// Roll changes are in all totals or in none.
bool same_parts(const Sides& sides) {
  const auto with = std::count_if(sides.begin(), sides.end(),
                                  [](const ComparedSide* s) { return s->economics && s->economics->labour_cost; });
  return with == 0 || with == static_cast<std::ptrdiff_t>(sides.size());
}

/// Contains at least as much for no more, and is better in one of the two. Said so that a number that is not finite
/// dominates nothing.
bool is_better(double contained, double cost, double other_contained, double other_cost) {
  const double more = contained - other_contained, dearer = cost - other_cost;
  if (!std::isfinite(more) || !std::isfinite(dearer)) return false;
  return (more > 0.0 && dearer <= 0.0) || (more >= 0.0 && dearer < 0.0);
}

/// As predicted; where both sides have draws of both measures also in the share of draws that words take.
bool is_dominated(const Comparison& c, const ComparedSide& side, const ComparedSide& by) {
  const auto predicted = [](const ComparedSide& s, const std::string& name) { return *compare_value(s, name); };
  if (!is_better(predicted(by, c.containment_measure), predicted(by, c.cost_measure),
                 predicted(side, c.containment_measure), predicted(side, c.cost_measure)))
    return false;
  const std::vector<double> contained = compare_draws(by, c.containment_measure),
                            cost = compare_draws(by, c.cost_measure),
                            other_contained = compare_draws(side, c.containment_measure),
                            other_cost = compare_draws(side, c.cost_measure);
  const std::size_t n = contained.size();
  if (n == 0 || cost.size() != n || other_contained.size() != n || other_cost.size() != n) return true;
  double better = 0.0;
  for (std::size_t i = 0; i < n; ++i)
    better += is_better(contained[i], cost[i], other_contained[i], other_cost[i]) ? 1.0 : 0.0;
  return better >= c.options.words_at * static_cast<double>(n);
}

/// Quantity and moment of the target that the present wrap, or else the first with targets, comes nearest to missing.
std::string target_measure(const Sides& sides) {
  for (const ComparedSide* side : sides) {
    const TargetResult* target = side->result ? nearest_target(*side->result) : nullptr;
    if (target != nullptr && !is_of_transit(*target))
      return "containment." + target->at + ".least_station." + target->quantity;
  }
  return "";
}

std::string containment_measure(const Sides& sides) {
  const std::string wanted = target_measure(sides);
  if (!wanted.empty() && all_have(sides, wanted)) return wanted;
  // Hoop tension where all sides have it; a measured side has pull forces only.
  for (const char* quantity : {"hoop_tension", "pull_force"})
    for (const char* moment : {"after_storage", "end"}) {
      std::string name = std::string("containment.") + moment + ".least_station." + quantity;
      if (all_have(sides, name)) return name;
    }
  return "";
}

std::string cost_measure(const Sides& sides) {
  if (one_currency(sides)) {
    if (same_parts(sides) && all_have(sides, "cost.per_load")) return "cost.per_load";
    if (all_have(sides, "cost.film_per_load")) return "cost.film_per_load";
  }
  return all_have(sides, "film.mass") ? "film.mass" : "";
}

void warn_other_load(const ComparedSide& present, ComparedSide& side) {
  std::string keys;
  for (const std::string& key : differing_keys(*present.scenario, *side.scenario)) {
    const bool about_load = key.starts_with("load.") || key.starts_with("storage.") || key.starts_with("friction.") ||
                            key.starts_with("stations.");
    if (about_load) keys += (keys.empty() ? "" : ", ") + key;
  }
  if (keys.empty()) return;
  side.warnings.push_back({"other-load", "caution", keys.substr(0, keys.find(',')),
                           "load, storage, friction or stations differ from the present wrap (" + keys +
                               "): the difference is not due to film and settings alone"});
}

void warn_money(const ComparedSide& present, ComparedSide& side) {
  if (!present.economics || !side.economics) return;
  const Economics &a = *present.economics, &b = *side.economics;
  if (a.film_cost && b.film_cost && a.currency != b.currency)
    side.warnings.push_back({"other-currency", "caution", "cost.currency",
                             "its currency is \"" + b.currency + "\", that of the present wrap \"" + a.currency +
                                 "\": amounts are not compared"});
  if (a.year && b.year && a.year->loads != b.year->loads)
    side.warnings.push_back({"other-loads-per-year", "caution", "cost.loads_per_year",
                             "loads per year differ from the present wrap: yearly figures are not like for like"});
  if (a.film_cost && b.film_cost && a.labour_cost.has_value() != b.labour_cost.has_value())
    side.warnings.push_back(
        {"other-cost-parts", "caution", "cost.roll_change_time",
         "the cost of roll changes is known for only one of the two sides: only the film is compared"});
}

/// A measured pull force beside a predicted one, which scales with a factor nobody calibrated.
void warn_pull_force(Comparison& comparison) {
  if (!comparison.containment_measure.ends_with("pull_force")) return;
  bool measured = false, uncalibrated = false;
  for (const ComparedSide& side : comparison.sides) {
    if (side.failed) continue;
    (side.measured ? measured : uncalibrated) |= side.measured || !side.scenario->stations.tent_factor;
  }
  if (!measured || !uncalibrated) return;
  // The range is that of a membrane computation over the height of the sheet and its hold at the corners.
  comparison.warnings.push_back(
      {"pull-force-not-calibrated", "caution", "stations.tent_factor",
       "measured pull forces are compared with predicted ones, which are proportional to a tent factor that is "
       "computed (1.6 to 2.9 depending on the sheet and its hold at the corners) and not calibrated: make one pull "
       "test on a known wrap and give stations.tent_factor before you rely on the difference"});
}

/// A band holds what is said to be uncertain: what a film is worth that was never measured, or that nobody gave errors.
void warn_film(const Comparison& comparison, ComparedSide& side) {
  const FilmDescription& film = side.scenario->film_description;
  if (is_from_data_sheet(film.provenance)) {
    side.warnings.push_back({"film-from-data-sheet", "caution", "film.file",
                             "its film comes from a data sheet: most of its numbers are guesses from other films, so "
                             "read the band rather than the number, and fit the film to curves of its own"});
  } else if (comparison.options.band_samples > 0 && !film_is_unknown(*side.scenario)) {
    side.warnings.push_back({"film-taken-exact", "caution", "film.file",
                             "its film file gives no errors of its numbers, so they are taken as exact: the band is "
                             "narrower than what is known"});
  }
}

}  // namespace

void judge_dominance(Comparison& comparison) {
  std::vector<std::size_t> places;
  Sides sides;
  for (std::size_t i = 0; i < comparison.sides.size(); ++i) {
    if (comparison.sides[i].failed) continue;
    places.push_back(i);
    sides.push_back(&comparison.sides[i]);
  }
  if (sides.size() < 2) return;
  comparison.containment_measure = containment_measure(sides);
  comparison.cost_measure = cost_measure(sides);
  if (comparison.containment_measure.empty() || comparison.cost_measure.empty()) return;
  for (const std::size_t a : places)
    for (const std::size_t b : places) {
      ComparedSide &one = comparison.sides[a], &other = comparison.sides[b];
      if (!is_dominated(comparison, other, one)) continue;
      one.dominates.push_back(b);
      other.dominated_by.push_back(a);
    }
}

void collect_compare_warnings(Comparison& comparison) {
  const ComparedSide& present = comparison.sides.front();
  if (present.measured && comparison.options.same != SameWhat::nothing)
    comparison.warnings.push_back({"nothing-made-equal", "caution", "",
                                   "the present wrap is measured and has no settings to take over: every side is "
                                   "compared as its file says"});
  warn_pull_force(comparison);
  for (ComparedSide& side : comparison.sides)
    if (side.scenario && !side.failed) warn_film(comparison, side);
  for (std::size_t i = 1; i < comparison.sides.size(); ++i) {
    ComparedSide& side = comparison.sides[i];
    if (side.failed) continue;
    if (present.scenario && side.scenario) warn_other_load(present, side);
    warn_money(present, side);
  }
}

}  // namespace hoopfield::compare_detail
