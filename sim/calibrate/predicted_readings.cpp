// SPDX-License-Identifier: BSD-3-Clause
#include "sim/calibrate/predicted_readings.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/buildup/build_up.hpp"
#include "sim/stations/containment.hpp"
#include "sim/wrap/plan.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

namespace hoopfield {
namespace {

bool is(const ReadingPlace& place, std::string_view name) { return place.quantity->name == name; }

/// Quantities that take the state of the load.
bool reads_load(const ReadingPlace& place) {
  return place.quantity->is_of_wrap || is(place, "girth_after") || is(place, "closing_along_length") ||
         is(place, "closing_along_width");
}

/// The wrapped load at the times of some places.
class ReadLoad {
 public:
  ReadLoad(const Scenario& s, const WrapPlan& plan, const std::vector<ReadingPlace>& places)
      : scenario_(s), plan_(plan), input_(build_up_input(s, plan)) {
    std::vector<double> times;
    double low = s.load.height, high = 0.0;
    for (const ReadingPlace& place : places) {
      if (!reads_load(place)) continue;
      if (place.time > 0.0) times.push_back(place.time);
      const double half = 0.5 * std::max(s.stations.band_height, s.stations.plate_diameter);
      low = std::min(low, place.height - half);
      high = std::max(high, place.height + half);
    }
    std::sort(times.begin(), times.end());
    times.erase(std::unique(times.begin(), times.end()), times.end());
    input_.keep_at = times;
    input_.output_times = {0.0};
    input_.output_times.insert(input_.output_times.end(), times.begin(), times.end());
    const double slice = input_.setup.slice_height, most = static_cast<double>(input_.slice_count) - 1.0;
    input_.first_slice = static_cast<std::size_t>(std::clamp(std::floor(low / slice), 0.0, most));
    input_.last_slice = 1 + static_cast<std::size_t>(std::clamp(std::floor(high / slice), 0.0, most));
    built_ = build_up(input_);
    edges_ = film_edges(plan, s.load.height);
  }

  [[nodiscard]] double value(const ReadingPlace& place) const {
    const StationMoment m = moment(place.time);
    if (place.quantity->is_of_wrap) return force(place, m);
    const auto slice = static_cast<std::size_t>(
        std::clamp(place.height / input_.setup.slice_height, 0.0, static_cast<double>(input_.slice_count) - 1.0));
    const auto& closing = (*m.slices)[slice].closing;
    if (is(place, "closing_along_length")) return closing[0];
    if (is(place, "closing_along_width")) return closing[1];
    return plan_.perimeter - 2.0 * (closing[0] + closing[1]);  // girth_after
  }

 private:
  [[nodiscard]] StationMoment moment(double time) const {
    const auto kept =
        std::find_if(built_.kept.begin(), built_.kept.end(), [time](const StackMoment& k) { return k.time == time; });
    const bool stored = kept != built_.kept.end();
    return {&input_.setup,
            stored ? &kept->slices : &built_.at_end,
            &built_.film_layers,
            stored ? kept->path_factor : built_.path_factor_end,
            stored ? time : 0.0,
            input_.history.at(stored ? time : 0.0),
            edges_,
            &input_.patches};
  }

  [[nodiscard]] double force(const ReadingPlace& place, const StationMoment& m) const {
    Scenario here = scenario_;
    here.stations.middle = place.height;
    const StationResult station = station_at(here, m, 1);
    if (is(place, "band_tension"))
      return scenario_.stations.band_height *
             (place.face ? station.faces[*place.face].hoop_tension : station.hoop_tension);
    return place.face ? station.faces[*place.face].pull_force : station.pull_force;
  }

  const Scenario& scenario_;
  const WrapPlan& plan_;
  BuildUpInput input_;
  BuildUpResult built_;
  std::array<std::array<double, 2>, face_count> edges_{};
};

double value_of_plan(const Scenario& s, const WrapPlan& plan, const ReadingPlace& place) {
  const FilmPathResult& path = plan.film_path.result;
  if (is(place, "span_force")) return plan.span_force;
  if (is(place, "prestretch_force")) return path.prestretch_force;
  if (is(place, "film_mass"))
    return plan.film_length_on_roll * s.film.width * s.film.thickness * s.film_description.density;
  if (is(place, "stretch_on_load")) return path.stretch_on_load - 1.0;
  if (is(place, "laid_width")) return path.laid_width;
  if (is(place, "girth_before")) return plan.perimeter;
  if (is(place, "temperature")) return plan.wrap_temperature;
  if (is(place, "turns")) return Pattern(plan.pattern).turns();
  return 1.0 - path.stretch_on_load / path.stretch_in_gap;  // rebound
}

}  // namespace

ReadingPlace place_of(const Scenario& s, const Reading& reading) {
  const ReadingQuantity* quantity = find_reading_quantity(reading.quantity);
  const auto fail = [&](const std::string& what) {
    throw InputError(reading.file + ":" + std::to_string(reading.line) + ": " + what, reading.file, reading.line, 0,
                     reading.quantity);
  };
  if (quantity == nullptr) fail("\"" + reading.quantity + "\" is no quantity of a readings file");
  ReadingPlace place{
      quantity, reading.height.value_or(0.5 * s.load.height), {}, reading.time.value_or(usual_reading_time)};
  if (place.height > s.load.height)
    fail("height: " + format_quantity(place.height, "m", 4) + " is above the load; expected at most load.height, " +
         format_quantity(s.load.height, "m", 4));
  for (std::size_t f = 0; f < face_count; ++f)
    if (reading.face == face_names[f]) place.face = f;
  return place;
}

std::vector<double> predicted_readings(const Scenario& s, const std::vector<ReadingPlace>& places,
                                       FilmPathCache* cache) {
  const ResolvedScenario resolved(s);
  const WrapPlan plan = plan_wrap(resolved, cache);
  std::optional<ReadLoad> load;
  if (std::any_of(places.begin(), places.end(), reads_load)) load.emplace(s, plan, places);
  std::vector<double> values;
  for (const ReadingPlace& place : places)
    values.push_back(reads_load(place) ? load->value(place) : value_of_plan(s, plan, place));
  return values;
}

}  // namespace hoopfield
