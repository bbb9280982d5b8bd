// SPDX-License-Identifier: BSD-3-Clause
// Declarations of the chain from loads to CO2e, in its order. Amounts that are not known are absent.
#include "models/parameter.hpp"

namespace hoopfield::detail {
namespace {

using enum Hazard;

/// SI unit ("money" in the currency of the prices), units people write and unit in JSON.
struct Units {
  std::string_view si, metric, inch_pound, json;
};

struct Words {
  std::string_view label, sentence;
  Measure measure = {};
};

constexpr Parameter amount(std::string_view key, Units units, Words words) {
  return {.key = key,
          .room = ParameterRoom::output,
          .unit = units.si,
          .metric = units.metric,
          .inch_pound = units.inch_pound,
          .sentence = words.sentence,
          .measure = words.measure,
          .reference = "Computed; documented with the stage that computes it.",
          .label = words.label,
          .json_unit = units.json,
          .file = "cost"};
}

constexpr Measure no_direct_factor{"Cannot be measured at the line; ask the film maker for the factor.", none};
constexpr Measure invoices{"Invoices and counts over a year.", none};

// clang-format off
constexpr Parameter declarations[] = {
    amount("cost.film_length", {"m", "m", "ft", "m"},
           {"film per load, length on the roll",
            "Length of film drawn from the roll per load.",
            {"Count the turns of the roll and multiply by its circumference.", running_machine}}),
    amount("cost.film_mass", {"kg", "kg", "lb", "kg"},
           {"film per load",
            "Mass of film per load.",
            {"Cut the film off and weigh it.", cut_film | falling_goods}}),
    amount("cost.film_price", {"money/kg", "", "", "/kg"},
           {"price of film",
            "Price of film per mass, film.price.",
            {"Take it from an invoice.", none}}),
    amount("cost.film_per_load", {"money", "", "", ""},
           {"cost of film per load",
            "Cost of film per load: film mass times film.price.",
            {"Weigh the film of one load and take the price from an invoice.", cut_film | falling_goods}}),
    amount("cost.roll_mass", {"kg", "kg", "lb", "kg"},
           {"film on a full roll, mass",
            "Mass of film on a full roll, given or calculated from its length.",
            {"Weigh a full roll and an empty core.", heavy_roll}}),
    amount("cost.roll_length", {"m", "m", "ft", "m"},
           {"film on a full roll, length",
            "Length of film on a full roll, given or calculated from its mass.",
            {"Read the label of the roll and check it by weighing.", heavy_roll}}),
    amount("cost.loads_per_roll", {"", "", "", ""},
           {"loads wrapped from a roll",
            "Film on a full roll divided by film per load.",
            {"Count the loads between roll changes.", none}}),
    amount("cost.roll_change_time", {"s", "min", "min", "min"},
           {"time of one roll change",
            "Time of one roll change, cost.roll_change_time.",
            {"Time a few changes with a stop-watch.", running_machine}}),
    amount("cost.labour_rate", {"money/s", "", "", "/h"},
           {"cost of labour per time",
            "Cost of labour per time, cost.labour_rate.",
            {"Payroll.", none}}),
    amount("cost.roll_changes_per_load", {"money", "", "", ""},
           {"cost of roll changes per load",
            "Cost of roll changes per load: cost.roll_change_time times cost.labour_rate, divided by loads per roll.",
            {"Time a few changes with a stop-watch.", running_machine}}),
    amount("cost.per_load", {"money", "", "", ""},
           {"cost per load: film and, where known, roll changes",
            "Cost per load: film and, where known, roll changes. Labour for wrapping is not included.",
            {"Invoices and counts.", none}}),
    amount("cost.co2e_factor_low", {"", "", "", ""},
           {"kg CO2 equivalent per kg of film, low",
            "CO2 equivalent per mass of film, low end: cost.co2e_factor or the published range.",
            no_direct_factor}),
    amount("cost.co2e_factor_high", {"", "", "", ""},
           {"kg CO2 equivalent per kg of film, high",
            "CO2 equivalent per mass of film, high end.",
            no_direct_factor}),
    amount("cost.co2e_low", {"kg", "kg", "lb", "kg"},
           {"CO2 equivalent per load, low",
            "CO2 equivalent of the film of one load, low end of the factor.",
            no_direct_factor}),
    amount("cost.co2e_high", {"kg", "kg", "lb", "kg"},
           {"CO2 equivalent per load, high",
            "CO2 equivalent of the film of one load, high end of the factor.",
            no_direct_factor}),
    amount("cost.energy_factor_low", {"J/kg", "MJ/kg", "MJ/kg", "MJ/kg"},
           {"primary energy of film, low",
            "Primary energy per mass of film, low end: cost.energy_factor or the published range.",
            no_direct_factor}),
    amount("cost.energy_factor_high", {"J/kg", "MJ/kg", "MJ/kg", "MJ/kg"},
           {"primary energy of film, high",
            "Primary energy per mass of film, high end.",
            no_direct_factor}),
    amount("cost.energy_low", {"J", "MJ", "MJ", "MJ"},
           {"primary energy per load, low",
            "Primary energy of the film of one load, low end of the factor.",
            no_direct_factor}),
    amount("cost.energy_high", {"J", "MJ", "MJ", "MJ"},
           {"primary energy per load, high",
            "Primary energy of the film of one load, high end of the factor.",
            no_direct_factor}),
    amount("cost.year.loads", {"", "", "", ""},
           {"loads per year",
            "Loads per year, cost.loads_per_year; without it there are no figures per year.",
            {"Counter of the line.", none}}),
    amount("cost.year.film_length", {"m", "km", "ft", "km"},
           {"film per year, length on the roll",
            "Length of film per year, as on the roll.",
            invoices}),
    amount("cost.year.film_mass", {"kg", "kg", "lb", "kg"},
           {"film per year",
            "Mass of film per year.",
            invoices}),
    amount("cost.year.rolls", {"", "", "", ""},
           {"rolls per year",
            "Rolls per year; each ends with a change.",
            invoices}),
    amount("cost.year.roll_change_time", {"s", "h", "h", "h"},
           {"time of roll changes per year",
            "Time of roll changes per year.",
            invoices}),
    amount("cost.year.film", {"money", "", "", ""},
           {"cost of film per year",
            "Cost of film per year.",
            invoices}),
    amount("cost.year.roll_changes", {"money", "", "", ""},
           {"cost of roll changes per year",
            "Cost of roll changes per year.",
            invoices}),
    amount("cost.year.total", {"money", "", "", ""},
           {"cost per year: film and, where known, roll changes",
            "Cost per year: film and, where known, roll changes.",
            invoices}),
    amount("cost.year.co2e_low", {"kg", "kg", "lb", "kg"},
           {"CO2 equivalent per year, low",
            "CO2 equivalent of a year's film, low end of the factor.",
            no_direct_factor}),
    amount("cost.year.co2e_high", {"kg", "kg", "lb", "kg"},
           {"CO2 equivalent per year, high",
            "CO2 equivalent of a year's film, high end of the factor.",
            no_direct_factor}),
    amount("cost.year.energy_low", {"J", "MJ", "MJ", "MJ"},
           {"primary energy per year, low",
            "Primary energy of a year's film, low end of the factor.",
            no_direct_factor}),
    amount("cost.year.energy_high", {"J", "MJ", "MJ", "MJ"},
           {"primary energy per year, high",
            "Primary energy of a year's film, high end of the factor.",
            no_direct_factor}),
};
// clang-format on

}  // namespace

std::span<const Parameter> cost_output_declarations() { return declarations; }

}  // namespace hoopfield::detail
