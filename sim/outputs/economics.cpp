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
  year.film_length = year.loads * load.film_length;
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

/// A measured side may know the mass and not the length.
std::optional<double> known(double value) { return value > 0.0 ? std::optional<double>(value) : std::nullopt; }

class OutputList {
 public:
  /// \param suffix unit in the JSON name; \param per_si JSON number = SI * per_si
  void add(const char* name, const char* unit, const char* suffix, double per_si, const char* long_name,
           std::optional<double> value) {
    const std::string ending = *suffix == '\0' ? "" : std::string("_") + suffix;
    if (value) list_.push_back({name, unit, name + ending, per_si, long_name, *value});
  }
  std::vector<EconomicsOutput> take() { return std::move(list_); }

 private:
  std::vector<EconomicsOutput> list_;
};

constexpr double per_mega = 1e-6, per_kilo = 1e-3, per_hour = 1.0 / 3600.0;

void list_load(const Economics& e, OutputList& list) {
  list.add("film_length", "m", "m", 1.0, "film per load, length on the roll", known(e.film_length));
  list.add("film_mass", "kg", "kg", 1.0, "film per load", e.film_mass);
  list.add("film_price", "money/kg", "per_kg", 1.0, "price of film", e.film_price);
  list.add("film_per_load", "money", "", 1.0, "cost of film per load", e.film_cost);
  list.add("roll_mass", "kg", "kg", 1.0, "film on a full roll", e.roll_mass);
  list.add("roll_length", "m", "m", 1.0, "film on a full roll", e.roll_length);
  list.add("loads_per_roll", "1", "", 1.0, "loads wrapped from a roll", e.loads_per_roll);
  list.add("roll_change_time", "s", "min", 1.0 / 60.0, "time of one roll change", e.roll_change_time);
  list.add("labour_rate", "money/s", "per_h", 3600.0, "money per time of labour", e.labour_rate);
  list.add("roll_changes_per_load", "money", "", 1.0, "cost of roll changes per load", e.labour_cost);
  list.add("per_load", "money", "", 1.0, "cost per load: film and, where known, roll changes", e.cost);
  list.add("co2e_factor_low", "1", "", 1.0, "kg CO2 equivalent per kg of film, low", e.co2e_factor.low);
  list.add("co2e_factor_high", "1", "", 1.0, "kg CO2 equivalent per kg of film, high", e.co2e_factor.high);
  list.add("co2e_low", "kg", "kg", 1.0, "CO2 equivalent per load, low", e.co2e_low);
  list.add("co2e_high", "kg", "kg", 1.0, "CO2 equivalent per load, high", e.co2e_high);
  list.add("energy_factor_low", "J/kg", "MJ_per_kg", per_mega, "primary energy of film, low", e.energy_factor.low);
  list.add("energy_factor_high", "J/kg", "MJ_per_kg", per_mega, "primary energy of film, high", e.energy_factor.high);
  list.add("energy_low", "J", "MJ", per_mega, "primary energy per load, low", e.energy_low);
  list.add("energy_high", "J", "MJ", per_mega, "primary energy per load, high", e.energy_high);
}

void list_year(const YearlyEconomics& y, OutputList& list) {
  list.add("year.loads", "1", "", 1.0, "loads per year", y.loads);
  list.add("year.film_length", "m", "km", per_kilo, "film per year, length on the roll",
           known(y.film_length));
  list.add("year.film_mass", "kg", "kg", 1.0, "film per year", y.film_mass);
  list.add("year.rolls", "1", "", 1.0, "rolls per year, each ends in a change", y.rolls);
  list.add("year.roll_change_time", "s", "h", per_hour, "time of roll changes per year", y.roll_change_time);
  list.add("year.film", "money", "", 1.0, "cost of film per year", y.film_cost);
  list.add("year.roll_changes", "money", "", 1.0, "cost of roll changes per year", y.labour_cost);
  list.add("year.total", "money", "", 1.0, "cost per year: film and, where known, roll changes", y.cost);
  list.add("year.co2e_low", "kg", "kg", 1.0, "CO2 equivalent per year, low", y.co2e_low);
  list.add("year.co2e_high", "kg", "kg", 1.0, "CO2 equivalent per year, high", y.co2e_high);
  list.add("year.energy_low", "J", "MJ", per_mega, "primary energy per year, low", y.energy_low);
  list.add("year.energy_high", "J", "MJ", per_mega, "primary energy per year, high", y.energy_high);
}

}  // namespace

RollFilm roll_film(const Scenario& s) { return {s.film.width, s.film.thickness, s.film_description.density}; }

double film_mass(double length, double stretch, const RollFilm& film) {
  return film.mass_per_length() * length / stretch;
}

double laid_length(double mass, double stretch, const RollFilm& film) { return mass * stretch / film.mass_per_length(); }

Footprint co2e_factor(const CostInput& cost) {
  if (cost.co2e_factor) return {*cost.co2e_factor, *cost.co2e_factor, true, "given"};
  // 1.54 t CO2e per short ton of 907.18474 kg.
  return {1.54 / 0.90718474, 2.1, false,
          "published, cradle to gate of the resin: LLDPE by EPA WARM version 16 (from a public transcription) to LDPE by "
          "Hopewell, Dvorak & Kosior 2009, Table 3; film extrusion and end of life not included"};
}

Footprint energy_factor(const CostInput& cost) {
  if (cost.energy_factor) return {*cost.energy_factor, *cost.energy_factor, true, "given"};
  return {76.7 * megajoule, 78.1 * megajoule, false,
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
  e.film_length = use.length_on_roll;
  e.film_mass = use.mass;
  e.film_price = price;
  e.film_cost = product(price, use.mass);
  const double per_length = film.mass_per_length();
  if (cost.roll_mass) e.roll_mass = cost.roll_mass;
  else if (cost.roll_length && per_length > 0.0) e.roll_mass = *cost.roll_length * per_length;
  if (cost.roll_length) e.roll_length = cost.roll_length;
  else if (cost.roll_mass && per_length > 0.0) e.roll_length = *cost.roll_mass / per_length;
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

std::vector<EconomicsOutput> economics_outputs(const Economics& e) {
  OutputList list;
  list_load(e, list);
  if (e.year) list_year(*e.year, list);
  return list.take();
}

}  // namespace hoopfield
