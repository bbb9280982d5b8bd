// SPDX-License-Identifier: BSD-3-Clause
#include "sim/outputs/economics.hpp"

#include <utility>

namespace hoopfield {

namespace {

constexpr double megajoule = 1e6;

std::optional<double> product(std::optional<double> a, std::optional<double> b) {
  return a && b ? std::optional<double>(*a * *b) : std::nullopt;
}

/// Film and, where known, roll changes.
std::optional<double> total(std::optional<double> film, std::optional<double> labour) {
  if (!film) return std::nullopt;
  return *film + labour.value_or(0.0);
}

YearlyEconomics year_of(const Economics& load, const CostInput& cost) {
  YearlyEconomics year;
  year.loads = *cost.loads_per_year;
  year.film_length = product(year.loads, load.film_length);
  year.film_mass = year.loads * load.film_mass;
  if (load.roll_mass) year.rolls = year.film_mass / *load.roll_mass;
  year.roll_change_time = product(year.rolls, cost.roll_change_time);
  year.film_cost = product(year.film_mass, load.film_price);
  year.labour_cost = product(year.roll_change_time, cost.labour_rate);
  year.cost = total(year.film_cost, year.labour_cost);
  year.co2e_low = year.film_mass * load.co2e_factor.low;
  year.co2e_high = year.film_mass * load.co2e_factor.high;
  year.energy_low = year.film_mass * load.energy_factor.low;
  year.energy_high = year.film_mass * load.energy_factor.high;
  return year;
}

}  // namespace

RollFilm roll_film(const Scenario& s) { return {s.film.width, s.film.thickness, s.film_description.density}; }

double film_mass(double length, double stretch, const RollFilm& film) {
  return film.mass_per_length() * length / stretch;
}

double laid_length(double mass, double stretch, const RollFilm& film) {
  return mass * stretch / film.mass_per_length();
}

Footprint co2e_factor(const CostInput& cost) {
  if (cost.co2e_factor) return {*cost.co2e_factor, *cost.co2e_factor, true, "given"};
  // 1.54 t CO2e per short ton of 907.18474 kg.
  return {
      1.54 / 0.90718474, 2.1, false,
      "published, cradle to gate of the resin: LLDPE by EPA WARM version 16 (from a public transcription) to LDPE by "
      "Hopewell, Dvorak & Kosior 2009, Table 3; film extrusion and end of life not included"};
}

Footprint energy_factor(const CostInput& cost) {
  if (cost.energy_factor) return {*cost.energy_factor, *cost.energy_factor, true, "given"};
  return {
      76.7 * megajoule, 78.1 * megajoule, false,
      "published, cradle to gate of the resin: HDPE to LDPE by Hopewell, Dvorak & Kosior 2009, Table 3 (LLDPE is not "
      "listed); film extrusion and end of life not included"};
}

bool economics_asked(const FilmInput& film, const CostInput& cost) {
  return film.price || cost.loads_per_year || cost.roll_length || cost.roll_mass || cost.roll_change_time ||
         cost.labour_rate || cost.co2e_factor || cost.energy_factor;
}

Economics economics(const FilmUse& use, const RollFilm& film, std::optional<double> price, const CostInput& cost) {
  Economics e;
  e.currency = cost.currency;
  if (use.length_on_roll > 0.0) e.film_length = use.length_on_roll;
  e.film_mass = use.mass;
  e.film_price = price;
  e.film_cost = product(price, use.mass);
  const double per_length = film.mass_per_length();
  if (cost.roll_mass)
    e.roll_mass = cost.roll_mass;
  else if (cost.roll_length && per_length > 0.0)
    e.roll_mass = *cost.roll_length * per_length;
  if (cost.roll_length)
    e.roll_length = cost.roll_length;
  else if (cost.roll_mass && per_length > 0.0)
    e.roll_length = *cost.roll_mass / per_length;
  if (e.roll_mass && use.mass > 0.0) {
    e.loads_per_roll = *e.roll_mass / use.mass;
    e.roll_change_time = cost.roll_change_time;
    e.labour_rate = cost.labour_rate;
    e.labour_cost = product(cost.roll_change_time, cost.labour_rate);
    if (e.labour_cost) *e.labour_cost /= *e.loads_per_roll;
  }
  e.cost = total(e.film_cost, e.labour_cost);
  e.co2e_factor = co2e_factor(cost);
  e.energy_factor = energy_factor(cost);
  e.co2e_low = use.mass * e.co2e_factor.low;
  e.co2e_high = use.mass * e.co2e_factor.high;
  e.energy_low = use.mass * e.energy_factor.low;
  e.energy_high = use.mass * e.energy_factor.high;
  if (cost.loads_per_year) e.year = year_of(e, cost);
  return e;
}

Economics economics(const Scenario& scenario, const Result& result) {
  return economics(result.film, roll_film(scenario), scenario.film.price, scenario.cost);
}

std::optional<double> break_even_price(const Economics& present, const Economics& candidate) {
  if (!present.film_cost || !(candidate.film_mass > 0.0) || present.currency != candidate.currency) return std::nullopt;
  const bool both = present.labour_cost && candidate.labour_cost;
  const double saved_labour = both ? *present.labour_cost - *candidate.labour_cost : 0.0;
  return (*present.film_cost + saved_labour) / candidate.film_mass;
}

}  // namespace hoopfield
