// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/answer_text.hpp"

#include "models/parameter.hpp"
#include "sim/base/number_text.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/transit/transit_target.hpp"
#include "sim/words/band_text.hpp"
#include "sim/words/compare_text.hpp"
#include "sim/words/moments.hpp"
#include "sim/words/transit_target_text.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <utility>

namespace hoopfield::words {
namespace {

const UnknownInput* ranked_first(const Result& result) {
  const auto found =
      std::find_if(result.assumed.begin(), result.assumed.end(), [](const UnknownInput& u) { return !u.failed; });
  return found == result.assumed.end() ? nullptr : &*found;
}

std::string unknown_words(const UnknownInput& u) {
  return u.group ? "the numbers of the film file" : "the " + input_words(u.key);
}

bool is_of_key(char c) { return std::islower(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '.'; }

/// ", reached in 12 % of cases where 90 % are asked for"
std::string reached_words(const TargetResult& t, double asked) {
  if (!t.probability) return {};
  return ", reached in " + whole_percent(*t.probability) + " of cases where " + whole_percent(asked) + " are asked for";
}

std::string transit_about(std::string who, const Scenario& s, const Result& result, const TargetResult& t) {
  if (who == "the wrap") who = "The wrap";
  return who + " in transit, " + transit_target_words(s, result, t) + reached_words(t, s.target->probability) +
         ". Never a certificate.";
}

/// The verdict on "the wrap" or on a side by its name.
std::string verdict_about(std::string who, const Scenario& scenario, const Result& result, UnitStyle style) {
  const TargetResult* t = nearest_target(result);
  if (t == nullptr) return {};
  if (is_of_transit(*t) && targets_transit(scenario)) return transit_about(std::move(who), scenario, result, *t);
  const double asked = scenario.target ? scenario.target->probability : 0.0;
  const DisplayUnits units(style);
  const bool pull = t->quantity == "pull_force";
  const DisplayUnit& unit = pull ? units.force : units.tension;
  const Holding how = holding(*t, asked);
  if (how != Holding::open && who == "the wrap") who = "The wrap";
  std::string text = how == Holding::holds    ? who + " holds: "
                     : how == Holding::misses ? who + " misses its target: "
                                              : "It cannot be told whether " + who + " holds: ";
  text += std::string(pull ? "pull force" : "hoop tension") + ", " + t->station + ", " + moment_words(t->at) + ", ";
  if (result.targets.size() > 1 && how == Holding::holds) text += "nearest to its target, ";
  text += banded_quantity(t->predicted, result, "containment." + t->at + "." + t->station + "." + t->quantity, unit);
  text += " against " + quantity(t->wanted, unit) + " wanted";
  text += reached_words(*t, asked);
  const UnknownInput* u = ranked_first(result);
  if (how == Holding::open && u != nullptr)
    text += "; the band is so wide first of all because of " + unknown_words(*u);
  return text + ".";
}

}  // namespace

Holding holding(const TargetResult& t, double wanted_probability) {
  if (t.met) return Holding::holds;
  return t.probability && *t.probability > 1.0 - wanted_probability ? Holding::open : Holding::misses;
}

std::string input_words(std::string_view key) {
  const Parameter* p = find_parameter(ParameterRoom::scenario, key);
  if (p != nullptr && !p->label.empty()) return std::string(p->label);
  std::string last(key.substr(key.rfind('.') + 1));
  std::replace(last.begin(), last.end(), '_', ' ');
  return last;
}

std::string without_keys(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    std::size_t end = i;
    while (end < text.size() &&
           (is_of_key(text[end]) || (end > i && std::isdigit(static_cast<unsigned char>(text[end])))))
      ++end;
    std::string_view word = text.substr(i, end - i);
    while (!word.empty() && word.back() == '.') word.remove_suffix(1);
    const bool is_key =
        word.find('.') != std::string_view::npos && find_parameter(ParameterRoom::scenario, word) != nullptr;
    if (is_key) {
      out += "\u201c" + input_words(word) + "\u201d";
      i += word.size();
    } else {
      out += text.substr(i, std::max<std::size_t>(1, end - i));
      i = std::max(i + 1, end);
    }
  }
  return out;
}

std::string largest_unknown(const Result& result) {
  const UnknownInput* u = ranked_first(result);
  if (u == nullptr) return {};
  return "The largest unknown is " + unknown_words(*u) + ": over its range it alone moves the judged number by " +
         percent(u->effect) + ". Measure it first.";
}

std::string target_verdict(const Scenario& scenario, const Result& result, UnitStyle style) {
  return verdict_about("the wrap", scenario, result, style);
}

std::string stations_sentence(const Scenario& scenario, const Result& result, UnitStyle style) {
  const DisplayUnits units(style);
  const bool sags = scenario.storage.duration > 0.0 && is_weaker_in_storage(result);
  const auto& after = result.after_storage.stations;
  const auto& judged = sags ? result.weakest.stations : after;
  const auto weakest = static_cast<std::size_t>(
      std::min_element(judged.begin(), judged.end(),
                       [](const auto& a, const auto& b) { return a.hoop_tension < b.hoop_tension; }) -
      judged.begin());
  const double now = result.end.stations[weakest].hoop_tension;
  const double later = after[weakest].hoop_tension;
  std::string text = std::string("Of the three stations, the ") + station_names[weakest] +
                     " one holds least: hoop tension is " + quantity(now, units.tension) + " when wrapping ends";
  if (scenario.storage.duration <= 0.0) return text + ".";
  const std::string name = std::string("containment.after_storage.") + station_names[weakest] + ".hoop_tension";
  const BandedNumber shown = banded_number(later, result, name, units.tension);
  text += " and " + shown.value + " " + units.tension.name + " after " + duration(scenario.storage.duration) +
          " of storage";
  if (!shown.low.empty())
    text += " (" + shown.low + " to " + shown.high + " " + units.tension.name + " nine times in ten)";
  const double change = now > 0.0 ? later / now - 1.0 : 0.0;
  if (now > 0.0 && std::abs(change) < 5e-4)
    text += ", unchanged";
  else if (now > 0.0)
    text += ", " + percent(std::abs(change)) + (change < 0.0 ? " less" : " more");
  if (!sags || !is_weaker_in_storage(result, weakest)) return text + ".";
  const StationResult& least = result.weakest.stations[weakest];
  return text + ". It is weakest in between: " + quantity(least.hoop_tension, units.tension) + " " +
         when_weakest(least, units) + ".";
}

std::string first_sentence(const Scenario& scenario, const Result& result, UnitStyle style) {
  const std::string verdict = target_verdict(scenario, result, style);
  return verdict.empty() ? stations_sentence(scenario, result, style) : verdict;
}

std::string first_sentence(const Comparison& c, std::size_t i, UnitStyle style) {
  const ComparedSide& side = c.sides.at(i);
  const std::string verdict = side.result && side.scenario
                                  ? verdict_about(side_name(c, i), *side.scenario, *side.result, style)
                                  : std::string();
  const std::string against = containment_sentence(c, i, style);
  return verdict.empty() ? against : verdict + " " + against;
}

}  // namespace hoopfield::words
