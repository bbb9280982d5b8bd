// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/transit_target_text.hpp"

#include "models/text.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/transit/levels.hpp"
#include "sim/transit/transit_target.hpp"
#include "sim/words/answer_text.hpp"
#include "sim/words/moments.hpp"

#include <algorithm>

namespace hoopfield::words {
namespace {

std::size_t direction_of_target(const TargetResult& t) { return t.station == load_direction_names[0] ? 0 : 1; }

bool asks_pulses(const Scenario& s, std::size_t direction) {
  const auto& cases = s.transit.levels->cases;
  return std::any_of(cases.begin(), cases.end(),
                     [&](const auto& level) { return level.is_pulse && acts_along(s.transit, level, direction); });
}

/// How the worst static level ends; nothing where all hold.
std::string static_failure(const Scenario& s, const Result& r, const TargetResult& t) {
  const TransitStatics statics = transit_statics(s, r);
  const auto levels = static_levels(s.transit, statics.at[transit_target_moment(s)]);
  const LevelAnswer* worst = nullptr;
  for (const LevelAnswer& level : levels)
    if (level.direction == direction_of_target(t) && (worst == nullptr || level.margin() < worst->margin()))
      worst = &level;
  if (worst == nullptr || worst->verdict == TransitVerdict::hold) return {};
  return verdict_name(worst->verdict);
}

}  // namespace

std::string direction_words(const std::string& load_direction) {
  return load_direction == load_direction_names[0] ? "along its length" : "along its width";
}

std::string transit_prediction(const Scenario& s, const Result& r, const TargetResult& t) {
  const Holding how = holding(t, s.target ? s.target->probability : 0.0);
  if (how == Holding::holds) return "predicted to hold";
  if (how == Holding::open) return "the band crosses the limit, so it cannot be told";
  const std::string mode = static_failure(s, r, t);
  return "predicted to " + (mode.empty() ? std::string("slip or fall") : mode);
}

std::string transit_target_words(const Scenario& s, const Result& r, const TargetResult& t) {
  std::string text = direction_words(t.station) + " " + transit_prediction(s, r, t);
  if (asks_pulses(s, direction_of_target(t))) {
    text += t.predicted >= 1.0 ? ": it keeps every limit under " : ": it does not keep every limit under ";
  } else {
    const auto band = r.band ? r.band->band(drawn_name_of(t)) : std::nullopt;
    text += ": it withstands " + fixed(t.predicted, 2) + " times " +
            (band ? "(" + fixed(band->low, 2) + " to " + fixed(band->high, 2) + " nine times in ten) " : "");
  }
  return text + "what " + s.transit.levels->name + " asks, " + moment_words(t.at);
}

}  // namespace hoopfield::words
