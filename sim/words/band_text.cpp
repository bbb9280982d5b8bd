// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/band_text.hpp"

#include "models/units.hpp"
#include "sim/base/number_text.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/words/moments.hpp"

namespace hoopfield::words {
namespace {

std::optional<Band> band_of(const Result& result, const std::string& name) {
  return result.band ? result.band->band(name) : std::nullopt;
}

std::string whole_percent(double share) { return fixed(100.0 * share, 0) + " %"; }

}  // namespace

std::string band_cell(const Result& result, const std::string& name, const DisplayUnit& unit) {
  const auto band = band_of(result, name);
  return band ? number(band->low, unit) + " to " + number(band->high, unit) : std::string();
}

std::string band_quantity(const Result& result, const std::string& name, const DisplayUnit& unit) {
  const auto band = band_of(result, name);
  return band ? number(band->low, unit) + " to " + quantity(band->high, unit) : std::string();
}

std::string verdict(const TargetResult& t, double wanted_probability) {
  std::string text = t.met ? "met" : "MISSED";
  if (!t.probability) return text;
  return text + ", reached in " + whole_percent(*t.probability) + " of draws, " + whole_percent(wanted_probability) +
         " asked for";
}

std::string target_sentence(const Result& result, double wanted_probability, UnitStyle style) {
  const TargetResult* t = nearest_target(result);
  if (t == nullptr) return {};
  const DisplayUnits units(style);
  const bool pull = t->quantity == "pull_force";
  const DisplayUnit& unit = pull ? units.force : units.tension;
  const std::string band = band_quantity(result, "containment." + t->at + "." + t->station + "." + t->quantity, unit);
  std::string text = std::string(t->met ? "The targets are met" : "The targets are missed");
  text += "; the nearest is the " + std::string(pull ? "pull force" : "hoop tension") + " of the " + t->station +
          " station " + moment_words(t->at) + ": " + quantity(t->predicted, unit) + " predicted";
  if (!band.empty()) text += ", " + band + " nine times in ten";
  text += ", " + quantity(t->wanted, unit) + " wanted";
  if (t->probability)
    text += ". It is reached with a probability of " + whole_percent(*t->probability) + "; " +
            whole_percent(wanted_probability) + " is asked for";
  return text + ".";
}

std::string bands_note(const Result& result) {
  if (!result.band) return {};
  const BandResult& band = *result.band;
  if (!band.message.empty())
    return "There is " + band.message +
           ". The first said: " + (band.failed.empty() ? std::string() : band.failed.front().first_line());
  if (band.unknowns.empty()) return "Nothing is uncertain in these inputs, so bands have no width.";
  const double error = band.largest_sampling_error().value_or(0.0);
  std::string text = "Bands hold nine of ten cases over " + std::to_string(band.unknowns.size()) + " unknowns, from " +
                     short_number(band.samples) + " draws; their ends are known to within " + fixed(100.0 * error, 0) +
                     " % of their width or better (one standard deviation).";
  if (band.failed_draws() > 0.0) text += " " + short_number(band.failed_draws()) + " draws gave no result.";
  return text + " The equations themselves are not in them: see the known misses of the validation table.";
}

}  // namespace hoopfield::words
