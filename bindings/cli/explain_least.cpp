// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/explain_least.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::cli {

namespace {

/// Place of the least hoop tension in the arrays.
struct Least {
  std::size_t face = 0, slice = 0;
  double height = 0.0, layers = 0.0, end = 0.0, after = 0.0;
};

Least find_least(const Result& result) {
  Least least;
  least.face = result.after_storage.least_face;
  least.height = result.after_storage.least_height;
  for (std::size_t h = 1; h < result.height.size(); ++h)
    if (std::abs(result.height[h] - least.height) < std::abs(result.height[least.slice] - least.height))
      least.slice = h;
  least.layers = result.film_layers.at(least.face, least.slice);
  least.end = result.hoop_tension.at(0, least.face, least.slice);
  least.after = result.hoop_tension.at(result.time.size() - 1, least.face, least.slice);
  return least;
}

std::string layers_sentence(const Result& result, const Least& least) {
  double fewest = least.layers, most = least.layers;
  for (std::size_t h = 0; h < result.height.size(); ++h) {
    const double here = result.film_layers.at(least.face, h);
    if (here > 0.0) fewest = std::min(fewest, here);
    most = std::max(most, here);
  }
  std::string text = trimmed(least.layers) + " film layers lie there";
  if (most <= 1.02 * fewest) return text + ", as at every height of this face.";
  if (least.layers <= 1.02 * fewest) return text + ", the fewest of this face; the most are " + trimmed(most) + ".";
  return text + ", more than the fewest of this face (" + trimmed(fewest) +
         "), so the number of layers is not the reason.";
}

std::string closing_sentence(const Result& result, const Least& least, const DisplayUnits& units) {
  if (!(result.film_path.laid_width > 0.0) || !(least.layers > 0.0)) return "";
  const double laid = least.layers * result.span.force_mean / result.film_path.laid_width;
  std::string text = " Laid at the mean span force, they would carry " + quantity(laid, units.tension) + "; " +
                     percent(least.end / laid) + " of that remains when wrapping ends";
  const double length = result.closing_along_length.at(0, least.slice);
  const double width = result.closing_along_width.at(0, least.slice);
  if (std::max(length, width) < 5e-5) return text + ".";
  return text + ", with the load closed by " + quantity(length, units.small_length) + " along its length and " +
         quantity(width, units.small_length) + " along its width at this height.";
}

std::string storage_sentence(const Scenario& scenario, const Least& least) {
  if (scenario.storage.duration <= 0.0 || !(least.end > 0.0)) return "";
  const double change = least.after / least.end - 1.0;
  return " Storage " + std::string(change < 0.0 ? "reduces it by " : "raises it by ") + percent(std::abs(change)) + ".";
}

std::string face_sentence(const Result& result, const Least& least, const DisplayUnits& units) {
  const std::size_t last = result.time.size() - 1;
  std::size_t best = least.face;
  for (std::size_t f = 0; f < face_count; ++f)
    if (result.hoop_tension.at(last, f, least.slice) > result.hoop_tension.at(last, best, least.slice)) best = f;
  const double most = result.hoop_tension.at(last, best, least.slice);
  if (!(most > 1.02 * least.after)) return "";
  const std::string held =
      least.after > 0.0 ? percent(most / least.after - 1.0) + " more" : quantity(most, units.tension);
  return std::string(" The ") + face_names[best] + " face holds " + held + " at the same height.";
}

}  // namespace

std::string least_explanation(const Scenario& scenario, const Result& result, UnitStyle style) {
  const DisplayUnits units(style);
  const Least least = find_least(result);
  std::string text = "Over all heights and faces with film, hoop tension " +
                     std::string(scenario.storage.duration > 0.0 ? "after storage " : "") + "is least on the " +
                     face_names[least.face] + " face at " + quantity(least.height, units.height) + ": " +
                     quantity(result.after_storage.least_hoop_tension, units.tension) + ". ";
  return text + layers_sentence(result, least) + closing_sentence(result, least, units) +
         storage_sentence(scenario, least) + face_sentence(result, least, units);
}

}  // namespace hoopfield::cli
