// SPDX-License-Identifier: BSD-3-Clause
// All sides at the same points of what is uncertain, and each candidate against the present wrap.
#include "models/units.hpp"
#include "sim/bands/bands.hpp"
#include "sim/bands/draw_points.hpp"
#include "sim/compare/detail.hpp"
#include "sim/compare/exchange.hpp"
#include "sim/outputs/outputs.hpp"

#include <boost/math/distributions/students_t.hpp>
#include <boost/math/special_functions/erf.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace hoopfield::compare_detail {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

/// A film counts once, on however many sides it is.
std::vector<SharedSide> shared_sides(const Comparison& comparison, std::vector<std::size_t>& places) {
  std::vector<SharedSide> shared;
  std::size_t blocks = 0;
  for (std::size_t i = 0; i < comparison.sides.size(); ++i) {
    const ComparedSide& side = comparison.sides[i];
    if (side.failed || !side.scenario) continue;
    const auto known = std::find_if(shared.begin(), shared.end(), [&](const SharedSide& other) {
      return same_film(*other.scenario, *side.scenario);
    });
    shared.push_back({&*side.scenario, known != shared.end() ? known->film_block : blocks++});
    places.push_back(i);
  }
  return shared;
}

struct Read {
  std::string name;
  MeasuredValue value;
};

/// What was read on a measured side, under the names of the predicted numbers.
std::vector<Read> readings_of(const MeasuredNumbers& r) {
  std::vector<Read> list;
  const char* const moments[] = {"end", "after_storage"};
  for (std::size_t m = 0; m < r.pull_force.size(); ++m)
    for (std::size_t s = 0; s < station_names.size(); ++s)
      if (r.pull_force[m][s])
        list.push_back(
            {std::string("containment.") + moments[m] + "." + station_names[s] + ".pull_force", *r.pull_force[m][s]});
  if (r.film_mass) list.push_back({"film.mass", *r.film_mass});
  if (r.stretch_on_load) list.push_back({"film.stretch_on_load", *r.stretch_on_load});
  if (r.laid_width) list.push_back({"film.laid_width", *r.laid_width});
  return list;
}
constexpr std::size_t most_readings = 9;

/// A mean that was read, at a standard normal z: lognormal about it with its standard error, by Student's t over the
/// loads; of one load the scatter from load to load and of a reading stands for it.
double read_at(const MeasuredValue& value, double z) {
  if (!(value.mean > 0.0)) return value.mean;
  if (!value.standard_error || value.loads < 2)
    return value.mean * std::exp(std::hypot(load_scatter, reading_scatter) * z);
  const double below = 0.5 * boost::math::erfc(std::abs(z) / std::numbers::sqrt2);
  const boost::math::students_t t(static_cast<double>(value.loads) - 1.0);
  const double many = std::abs(boost::math::quantile(t, below));
  return value.mean * std::exp(*value.standard_error / value.mean * std::copysign(many, z));
}

/// The readings of a measured side, each drawn in a dimension of its own, and the amounts that follow from its film.
BandResult measured_draws(const ComparedSide& side, const MeasuredSide& given, const DrawPoints& points,
                          const std::vector<double>& at, std::size_t dimension) {
  const std::vector<Read> readings = readings_of(*side.readings);
  BandResult band;
  band.samples = static_cast<double>(at.size());
  band.point = at;
  band.status.assign(at.size(), 0.0);
  for (const Read& reading : readings) band.names.push_back(reading.name);
  if (side.economics) band.names.insert(band.names.end(), drawn_amount_names().begin(), drawn_amount_names().end());
  const RollFilm film{given.film.width, given.film.thickness, given.density.value_or(0.0)};
  for (const double point : at) {
    double mass = nan;
    for (std::size_t i = 0; i < readings.size(); ++i) {
      band.numbers.push_back(read_at(readings[i].value, points.normal(static_cast<std::size_t>(point), dimension + i)));
      if (readings[i].name == "film.mass") mass = band.numbers.back();
    }
    if (!side.economics) continue;
    const double length = film.mass_per_length() > 0.0 ? laid_length(mass, 1.0, film) : 0.0;
    const std::vector<double> amounts = drawn_amounts(economics({length, mass}, film, given.film.price, given.cost));
    band.numbers.insert(band.numbers.end(), amounts.begin(), amounts.end());
  }
  return band;
}

bool is_containment(const std::string& name) { return name.starts_with("containment."); }

/// Every number both sides have draws of.
void pair_sides(const ComparedSide& present, ComparedSide& side, double words_at) {
  const BandResult *then = present.draws(), *now = side.draws();
  if (then == nullptr || now == nullptr) {
    const ComparedSide& without = then == nullptr ? present : side;
    if (without.result && without.result->band) side.paired_message = without.result->band->message;
    return;
  }
  double failed = 0.0;
  for (std::size_t i = 0; i < then->draws(); ++i) failed += then->status[i] != 0.0 || now->status[i] != 0.0 ? 1.0 : 0.0;
  if (failed > most_failed * then->samples) {
    side.paired_message = "no band: " + short_number(failed) + " of " + short_number(then->samples) +
                          " draws gave no result on one of the two sides";
    return;
  }
  for (const CompareQuantity& q : compare_quantities()) {
    auto paired = hoopfield::paired_band(compare_draws(present, q.name), compare_draws(side, q.name), words_at);
    if (!paired) continue;
    paired->name = q.name;
    if (is_containment(q.name) && paired->ratio) paired->loads_to_tell = loads_to_tell(paired->ratio->median, words_at);
    side.paired.push_back(std::move(*paired));
  }
}

/// \param high name of the upper end where an amount is a range; its band holds both ends, its value is their middle
std::optional<Saving> saving(const ComparedSide& present, const ComparedSide& side, const char* word,
                             const std::string& low, const std::string& high) {
  Saving saved{word, 0.0, std::nullopt};
  std::optional<Band> band;
  for (const std::string& name : {low, high}) {
    const auto then = compare_value(present, name), now = compare_value(side, name);
    if (!then || !now) return std::nullopt;
    saved.value += 0.5 * (*then - *now);
    const PairedBand* paired = paired_band(side, name);
    if (paired == nullptr) continue;
    const Band& d = paired->difference;
    if (!band) band = Band{-d.high, 0.0, -d.low};
    *band = {std::min(band->low, -d.high), band->median - 0.5 * d.median, std::max(band->high, -d.low)};
  }
  saved.band = band;
  return saved;
}

/// Amounts of years of as many loads in one currency.
void add_savings(const ComparedSide& present, ComparedSide& side) {
  if (!present.economics || !side.economics || !present.economics->year || !side.economics->year) return;
  if (present.economics->year->loads != side.economics->year->loads) return;
  const bool same_money = present.economics->currency == side.economics->currency &&
                          present.economics->labour_cost.has_value() == side.economics->labour_cost.has_value();
  const auto add = [&](const char* word, const std::string& low, const std::string& high) {
    if (auto saved = saving(present, side, word, low, high)) side.savings.push_back(std::move(*saved));
  };
  add("rolls", "cost.year.rolls", "cost.year.rolls");
  add("film", "cost.year.film_mass", "cost.year.film_mass");
  if (same_money) add("money", "cost.year.total", "cost.year.total");
  add("co2e", "cost.year.co2e_low", "cost.year.co2e_high");
}

}  // namespace

void draw_sides(Comparison& comparison, const std::vector<CompareSide>& given, Observer* observer, double from,
                double to) {
  std::vector<std::size_t> places;
  const std::vector<SharedSide> shared = shared_sides(comparison, places);
  BandOptions options;
  if (!shared.empty()) options = band_options(*shared.front().scenario);
  options.samples = static_cast<std::size_t>(comparison.options.band_samples);
  options.from = from;
  options.to = to;
  std::vector<BandResult> bands = draw_bands_together(shared, options, observer);
  std::vector<double> at(options.samples);
  for (std::size_t i = 0; i < at.size(); ++i) at[i] = bands.empty() ? static_cast<double>(i) : bands.front().point[i];
  for (std::size_t i = 0; i < bands.size(); ++i) {
    ComparedSide& side = comparison.sides[places[i]];
    take_bands(*side.scenario, *side.result, std::move(bands[i]));
  }
  // Readings have dimensions behind those of all films.
  const std::size_t first = dimension_count(most_compared_sides);
  std::optional<DrawPoints> points;
  for (std::size_t i = 0; i < comparison.sides.size(); ++i) {
    ComparedSide& side = comparison.sides[i];
    if (!side.readings) continue;
    if (!points) points.emplace(2 * options.samples, first + comparison.sides.size() * most_readings, options.seed);
    side.measured_band =
        measured_draws(side, std::get<MeasuredSide>(given[i].content), *points, at, first + i * most_readings);
  }
  for (std::size_t i = 1; i < comparison.sides.size(); ++i) {
    pair_sides(comparison.sides.front(), comparison.sides[i], comparison.options.words_at);
    add_savings(comparison.sides.front(), comparison.sides[i]);
  }
}

}  // namespace hoopfield::compare_detail
