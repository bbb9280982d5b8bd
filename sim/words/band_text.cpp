// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/band_text.hpp"

#include "models/units.hpp"
#include "sim/base/number_text.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::words {
namespace {

std::optional<Band> band_of(const Result& result, const std::string& name) {
  return result.band ? result.band->band(name) : std::nullopt;
}

/// A number in steps of a power of ten.
std::string stepped(double value, int power) {
  const double step = std::pow(10.0, power);
  return fixed(std::round(value / step) * step, std::max(0, -power));
}

}  // namespace

BandedNumber banded_number(double si, const Result& result, const std::string& name, const DisplayUnit& unit) {
  const auto shown = [&](double value) { return value * unit.per_si + unit.offset; };
  const auto band = band_of(result, name);
  if (!band || !(band->high > band->low)) return {trimmed(shown(si)), {}, {}};
  constexpr double steps_in_band = 20.0;
  const int power = static_cast<int>(std::floor(std::log10((shown(band->high) - shown(band->low)) / steps_in_band)));
  return {stepped(shown(si), power), stepped(shown(band->low), power), stepped(shown(band->high), power)};
}

std::string banded_quantity(double si, const Result& result, const std::string& name, const DisplayUnit& unit) {
  const BandedNumber n = banded_number(si, result, name, unit);
  const std::string text = n.value + " " + unit.name;
  return n.low.empty() ? text : text + " (" + n.low + " to " + n.high + " " + unit.name + " nine times in ten)";
}

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
