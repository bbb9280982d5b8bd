// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film, rolls, money and emissions: one chain from loads to CO2e that a reader can recompute.
#pragma once

#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

/// Film as it is on the roll, SI.
struct RollFilm {
  double width = 0.0;                                                                   ///< m
  double thickness = 0.0;                                                               ///< m
  double density = 0.0;                                                                 ///< kg/m^3
  [[nodiscard]] double mass_per_length() const { return width * thickness * density; }  ///< kg per metre of roll
};

[[nodiscard]] RollFilm roll_film(const Scenario& scenario);

/// Mass of film that covers `laid_length` metres at `stretch` (length on the load over length on the roll):
/// `m = rho w0 t0 L / l`. Pinned by tests/unit/economics_test.cpp on worked examples.
[[nodiscard]] double film_mass(double laid_length, double stretch, const RollFilm& film);

/// The inverse: metres laid by a mass of film at a stretch.
[[nodiscard]] double laid_length(double mass, double stretch, const RollFilm& film);

/// A factor per mass of film: what the user gave, or the range published sources span.
struct Footprint {
  double low = 0.0, high = 0.0;  ///< equal when given
  bool given = false;
  std::string source;  ///< where the range comes from; "given" when the user gave it
};

/// kg CO2 equivalent per kg of film, cradle to gate of the resin. Not given: 1.70 (LLDPE, EPA WARM version 16, read
/// from a public transcription of its exhibits, 1.54 t per short ton) to 2.1 (LDPE, Hopewell, Dvorak & Kosior 2009,
/// Table 3). Film extrusion, transport and end of life are not in it.
[[nodiscard]] Footprint co2e_factor(const CostInput& cost);

/// J of primary energy per kg of film. Not given: 76.7 (HDPE) to 78.1 MJ/kg (LDPE), Hopewell, Dvorak & Kosior 2009,
/// Table 3; the table does not list LLDPE.
[[nodiscard]] Footprint energy_factor(const CostInput& cost);

/// Amounts of one year. Each is the product of the ones before it.
struct YearlyEconomics {
  double loads = 0.0;
  std::optional<double> film_length;           ///< m on the roll
  double film_mass = 0.0;                      ///< kg
  std::optional<double> rolls;                 ///< film mass over roll mass; each ends in a change
  std::optional<double> roll_change_time;      ///< s
  std::optional<double> film_cost;             ///< money
  std::optional<double> labour_cost;           ///< money, roll changes only
  std::optional<double> cost;                  ///< money, film and, where known, roll changes
  double co2e_low = 0.0, co2e_high = 0.0;      ///< kg
  double energy_low = 0.0, energy_high = 0.0;  ///< J

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("loads", s.loads);
    visit("film_length", s.film_length);
    visit("film_mass", s.film_mass);
    visit("rolls", s.rolls);
    visit("roll_change_time", s.roll_change_time);
    visit("film", s.film_cost);
    visit("roll_changes", s.labour_cost);
    visit("total", s.cost);
    visit("co2e_low", s.co2e_low);
    visit("co2e_high", s.co2e_high);
    visit("energy_low", s.energy_low);
    visit("energy_high", s.energy_high);
  }
};

/// What one load takes, and one year when the number of loads is known. Absent = not asked for or not known.
struct Economics {
  std::string currency;               ///< a label, may be empty
  std::optional<double> film_length;  ///< m on the roll, per load; a measured side may know the mass alone
  double film_mass = 0.0;             ///< kg per load
  std::optional<double> film_price;   ///< money/kg
  std::optional<double> film_cost;    ///< money per load
  std::optional<double> roll_mass;    ///< kg, given or from its length
  std::optional<double> roll_length;  ///< m, given or from its mass
  std::optional<double> loads_per_roll;
  std::optional<double> roll_change_time;      ///< s
  std::optional<double> labour_rate;           ///< money/s
  std::optional<double> labour_cost;           ///< money per load, roll changes only
  std::optional<double> cost;                  ///< money per load, film and, where known, roll changes
  Footprint co2e_factor, energy_factor;        ///< per kg of film
  double co2e_low = 0.0, co2e_high = 0.0;      ///< kg per load
  double energy_low = 0.0, energy_high = 0.0;  ///< J per load
  std::optional<YearlyEconomics> year;         ///< only with cost.loads_per_year

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("film_length", s.film_length);
    visit("film_mass", s.film_mass);
    visit("film_price", s.film_price);
    visit("film_per_load", s.film_cost);
    visit("roll_mass", s.roll_mass);
    visit("roll_length", s.roll_length);
    visit("loads_per_roll", s.loads_per_roll);
    visit("roll_change_time", s.roll_change_time);
    visit("labour_rate", s.labour_rate);
    visit("roll_changes_per_load", s.labour_cost);
    visit("per_load", s.cost);
    visit("co2e_factor_low", s.co2e_factor.low);
    visit("co2e_factor_high", s.co2e_factor.high);
    visit("co2e_low", s.co2e_low);
    visit("co2e_high", s.co2e_high);
    visit("energy_factor_low", s.energy_factor.low);
    visit("energy_factor_high", s.energy_factor.high);
    visit("energy_low", s.energy_low);
    visit("energy_high", s.energy_high);
    visit("year", s.year);
  }
};

/// True when the inputs ask for it: a film price or any number of [cost].
[[nodiscard]] bool economics_asked(const FilmInput& film, const CostInput& cost);

/// The chain of one wrap. \param use film per load \param film on the roll \param price money/kg
[[nodiscard]] Economics economics(const FilmUse& use, const RollFilm& film, std::optional<double> price,
                                  const CostInput& cost);
[[nodiscard]] Economics economics(const Scenario& scenario, const Result& result);

/// Film price (money/kg) at which the candidate costs as much per load as the present wrap: below it the candidate
/// pays. Roll changes count only when both sides know them. Absent when the present cost or the candidate's film mass
/// is not known, and when the currencies differ. Negative when roll changes alone cost more than the present wrap.
[[nodiscard]] std::optional<double> break_even_price(const Economics& present, const Economics& candidate);

}  // namespace hoopfield
