// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/explain_least.hpp"

#include "sim/stations/containment.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace hoopfield::cli {

namespace {

/// The band of film that holds least, and means over it of what slices hold: ratios of these are told.
struct Least {
  std::size_t face = 0;
  double height = 0.0, layers = 0.0, end = 0.0, after = 0.0;
};

/// Means over bands as high as those of the stations.
class Bands {
 public:
  Bands(const Scenario& scenario, const Result& result)
      : result_(result),
        slice_height_(scenario.load.height / static_cast<double>(result.height.size())),
        height_(scenario.stations.band_height) {}
  /// \param value of a slice
  template <typename Value>
  [[nodiscard]] double mean(double height, Value&& value) const {
    std::vector<double> values;
    for (std::size_t h = 0; h < result_.height.size(); ++h) values.push_back(value(h));
    return band_mean(values, slice_height_, height, height_);
  }
  [[nodiscard]] double tension(std::size_t time, std::size_t face, double height) const {
    return mean(height, [&](std::size_t h) { return result_.hoop_tension.at(time, face, h); });
  }
  [[nodiscard]] double layers(std::size_t face, double height) const {
    return mean(height, [&](std::size_t h) { return result_.film_layers.at(face, h); });
  }
  /// Fewest and most layers of a face in bands all of film.
  [[nodiscard]] std::pair<double, double> layer_range(std::size_t face, double fewest, double most) const {
    const auto bare = [&](std::size_t h) { return result_.film_layers.at(face, h) > 0.0 ? 0.0 : 1.0; };
    for (const double height : result_.height) {
      const double top = slice_height_ * static_cast<double>(result_.height.size());
      if (height < 0.5 * height_ || height > top - 0.5 * height_ || mean(height, bare) > 0.0) continue;
      fewest = std::min(fewest, layers(face, height));
      most = std::max(most, layers(face, height));
    }
    return {fewest, most};
  }

 private:
  const Result& result_;
  double slice_height_, height_;  // m
};

Least find_least(const Bands& bands, const Result& result) {
  Least least;
  least.face = result.after_storage.least_face;
  least.height = result.after_storage.least_height;
  least.layers = bands.layers(least.face, least.height);
  least.end = bands.tension(0, least.face, least.height);
  least.after = bands.tension(result.time.size() - 1, least.face, least.height);
  return least;
}

std::string layers_sentence(const Bands& bands, const Least& least) {
  const auto [fewest, most] = bands.layer_range(least.face, least.layers, least.layers);
  std::string text = trimmed(least.layers) + " film layers lie there";
  if (most <= 1.02 * fewest) return text + ", as at every height of this face.";
  if (least.layers <= 1.02 * fewest) return text + ", the fewest of this face; the most are " + trimmed(most) + ".";
  return text + ", more than the fewest of this face (" + trimmed(fewest) +
         "), so the number of layers is not the reason.";
}

std::string closing_sentence(const Bands& bands, const Result& result, const Least& least, const DisplayUnits& units) {
  if (!(result.film_path.laid_width > 0.0) || !(least.layers > 0.0)) return "";
  const double laid = least.layers * result.span.force_mean / result.film_path.laid_width;
  std::string text = " Laid at the mean span force, they would carry " + quantity(laid, units.tension) + "; " +
                     percent(least.end / laid) + " of that remains when wrapping ends";
  const auto closing = [&](const Field& of) {
    return bands.mean(least.height, [&](std::size_t h) { return of.at(0, h); });
  };
  const double length = closing(result.closing_along_length), width = closing(result.closing_along_width);
  if (std::max(length, width) < 5e-5) return text + ".";
  return text + ", with the load closed by " + quantity(length, units.small_length) + " along its length and " +
         quantity(width, units.small_length) + " along its width at this height.";
}

std::string storage_sentence(const Scenario& scenario, const Least& least) {
  if (scenario.storage.duration <= 0.0 || !(least.end > 0.0)) return "";
  const double change = least.after / least.end - 1.0;
  return " Storage " + std::string(change < 0.0 ? "reduces it by " : "raises it by ") + percent(std::abs(change)) + ".";
}

std::string face_sentence(const Bands& bands, std::size_t last, const Least& least, const DisplayUnits& units) {
  std::size_t best = least.face;
  double most = least.after;
  for (std::size_t f = 0; f < face_count; ++f)
    if (const double held = bands.tension(last, f, least.height); held > most) most = held, best = f;
  if (!(most > 1.02 * least.after)) return "";
  const std::string held =
      least.after > 0.0 ? percent(most / least.after - 1.0) + " more" : quantity(most, units.tension);
  return std::string(" The ") + face_names[best] + " face holds " + held + " at the same height.";
}

}  // namespace

std::string least_explanation(const Scenario& scenario, const Result& result, UnitStyle style) {
  const DisplayUnits units(style);
  const Bands bands(scenario, result);
  const Least least = find_least(bands, result);
  const std::string when = scenario.storage.duration > 0.0 ? " after storage" : "";
  const std::string text = "Of all bands of film " + quantity(scenario.stations.band_height, units.height) +
                           " high, on every face, the one with its middle at " + quantity(least.height, units.height) +
                           " on the " + face_names[least.face] + " face holds least" + when +
                           ": hoop tension there is " +
                           quantity(result.after_storage.least_hoop_tension, units.tension) + ". ";
  return text + layers_sentence(bands, least) + closing_sentence(bands, result, least, units) +
         storage_sentence(scenario, least) + face_sentence(bands, result.time.size() - 1, least, units);
}

}  // namespace hoopfield::cli
