// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/economics_text.hpp"

#include "sim/base/number_text.hpp"
#include "sim/words/text_layout.hpp"

#include <cmath>

namespace hoopfield::words {

namespace {

constexpr std::size_t label_width = 24;

std::string line(const std::string& label, const std::string& value) {
  return wrap(value, pad_right(label.empty() ? "" : "  " + label, label_width), std::string(label_width, ' '));
}

/// Whole numbers in groups of three from 10 000 up: "50 000".
std::string grouped(double value) {
  std::string text = fixed(value, 0);
  if (text.size() < 5) return text;
  for (std::size_t i = text.size() - 3; i > 0 && i<text.size(); i = i> 3 ? i - 3 : 0) text.insert(i, "\u00a0");
  return text;
}

/// A computed number: three digits, four from 1000 up.
std::string count(double value) {
  if (!std::isfinite(value)) return "-";
  return value < 1000.0 ? trimmed(value) : grouped(four_digits(value));
}

/// A number somebody gave: all its digits.
std::string given(double value) {
  return value < 1000.0 || value != std::round(value) ? shortest(value) : grouped(value);
}

std::string amount(double si, const DisplayUnit& unit) {
  return count(si * unit.per_si + unit.offset) + " " + unit.name;
}

std::string film_line(const Economics& e, UnitStyle style) {
  const DisplayUnits units(style);
  std::string text = quantity(e.film_mass, units.mass);
  if (e.film_length) text += ", " + quantity(*e.film_length, units.film_length) + " from the roll";
  if (e.film_cost) text += "; " + money(*e.film_cost, e.currency) + " at " + price(*e.film_price, e.currency, style);
  return line("film per load", text);
}

std::string roll_lines(const Economics& e, UnitStyle style) {
  if (!e.roll_mass) return "";
  const DisplayUnits units(style);
  std::string text = amount(*e.roll_mass, large_mass(style));
  if (e.roll_length) text += ", " + amount(*e.roll_length, units.film_length);
  if (e.loads_per_roll) text += "; " + count(*e.loads_per_roll) + " loads per roll";
  std::string lines = line("roll", text);
  if (e.labour_cost) lines += line("roll changes", money(*e.labour_cost, e.currency) + " of labour per load");
  if (e.labour_cost && e.cost) lines += line("cost per load", money(*e.cost, e.currency) + ", film and roll changes");
  return lines;
}

std::string footprint_lines(const Economics& e, UnitStyle style) {
  const DisplayUnit mass = large_mass(style), megajoule{1e-6, "MJ"};
  const bool metric = style == UnitStyle::metric;
  const DisplayUnit factor{1.0, metric ? "kg per kg of film" : "lb per lb of film"};
  const DisplayUnit energy{1e-6 / mass.per_si, metric ? "MJ per kg of film" : "MJ per lb of film"};
  return line("CO2e per load", range_text(e.co2e_low, e.co2e_high, mass) + ", at " +
                                   range_text(e.co2e_factor.low, e.co2e_factor.high, factor) + ": " +
                                   e.co2e_factor.source) +
         line("energy per load", range_text(e.energy_low, e.energy_high, megajoule) + ", at " +
                                     range_text(e.energy_factor.low, e.energy_factor.high, energy) + ": " +
                                     e.energy_factor.source);
}

std::string year_lines(const Economics& e, UnitStyle style) {
  if (!e.year) return "";
  const YearlyEconomics& y = *e.year;
  const DisplayUnit mass = large_mass(style), megajoule{1e-6, "MJ"};
  std::string text = line("one year", given(y.loads) + " loads x " + quantity(e.film_mass, mass) + " = " +
                                          amount(y.film_mass, mass) + " of film");
  if (y.rolls) text += line("", "/ " + quantity(*e.roll_mass, mass) + " per roll = " + count(*y.rolls) + " rolls");
  if (y.roll_change_time)
    text +=
        line("", "x " + duration(*e.roll_change_time) + " per change = " + count(*y.roll_change_time / 3600.0) + " h");
  if (y.labour_cost)
    text +=
        line("", "x " + fixed(*e.labour_rate * 3600.0, 2) + " " + (e.currency.empty() ? "per h" : e.currency + "/h") +
                     " = " + money(*y.labour_cost, e.currency) + " for roll changes");
  if (y.film_cost)
    text += line("", "film x " + price(*e.film_price, e.currency, style) + " = " + money(*y.film_cost, e.currency));
  if (y.labour_cost && y.cost) text += line("", "together " + money(*y.cost, e.currency));
  return text + line("", "film x CO2e factor = " + range_text(y.co2e_low, y.co2e_high, mass) + " CO2e") +
         line("", "film x energy factor = " + range_text(y.energy_low, y.energy_high, megajoule));
}

}  // namespace

DisplayUnit large_mass(UnitStyle style) { return display_unit("kg", style); }

std::string money_digits(double value) {
  const double size = std::abs(value);
  if (size >= 1000.0) return (value < 0.0 ? "-" : "") + count(size);
  return fixed(value, size >= 100.0 || value == 0.0 ? 0 : size < 0.1 ? 4 : 2);
}

std::string money(double value, const std::string& currency) {
  return money_digits(value) + (currency.empty() ? " in the currency of film.price" : " " + currency);
}

std::string price(double per_kg, const std::string& currency, UnitStyle style) {
  const DisplayUnit mass = large_mass(style);
  return fixed(per_kg / mass.per_si, 2) + " " + (currency.empty() ? "per " : currency + "/") + mass.name;
}

std::string range_text(double low, double high, const DisplayUnit& unit) {
  const std::string from = count(low * unit.per_si), to = count(high * unit.per_si);
  return (from == to ? from : from + " to " + to) + " " + unit.name;
}

std::string economics_text(const Economics& e, UnitStyle style) {
  return film_line(e, style) + roll_lines(e, style) + footprint_lines(e, style) + year_lines(e, style);
}

}  // namespace hoopfield::words
