// SPDX-License-Identifier: BSD-3-Clause
#include "sim/compare/measured.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/outputs/economics.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hoopfield {

namespace {

using ByLoad = std::map<std::string, std::vector<double>>;

/// Mean over loads of one number each.
std::optional<MeasuredValue> over_loads(const ByLoad& loads, double (*of_load)(const std::vector<double>&)) {
  if (loads.empty()) return std::nullopt;
  MeasuredValue value;
  value.loads = loads.size();
  std::vector<double> numbers;
  for (const auto& [id, list] : loads) numbers.push_back(of_load(list));
  const auto n = static_cast<double>(numbers.size());
  for (const double number : numbers) value.mean += number / n;
  if (numbers.size() > 1) {
    double squares = 0.0;
    for (const double number : numbers) squares += (number - value.mean) * (number - value.mean);
    value.standard_error = std::sqrt(squares / (n - 1.0) / n);
  }
  return value;
}

double least(const std::vector<double>& list) { return *std::min_element(list.begin(), list.end()); }
double mean(const std::vector<double>& list) {
  double sum = 0.0;
  for (const double v : list) sum += v;
  return sum / static_cast<double>(list.size());
}

std::optional<MeasuredValue> whole_load(const MeasuredSide& side, const std::string& quantity) {
  ByLoad loads;
  for (const auto* list : {&side.end, &side.after_storage})
    for (const Reading& r : *list)
      if (r.quantity == quantity) loads[r.load_id].push_back(r.value);
  return over_loads(loads, mean);
}

class Gatherer {
 public:
  Gatherer(const MeasuredSide& side, const std::array<std::optional<double>, 3>& stations) : side_(side) {
    for (std::size_t s = 0; s < station_names.size(); ++s)
      heights_[s] = side.stations[s] ? side.stations[s] : stations[s];
  }

  MeasuredNumbers run() {
    take_pull_forces(side_.end, 0);
    take_pull_forces(side_.after_storage, 1);
    numbers_.film_mass = whole_load(side_, "film_mass");
    numbers_.stretch_on_load = whole_load(side_, "stretch_on_load");
    numbers_.laid_width = whole_load(side_, "laid_width");
    numbers_.turns = whole_load(side_, "turns");
    numbers_.girth_before = whole_load(side_, "girth_before");
    numbers_.girth_after = whole_load(side_, "girth_after");
    derive_mass();
    warn_few();
    if (side_.illustrative)
      warn("illustrative-readings", "illustrative", "the readings are illustrative and were not taken on a real load");
    return std::move(numbers_);
  }

 private:
  [[nodiscard]] std::optional<std::size_t> station_at(double height) const {
    for (std::size_t s = 0; s < heights_.size(); ++s)
      if (heights_[s] && std::abs(height - *heights_[s]) <= 0.5 * side_.band_height + 1e-9) return s;
    return std::nullopt;
  }

  void take_pull_forces(const std::vector<Reading>& readings, std::size_t moment) {
    std::array<ByLoad, 3> loads;
    for (const Reading& r : readings) {
      if (r.quantity != "pull_force") continue;
      if (!heights_[0] && !heights_[1] && !heights_[2])
        throw InputError("pull forces need heights of stations: give [stations] top, middle, bottom", side_.path, 0, 0,
                         "stations.top");
      if (const auto station = station_at(*r.height))
        loads[*station][r.load_id].push_back(r.value);
      else
        warn("reading-off-station", "stations.top",
             "a pull force at " + format_quantity(*r.height, "m", 3) + " (line " + std::to_string(r.line) +
                 ") belongs to no station and was left out");
    }
    for (std::size_t s = 0; s < loads.size(); ++s) numbers_.pull_force[moment][s] = over_loads(loads[s], least);
  }

  /// `m = rho w0 t0 (turns * girth) / l`, overhang and slope of the climb left out.
  void derive_mass() {
    const RollFilm film{side_.film.width, side_.film.thickness, side_.density.value_or(0.0)};
    if (numbers_.film_mass || !numbers_.turns || !numbers_.girth_before || !numbers_.stretch_on_load ||
        !(film.mass_per_length() > 0.0))
      return;
    MeasuredValue value;
    value.loads = numbers_.turns->loads;
    value.mean =
        film_mass(numbers_.turns->mean * numbers_.girth_before->mean, 1.0 + numbers_.stretch_on_load->mean, film);
    numbers_.film_mass = value;
    numbers_.mass_derived = true;
    warn("derived-mass", "readings",
         "the film mass is calculated from turns, girth, stretch and the film on the roll; weigh the film of a load to "
         "check it");
  }

  void warn_few() {
    for (const auto& moment : numbers_.pull_force)
      for (const auto& value : moment)
        if (value && value->loads < 3) {
          warn("few-loads", "readings", "pull forces come from fewer than three loads: their spread is poorly known");
          return;
        }
  }

  void warn(const char* code, const char* key, const std::string& text) {
    numbers_.warnings.push_back({code, "caution", key, text});
  }

  const MeasuredSide& side_;
  std::array<std::optional<double>, 3> heights_;
  MeasuredNumbers numbers_;
};

}  // namespace

MeasuredNumbers gather(const MeasuredSide& side, const std::array<std::optional<double>, 3>& stations) {
  return Gatherer(side, stations).run();
}

}  // namespace hoopfield
