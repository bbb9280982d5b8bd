// SPDX-License-Identifier: BSD-3-Clause
// Declarations of the scenario keys of storage, stations, targets, cost and numerics.
#include "models/parameter.hpp"

namespace hoopfield::detail {
namespace {

using enum ParameterKind;
using enum Hazard;

constexpr Bound at_least(double v) { return {v, true}; }
constexpr Bound more_than(double v) { return {v, false}; }

// clang-format off
constexpr Parameter declarations[] = {
    {.key = "wrapping.temperature", .unit = "K", .metric = "degC", .inch_pound = "degF", .default_text = "23 degC",
     .lower = more_than(0.0), .upper = Bound{450.0, true}, .valid_low = 233.15, .valid_high = 343.15,
     .range_low = "10 degC", .range_high = "35 degC",
     .sentence = "Temperature of film and surroundings while wrapping; thermal strain counts from it, and the film "
                 "has it "
                 "until the end of wrapping.",
     .measure = {"Thermometer in the wrapping hall, on a roll that has stood there for a day.", none},
     .reference = "Own assumption: standard laboratory temperature."},
    {.key = "storage.duration", .unit = "s", .metric = "d", .inch_pound = "d", .default_text = "7 d",
     .lower = at_least(0.0),
     .valid_high = 366.0 * 86400.0, .range_low = "1 d", .range_high = "30 d",
     .sentence = "Time from the end of wrapping to the moment that counts.",
     .measure = {"Despatch records: from wrapping to arrival.", none}, .reference = "Own assumption."},
    {.key = "storage.temperature", .kind = table, .unit = "K", .metric = "degC", .inch_pound = "degF",
     .default_text = "23 degC", .lower = more_than(0.0), .upper = Bound{450.0, true}, .valid_low = 233.15,
     .valid_high = 343.15,
     .sentence = "Temperature history of the wrapped load from the end of wrapping: one temperature, or pairs [time, "
                 "temperature], linear between.",
     .measure = {"A logger under the film on one load; a thermometer in the store is the next best.", none},
     .reference = "Own assumption: standard laboratory temperature."},

    {.key = "stations.top", .unit = "m", .metric = "m", .inch_pound = "in", .lower = at_least(0.0),
     .sentence = "Height of the top station; 0.25 m below the top (a sixth of the height if lower than 1.5 m) when "
                 "absent.",
     .measure = {"Tape from the pallet deck to where you measure or care.", falling_goods}, .reference = "Definition."},
    {.key = "stations.middle", .unit = "m", .metric = "m", .inch_pound = "in", .lower = at_least(0.0),
     .sentence = "Height of the middle station; half the height when absent.",
     .measure = {"Tape from the pallet deck.", falling_goods}, .reference = "Definition."},
    {.key = "stations.bottom", .unit = "m", .metric = "m", .inch_pound = "in", .lower = at_least(0.0),
     .sentence = "Height of the bottom station; 0.25 m (a sixth of the height if lower than 1.5 m) when absent.",
     .measure = {"Tape from the pallet deck.", falling_goods}, .reference = "Definition."},
    {.key = "stations.corner_distance", .unit = "m", .metric = "mm", .inch_pound = "in", .lower = more_than(0.0),
     .sentence = "Distance of the pull test's centre from the nearest corner; mid-face when absent.",
     .measure = {"Tape from the corner to the plate's centre.", falling_goods}, .reference = "Definition."},
    {.key = "stations.band_height", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "200 mm",
     .lower = more_than(0.0), .valid_high = 1.0,
     .sentence = "Height of the band around a station over which results are averaged.",
     .measure = {"Your choice; about the plate's diameter suits comparison with pull tests.", none},
     .reference = "Own choice."},
    {.key = "stations.plate_diameter", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "150 mm",
     .lower = more_than(0.0), .valid_low = 0.05, .valid_high = 0.5,
     .sentence = "Diameter of the round plate of the pull test.",
     .measure = {"Tape or caliper across your plate.", none}, .reference = "Own choice."},
    {.key = "stations.pull_distance", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "100 mm",
     .lower = more_than(0.0), .valid_high = 0.3,
     .sentence = "How far the plate pulls the film from the face.",
     .measure = {"Ruler from the load's face to the plate at the reading.",
      pulled_film | falling_goods}, .reference = "Own choice."},
    {.key = "stations.pull_rate", .unit = "m/s", .metric = "mm/s", .inch_pound = "in/s", .default_text = "100 mm/s",
     .lower = more_than(0.0), .valid_low = 1e-4, .valid_high = 1.0,
     .sentence = "Speed at which the plate is pulled.",
     .measure = {"Stop-watch over the pull; a hand pull takes about one second.",
      pulled_film | falling_goods}, .reference = "Own choice."},
    {.key = "stations.slit", .kind = choice, .default_text = "unknown", .choices = "none|beside|unknown",
     .sentence = "Whether the film was slit to bring the plate under it: \"none\" (plate put under from the edge), "
                 "\"beside\" (a vertical cut beside the plate) or \"unknown\"; a slit lowers the pull force.",
     .measure = {"Watch one pull test.", cut_film | pulled_film | falling_goods},
     .reference = "Membrane computation: tent factor about 2.2 without a slit, 1.7 with one, at 0.1 m pull near the "
                  "top."},
    {.key = "stations.tent_factor", .lower = at_least(1.0), .upper = Bound{10.0, true}, .valid_low = 1.2,
     .valid_high = 4.0,
     .range_low = "1.5", .range_high = "2.5",
     .sentence = "Ratio of the pull force of a sheet, which makes a tent round the plate, to that of separate "
                 "strands; when absent a formula in pull distance, plate, face, distance to the film's edges, "
                 "stiffness "
                 "and stations.slit.",
     .measure = {"Pull-test a load, then cut across the whole face at the height of the plate's upper and lower edge "
                "and "
                "pull again: ratio of the two forces.", cut_film | pulled_film | falling_goods},
     .reference = "Membrane computation; median and range over corner friction, slit, edge of the film and stiffness "
                  "upwards (own assumptions): 2.0 to 2.6 without a slit, 1.5 to 2.0 with one."},

    {.key = "target.quantity", .kind = choice, .default_text = "hoop_tension", .choices = "hoop_tension|pull_force",
     .sentence = "What the targets are about: hoop tension per height or pull force.",
     .measure = {"Your choice.", none}, .reference = "Definition."},
    {.key = "target.at", .kind = choice, .default_text = "after_storage", .choices = "end|after_storage",
     .sentence = "When the targets hold: at the end of wrapping or after storage.",
     .measure = {"Your choice.", none}, .reference = "Definition."},
    {.key = "target.top", .unit = "N/m", .metric = "N/m", .inch_pound = "lbf/in", .lower = more_than(0.0),
     .sentence = "Least value wanted at the top station (N/m for hoop_tension, N for pull_force).",
     .measure = {"From loads known to arrive well: predict or measure them, take that value.",
      pulled_film | falling_goods},
     .reference = "Definition."},
    {.key = "target.middle", .unit = "N/m", .metric = "N/m", .inch_pound = "lbf/in", .lower = more_than(0.0),
     .sentence = "Least value wanted at the middle station (N/m for hoop_tension, N for pull_force).",
     .measure = {"As target.top.", pulled_film | falling_goods}, .reference = "Definition."},
    {.key = "target.bottom", .unit = "N/m", .metric = "N/m", .inch_pound = "lbf/in", .lower = more_than(0.0),
     .sentence = "Least value wanted at the bottom station (N/m for hoop_tension, N for pull_force).",
     .measure = {"As target.top.", pulled_film | falling_goods}, .reference = "Definition."},

    {.key = "cost.loads_per_year", .lower = more_than(0.0),
     .sentence = "Loads wrapped per year.", .measure = {"Despatch records.", none}, .reference = "Definition."},
    {.key = "cost.roll_length", .unit = "m", .metric = "m", .inch_pound = "ft", .lower = more_than(0.0),
     .sentence = "Length of film on a full roll (either this or cost.roll_mass).",
     .measure = {"Roll label.", none}, .reference = "Definition."},
    {.key = "cost.roll_mass", .unit = "kg", .metric = "kg", .inch_pound = "lb", .lower = more_than(0.0),
     .sentence = "Net mass of film on a full roll (either this or cost.roll_length).",
     .measure = {"Scale: full roll less an empty core.", heavy_roll}, .reference = "Definition."},
    {.key = "cost.roll_change_time", .unit = "s", .metric = "min", .inch_pound = "min", .lower = at_least(0.0),
     .sentence = "Time the line stands for one roll change.",
     .measure = {"Stop-watch over a few changes.", running_machine}, .reference = "Definition."},
    {.key = "cost.labour_rate", .unit = "1/s", .metric = "1/h", .inch_pound = "1/h", .lower = at_least(0.0),
     .sentence = "Money per time of labour, in the currency of the cost table: \"30 /h\".",
     .measure = {"Ask accounts.", none}, .reference = "Definition."},
    {.key = "cost.co2e_factor", .lower = at_least(0.0), .valid_high = 20.0,
     .sentence = "Greenhouse gas per mass of film, kg CO2 equivalent per kg, cradle to gate; the published range "
                 "1.70 to "
                 "2.1 when absent.",
     .measure = {"Film maker's declaration.", none},
     .reference = "LLDPE 1.70 kg/kg: EPA WARM version 16, 1.54 t per short ton, from a public transcription; LDPE 2.1 "
                  "kg/kg: Hopewell, Dvorak & Kosior 2009, Table 3. Resin only: film extrusion and end of life are not "
                  "in them."},
    {.key = "cost.energy_factor", .unit = "J/kg", .metric = "MJ/kg", .inch_pound = "MJ/kg", .lower = at_least(0.0),
     .sentence = "Primary energy per mass of film; the published range 76.7 to 78.1 MJ/kg when absent.",
     .measure = {"Film maker's declaration.", none},
     .reference = "HDPE 76.7 and LDPE 78.1 MJ/kg: Hopewell, Dvorak & Kosior 2009, Table 3, which does not list LLDPE. "
                  "Resin only."},
    {.key = "cost.currency", .kind = text,
     .sentence = "Name of the currency of film.price and cost.labour_rate.", .measure = {"Your choice.", none},
     .reference = "Definition."},

    {.key = "numerics.slices", .kind = integer, .default_text = "60", .lower = at_least(1.0),
     .upper = Bound{2000.0, true},
     .sentence = "Number of horizontal slices the load's height is divided into.",
     .measure = {"Double it: results that matter must not move.", none}, .reference = "Own choice."},
    {.key = "numerics.tolerance", .default_text = "1e-3", .lower = at_least(1e-9), .upper = Bound{0.1, true},
     .sentence = "Relative error allowed in tension per stage.",
     .measure = {"Divide it by ten: results that matter must not move.", none}, .reference = "Own choice."},
    {.key = "numerics.seed", .kind = integer, .default_text = "1", .lower = at_least(0.0),
     .upper = Bound{2147483647.0, true},
     .sentence = "Seed of everything random (sampling).", .measure = {"Any number.", none}, .reference = "Own choice."},
};
// clang-format on

}  // namespace

std::span<const Parameter> result_place_declarations() { return declarations; }

}  // namespace hoopfield::detail
