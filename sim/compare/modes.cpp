// SPDX-License-Identifier: BSD-3-Clause
// What is made equal before anything is predicted.
#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/compare/detail.hpp"
#include "sim/compare/exchange.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/wrap/plan.hpp"

#include <boost/math/tools/minima.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

namespace hoopfield::compare_detail {

namespace {

/// Settings of the panel and of the machine. What describes the film's answer to them stays with the film.
bool is_setting(std::string_view key) {
  if (key == "delivery.neck_in" || key == "delivery.width_on_load") return false;
  return key.starts_with("delivery.") || key.starts_with("rotation.") || key.starts_with("carriage.") ||
         key.starts_with("pattern.");
}

void note(std::vector<Adjustment>& list, const Scenario& before, const Scenario& after, const std::string& key,
          const char* why) {
  const auto now = get_number(after, key);
  const auto then = get_number(before, key);
  if (!now || now == then) return;
  const Parameter* declared = find_parameter(ParameterRoom::scenario, key);
  list.push_back({key, std::string(declared->unit), why, then, *now});
}

/// Containment over pre-stretch; nothing where it cannot be computed.
class PrestretchSearch {
 public:
  PrestretchSearch(const Scenario& scenario, Observer* observer, FilmPathCache& cache)
      : scenario_(scenario), observer_(observer), cache_(cache) {}

  /// Below zero: the minimiser looks for the least. Zero where the film or the load says no.
  double operator()(double prestretch) {
    try {
      Scenario moved = scenario_;
      set_number(moved, "delivery.prestretch", prestretch);
      const Result r = predict(moved, observer_, &cache_);
      const double contained = least_of_stations(r.after_storage);
      if (!std::isfinite(contained)) return 0.0;
      tried_.push_back({prestretch, contained, r.film.mass});
      best_contained_ = std::max(best_contained_, contained);
      return -contained;
    } catch (const Error& error) {
      message_ = error.what();
      return 0.0;
    }
  }
  /// The pre-stretch of least film mass among those that contain as much as the best within `equal_containment`: the
  /// least of those tried, then towards the next that takes less film and contains less, to 2 % of the way between.
  [[nodiscard]] std::optional<double> least_film() {
    const Tried* chosen = nullptr;
    for (const Tried& t : tried_)
      if (is_enough(t) && (chosen == nullptr || t.film_mass < chosen->film_mass)) chosen = &t;
    if (chosen == nullptr) return std::nullopt;
    Tried good = *chosen;
    std::optional<double> beyond;
    for (const Tried& t : tried_)
      if (t.film_mass < good.film_mass &&
          (!beyond || std::abs(t.prestretch - good.prestretch) < std::abs(*beyond - good.prestretch)))
        beyond = t.prestretch;
    constexpr int halvings = 6;
    for (int i = 0; beyond && i < halvings; ++i) {
      const double middle = 0.5 * (good.prestretch + *beyond);
      const std::size_t before = tried_.size();
      (void)(*this)(middle);
      if (tried_.size() > before && is_enough(tried_.back()) && tried_.back().film_mass < good.film_mass)
        good = tried_.back();
      else
        beyond = middle;
    }
    return good.prestretch;
  }
  [[nodiscard]] const std::string& message() const { return message_; }

 private:
  const Scenario& scenario_;
  Observer* observer_;
  FilmPathCache& cache_;
  struct Tried {
    double prestretch, contained, film_mass;
  };
  [[nodiscard]] bool is_enough(const Tried& t) const {
    return t.contained >= (1.0 - equal_containment) * best_contained_;
  }
  std::vector<Tried> tried_;
  double best_contained_ = 0.0;
  std::string message_;
};

/// A wrap has whole turns, so the film mass comes in steps: what to set for a number of turns.
class WholeTurns {
 public:
  WholeTurns(const Scenario& scenario, const WrapPlan& plan)
      : pattern_(plan.pattern), other_(scenario.pattern.top_turns), widest_(2.0 * plan.film_path.result.laid_width) {}

  [[nodiscard]] double turns_now() const { return pattern_.turns(); }
  [[nodiscard]] bool climbs() const { return pattern_.plan().pitch_up > 0.0 && pattern_.climb() > 0.0; }
  [[nodiscard]] std::string key() const { return climbs() ? "pattern.pitch" : "pattern.bottom_turns"; }

  /// The pitch at which the climb, and the descent if there is one, fill the turns; nothing when that leaves bare bands
  /// wider than the film or no turn to climb in.
  [[nodiscard]] std::optional<double> value_for(double turns) const {
    const PatternPlan& plan = pattern_.plan();
    if (!climbs()) return turns >= other_ ? std::optional<double>(turns - other_) : std::nullopt;
    const double climbing = turns - plan.bottom_turns - plan.top_turns;
    if (!(climbing > 0.0)) return std::nullopt;
    // A hair less than the turns, so that rounding does not add one.
    const double pitch = (plan.descent ? 2.0 : 1.0) * pattern_.climb() / climbing * (1.0 + 1e-6);
    return pitch <= widest_ ? std::optional<double>(pitch) : std::nullopt;
  }

 private:
  Pattern pattern_;
  double other_, widest_;
};

}  // namespace

double planned_film_mass(const Scenario& scenario, FilmPathCache& cache) {
  const WrapPlan plan = plan_wrap(scenario, &cache);
  return film_mass(plan.film_length_on_roll, 1.0, roll_film(scenario));
}

void make_same(const Scenario& present, Scenario& candidate, SameWhat same, std::vector<Adjustment>& adjustments,
               FilmPathCache& cache) {
  const Scenario before = candidate;
  if (same == SameWhat::settings) {
    copy_inputs(present, candidate, is_setting);
    resolve_scenario(candidate);
    for (const std::string& key : differing_keys(before, candidate))
      note(adjustments, before, candidate, key, "same settings as the present side");
  } else if (same == SameWhat::span_force) {
    set_number(candidate, "delivery.tension.force", *present.delivery.tension.force);
    note(adjustments, before, candidate, "delivery.tension.force", "same span force as the present side");
  } else if (same == SameWhat::film_mass) {
    match_film_mass(candidate, planned_film_mass(present, cache), adjustments, cache);
  }
}

void find_best_prestretch(Scenario& scenario, double break_share, std::vector<Adjustment>& adjustments,
                          Observer* observer, FilmPathCache& cache) {
  const auto& breaking = scenario.film_description.breaking;
  if (!breaking || !(breaking->stretch > 0.0))
    throw InputError(
        "the film file gives no break stretch, so there is no limit within which to look for its best "
        "pre-stretch: give [break] stretch",
        {}, 0, 0, "break.stretch");
  const double limit = std::min(break_share * breaking->stretch, 5.0);
  PrestretchSearch search(scenario, observer, cache);
  // Containment over pre-stretch can have more than one top and none inside: a coarse look first, then its best part.
  constexpr std::size_t looks = 7;
  std::array<double, looks> value{};
  const auto at = [&](std::size_t i) { return limit * static_cast<double>(i) / (looks - 1); };
  for (std::size_t i = 0; i < looks; ++i) value[i] = search(at(i));
  const auto top = static_cast<std::size_t>(std::min_element(value.begin(), value.end()) - value.begin());
  constexpr int bits = 8;  // 1 % of the pre-stretch
  std::uintmax_t most = 20;
  boost::math::tools::brent_find_minima([&](double x) { return search(x); }, at(top == 0 ? 0 : top - 1),
                                        at(std::min(top + 1, looks - 1)), bits, most);
  const auto found = search.least_film();
  if (!found) throw SolverError("no pre-stretch up to the break limit can be computed: " + search.message());
  const Scenario before = scenario;
  set_number(scenario, "delivery.prestretch", *found);
  const bool at_limit = *found > 0.99 * limit;
  note(adjustments, before, scenario, "delivery.prestretch",
       at_limit ? "contains best with the least film, at the break limit"
                : "contains best with the least film, within the break limit");
}

void match_film_mass(Scenario& scenario, double wanted, std::vector<Adjustment>& adjustments, FilmPathCache& cache) {
  const Scenario before = scenario;
  const WholeTurns whole(scenario, plan_wrap(scenario, &cache));
  const double per_turn = planned_film_mass(scenario, cache) / whole.turns_now();
  // Film per turn hardly depends on the number of turns: the two whole numbers round the quotient are enough.
  const double below = std::max(1.0, std::floor(wanted / per_turn));
  std::optional<Scenario> nearest;
  double least = std::numeric_limits<double>::infinity();
  for (const double turns : {below, below + 1.0}) {
    const auto value = whole.value_for(turns);
    if (!value) continue;
    Scenario moved = scenario;
    set_number(moved, whole.key(), *value);
    const double off = std::abs(planned_film_mass(moved, cache) - wanted);
    if (off < least) least = off, nearest = std::move(moved);
  }
  if (!nearest)
    throw SolverError("no pitch lets this film use as much as the present side, " + format_quantity(wanted, "g", 4) +
                      ": one turn takes " + format_quantity(per_turn, "g", 3));
  scenario = std::move(*nearest);
  note(adjustments, before, scenario, whole.key(), "whole turns nearest to the film mass of the present side");
}

}  // namespace hoopfield::compare_detail

namespace hoopfield {

const char* same_word(SameWhat same) {
  constexpr const char* words[] = {"nothing", "settings", "span-force", "film-mass"};
  return words[static_cast<std::size_t>(same)];
}

std::optional<SameWhat> same_of_word(std::string_view word) {
  for (const SameWhat same : {SameWhat::nothing, SameWhat::settings, SameWhat::span_force, SameWhat::film_mass})
    if (word == same_word(same)) return same;
  return std::nullopt;
}

std::string mode_text(const CompareOptions& options) {
  constexpr const char* words[] = {"each as its file says", "same settings", "same span force", "same film mass"};
  std::string text = words[static_cast<std::size_t>(options.same)];
  if (options.best_prestretch)
    text += ", each film at the pre-stretch that contains best within " + format_quantity(options.break_share, "%", 3) +
            " of its break stretch, with the least film among those that contain as much within " +
            format_quantity(compare_detail::equal_containment, "%", 3);
  return text;
}

}  // namespace hoopfield
