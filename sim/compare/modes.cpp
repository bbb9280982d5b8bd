// SPDX-License-Identifier: BSD-3-Clause
// What is made equal before anything is predicted.
#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/bands/bands.hpp"
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

/// The draws of a scenario over pre-stretch, all at the same points.
class PrestretchDraws {
 public:
  PrestretchDraws(const Scenario& scenario, const CompareOptions& options, Observer* observer)
      : scenario_(scenario), words_at_(options.words_at), observer_(observer) {
    options_ = band_options(scenario);
    options_.samples = static_cast<std::size_t>(std::min(options.band_samples, most_samples));
  }
  /// True when the draws do not tell that a pre-stretch holds less than the best one.
  [[nodiscard]] bool as_good(double prestretch, double best) {
    if (options_.samples == 0) return false;
    if (!best_) best_ = drawn(best);
    const Held now = drawn(prestretch);
    std::vector<double> then = best_->least;
    for (std::size_t i = 0; i < then.size(); ++i)
      if (now.point[i] != best_->point[i]) then[i] = std::numeric_limits<double>::quiet_NaN();
    const auto paired = hoopfield::paired_band(then, now.least, words_at_);
    return paired && paired->verdict != Verdict::less;
  }

 private:
  struct Held {
    std::vector<double> least, point;
  };
  [[nodiscard]] Held drawn(double prestretch) const {
    Scenario moved = scenario_;
    set_number(moved, "delivery.prestretch", prestretch);
    const BandResult band = draw_bands(moved, options_, observer_);
    return {draws_of(band, "containment.after_storage.least_station.hoop_tension"), band.point};
  }

  static constexpr std::int64_t most_samples = 128;  // enough for a search; the sides are drawn in full afterwards
  const Scenario& scenario_;
  double words_at_;
  Observer* observer_;
  BandOptions options_;
  std::optional<Held> best_;
};

/// Containment over pre-stretch; nothing where it cannot be computed.
class PrestretchSearch {
 public:
  PrestretchSearch(const Scenario& scenario, const CompareOptions& options, Observer* observer, FilmPathCache& cache)
      : scenario_(scenario), observer_(observer), cache_(cache), draws_(scenario, options, observer) {}

  /// Below zero: the minimiser looks for the least. Zero where the film or the load says no.
  double operator()(double prestretch) {
    const auto tried = predicted(prestretch);
    if (!tried) return 0.0;
    tried_.push_back(*tried);
    if (tried->contained > best_.contained) best_ = *tried;
    return -tried->contained;
  }
  /// The pre-stretch of least film mass among those that contain as much as the best: the least of those tried, then
  /// towards the next that takes less film and contains less, to 2 % of the way between.
  [[nodiscard]] std::optional<double> least_film() {
    if (tried_.empty()) return std::nullopt;
    std::sort(tried_.begin(), tried_.end(), [](const Tried& a, const Tried& b) { return a.film_mass < b.film_mass; });
    const auto chosen = std::find_if(tried_.begin(), tried_.end(), [this](const Tried& t) { return is_enough(t); });
    Tried good = chosen == tried_.end() ? best_ : *chosen;
    std::optional<double> beyond;
    for (const Tried& t : tried_)
      if (t.film_mass < good.film_mass &&
          (!beyond || std::abs(t.prestretch - good.prestretch) < std::abs(*beyond - good.prestretch)))
        beyond = t.prestretch;
    constexpr int halvings = 6;
    for (int i = 0; beyond && i < halvings; ++i) {
      const double middle = 0.5 * (good.prestretch + *beyond);
      const auto tried = predicted(middle);
      if (tried && tried->film_mass < good.film_mass && is_enough(*tried))
        good = *tried;
      else
        beyond = middle;
    }
    return good.prestretch;
  }
  [[nodiscard]] const std::string& message() const { return message_; }

 private:
  struct Tried {
    double prestretch = 0.0, contained = 0.0, film_mass = 0.0;
  };
  [[nodiscard]] std::optional<Tried> predicted(double prestretch) {
    try {
      Scenario moved = scenario_;
      set_number(moved, "delivery.prestretch", prestretch);
      const Result r = predict(moved, observer_, &cache_);
      const double contained = least_of_stations(r.after_storage);
      if (!std::isfinite(contained)) return std::nullopt;
      return Tried{prestretch, contained, r.film.mass};
    } catch (const Interrupted&) {
      throw;
    } catch (const Error& error) {
      message_ = error.what();
      return std::nullopt;
    }
  }
  [[nodiscard]] bool is_enough(const Tried& t) {
    if (t.contained >= (1.0 - equal_containment) * best_.contained) return true;
    return t.contained >= (1.0 - equal_over_draws) * best_.contained && draws_.as_good(t.prestretch, best_.prestretch);
  }

  const Scenario& scenario_;
  Observer* observer_;
  FilmPathCache& cache_;
  PrestretchDraws draws_;
  std::vector<Tried> tried_;
  Tried best_;
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
      note(adjustments, before, candidate, key, "same settings as the present wrap");
  } else if (same == SameWhat::span_force) {
    set_number(candidate, "delivery.tension.force", *present.delivery.tension.force);
    note(adjustments, before, candidate, "delivery.tension.force", "same span force as the present wrap");
  } else if (same == SameWhat::film_mass) {
    match_film_mass(candidate, planned_film_mass(present, cache), adjustments, cache);
  }
}

void find_best_prestretch(Scenario& scenario, const CompareOptions& options, std::vector<Adjustment>& adjustments,
                          Observer* observer, FilmPathCache& cache) {
  const auto& breaking = scenario.film_description.breaking;
  if (!breaking || !(breaking->stretch > 0.0))
    throw InputError(
        "the film file gives no break stretch, so there is no limit within which to look for its best "
        "pre-stretch: give [break] stretch",
        {}, 0, 0, "break.stretch");
  const double limit = std::min(options.break_share * breaking->stretch, 5.0);
  PrestretchSearch search(scenario, options, observer, cache);
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
    throw SolverError("no pitch lets this film use as much as the present wrap, " + format_quantity(wanted, "g", 4) +
                      ": one turn takes " + format_quantity(per_turn, "g", 3));
  scenario = std::move(*nearest);
  note(adjustments, before, scenario, whole.key(), "whole turns nearest to the film mass of the present wrap");
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
            format_quantity(compare_detail::equal_containment, "%", 3) +
            (options.band_samples == 0 ? std::string()
                                       : ", or that the draws cannot tell from the best within " +
                                             format_quantity(compare_detail::equal_over_draws, "%", 3));
  return text;
}

}  // namespace hoopfield
