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
     .sentence = "Temperature of film and surroundings during wrapping; thermal strain is counted from it, and the "
                 "film keeps it until wrapping ends.",
     .measure = {"Read a thermometer in the wrapping hall, on a roll that has stood there for a day.", none},
     .reference = "Own assumption: 23 degC, a common laboratory temperature.", .label = "temperature while wrapping"},
    // Bounds: own assumption. A hundred years.
    {.key = "storage.duration", .unit = "s", .metric = "d", .inch_pound = "d", .default_text = "7 d",
     .lower = at_least(0.0), .upper = Bound{36525.0 * 86400.0, true},
     .valid_high = 366.0 * 86400.0, .range_low = "1 d", .range_high = "30 d",
     .sentence = "Time from the end of wrapping to the moment that matters.",
     .measure = {"Despatch records: time from wrapping to arrival.", none},
     .reference = "Own assumption, no source.", .label = "time in storage"},
    {.key = "storage.temperature", .kind = table, .unit = "K", .metric = "degC", .inch_pound = "degF",
     .default_text = "23 degC", .lower = more_than(0.0), .upper = Bound{450.0, true}, .valid_low = 233.15,
     .valid_high = 343.15,
     .sentence = "Temperature history of the wrapped load from the end of wrapping: one temperature, or pairs [time, "
                 "temperature], linear between them.",
     .measure = {"Put a logger under the film of one load; otherwise read a thermometer in the store.", none},
     .reference = "Own assumption: 23 degC, a common laboratory temperature."},

    {.key = "stations.top", .unit = "m", .metric = "m", .inch_pound = "in", .lower = at_least(0.0),
     .sentence = "Height of the top station; when absent, 0.25 m below the top (a sixth of the height if lower than "
                 "1.5 m).",
     .measure = {"Measure with a tape from the pallet deck to the height that matters.", falling_goods},
     .reference = "Definition; the default height is an own assumption."},
    {.key = "stations.middle", .unit = "m", .metric = "m", .inch_pound = "in", .lower = at_least(0.0),
     .sentence = "Height of the middle station; half the height when absent.",
     .measure = {"Measure with a tape from the pallet deck.", falling_goods}, .reference = "Definition."},
    {.key = "stations.bottom", .unit = "m", .metric = "m", .inch_pound = "in", .lower = at_least(0.0),
     .sentence = "Height of the bottom station; when absent, 0.25 m (a sixth of the height if lower than 1.5 m).",
     .measure = {"Measure with a tape from the pallet deck.", falling_goods},
     .reference = "Definition; the default height is an own assumption."},
    {.key = "stations.corner_distance", .unit = "m", .metric = "mm", .inch_pound = "in", .lower = more_than(0.0),
     .sentence = "Distance from the centre of the pull test to the nearest corner; mid-face when absent.",
     .measure = {"Measure with a tape from the corner to the centre of the plate.", falling_goods},
     .reference = "Definition."},
    // Bounds: own assumption. A band is no thinner than film and no higher than the load.
    {.key = "stations.band_height", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "200 mm",
     .lower = at_least(1e-6), .upper = Bound{20.0, true}, .valid_high = 1.0,
     .sentence = "Height of the band around a station over which results are averaged.",
     .measure = {"Your choice; close to the diameter of the plate when results are compared with pull tests.", none},
     .reference = "Own assumption."},
    // Bounds: own assumption. From a needle to the longest side.
    {.key = "stations.plate_diameter", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "150 mm",
     .lower = at_least(1e-4), .upper = Bound{50.0, true}, .valid_low = 0.05, .valid_high = 0.5,
     .sentence = "Diameter of the round plate of the pull test.",
     .measure = {"Measure across your plate with a tape or caliper.", none},
     .reference = "Own assumption, no source."},
    // Bounds: own assumption. From what no eye sees to what no arm reaches.
    {.key = "stations.pull_distance", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "100 mm",
     .lower = at_least(1e-6), .upper = Bound{10.0, true}, .valid_high = 0.3,
     .sentence = "How far the plate pulls the film away from the face.",
     .measure = {"Pull test: measure with a ruler from the face of the load to the plate at the reading.",
                 pulled_film | falling_goods},
     .reference = "Own assumption, no source."},
    // Bounds: own assumption. Slower than a nail grows; faster than sound.
    {.key = "stations.pull_rate", .unit = "m/s", .metric = "mm/s", .inch_pound = "in/s", .default_text = "100 mm/s",
     .lower = at_least(1e-9), .upper = Bound{1e3, true}, .valid_low = 1e-4, .valid_high = 1.0,
     .sentence = "Speed at which the plate is pulled.",
     .measure = {"Time the pull with a stop-watch; a hand pull takes about one second (own assumption, no source).",
                 pulled_film | falling_goods},
     .reference = "Own assumption, no source: 100 mm in one second."},
    {.key = "stations.slit", .kind = choice, .default_text = "unknown", .choices = "none|beside|unknown",
     .sentence = "Whether the film was slit to bring the plate under it: \"none\" (the plate was put under from the "
                 "edge), \"beside\" (a vertical cut beside the plate) or \"unknown\". A slit lowers the pull force.",
     .measure = {"Watch one pull test.", cut_film | pulled_film | falling_goods},
     .reference = "Own membrane computation: tent factor about 2.2 without a slit and 1.7 with one, at 0.1 m pull "
                  "near the top."},
    {.key = "stations.tent_factor", .lower = at_least(1.0), .upper = Bound{10.0, true}, .valid_low = 1.2,
     .valid_high = 4.0,
     .range_low = "1.5", .range_high = "2.5",
     .sentence = "Ratio of the pull force of a sheet, which forms a tent around the plate, to that of separate "
                 "strands. When absent, it is computed from pull distance, plate, face, distance to the film's "
                 "edges, stiffness and stations.slit.",
     .measure = {"Pull test a load, then cut across the whole face at the height of the plate's upper and lower "
                 "edges and pull again: ratio of the two forces.", cut_film | pulled_film | falling_goods},
     .reference = "Own membrane computation; median and range over corner friction, slit, edge of the film and "
                  "stiffness upwards (own assumptions): 2.0 to 2.6 without a slit, 1.5 to 2.0 with one.",
     .label = "extra pull of an uncut sheet (tent factor)"},

    {.key = "target.quantity", .kind = choice, .default_text = "hoop_tension",
     .choices = "hoop_tension|pull_force|transit",
     .sentence = "Quantity of the targets: hoop tension per height, pull force, or transit, where the target is that "
                 "the load is predicted to meet transit.requirement in every direction it acts in.",
     .measure = {"Your choice.", none}, .reference = "Definition."},
    {.key = "target.at", .kind = choice, .default_text = "after_storage", .choices = "end|after_storage|weakest",
     .sentence = "Moment at which the targets hold: at the end of wrapping, after storage, or weakest, whenever the "
                 "hoop tension of the station is least between the two, as in a trailer on a warm day.",
     .measure = {"Your choice.", none}, .reference = "Definition."},
    {.key = "target.top", .unit = "N/m", .metric = "N/m", .inch_pound = "lbf/in", .lower = more_than(0.0),
     .sentence = "Least acceptable value at the top station (N/m for hoop_tension, N for pull_force).",
     .measure = {"Predict or measure loads that are known to arrive in good condition, and take their value.",
                 pulled_film | falling_goods},
     .reference = "Definition."},
    {.key = "target.middle", .unit = "N/m", .metric = "N/m", .inch_pound = "lbf/in", .lower = more_than(0.0),
     .sentence = "Least acceptable value at the middle station (N/m for hoop_tension, N for pull_force).",
     .measure = {"As target.top.", pulled_film | falling_goods}, .reference = "Definition."},
    {.key = "target.bottom", .unit = "N/m", .metric = "N/m", .inch_pound = "lbf/in", .lower = more_than(0.0),
     .sentence = "Least acceptable value at the bottom station (N/m for hoop_tension, N for pull_force).",
     .measure = {"As target.top.", pulled_film | falling_goods}, .reference = "Definition."},

    {.key = "target.probability", .metric = "%", .inch_pound = "%", .unit_due = true, .default_text = "90 %",
     .lower = at_least(0.5), .upper = Bound{0.999, true},
     .sentence = "Probability with which the targets are to be met, over everything that is uncertain in the inputs.",
     .measure = {"Your choice.", none}, .reference = "Own assumption."},

    {.key = "cost.loads_per_year", .lower = more_than(0.0),
     .sentence = "Loads wrapped per year.", .measure = {"Despatch records.", none}, .reference = "Definition."},
    {.key = "cost.roll_length", .unit = "m", .metric = "m", .inch_pound = "ft", .lower = more_than(0.0),
     .sentence = "Length of film on a full roll (either this or cost.roll_mass).",
     .measure = {"Roll label.", none}, .reference = "Definition."},
    {.key = "cost.roll_mass", .unit = "kg", .metric = "kg", .inch_pound = "lb", .lower = more_than(0.0),
     .sentence = "Net mass of film on a full roll (either this or cost.roll_length).",
     .measure = {"Weigh a full roll and subtract an empty core.", heavy_roll}, .reference = "Definition."},
    {.key = "cost.roll_change_time", .unit = "s", .metric = "min", .inch_pound = "min", .lower = at_least(0.0),
     .sentence = "Time for which the line stands for one roll change.",
     .measure = {"Time a few changes with a stop-watch.", running_machine}, .reference = "Definition."},
    {.key = "cost.labour_rate", .unit = "1/s", .metric = "1/h", .inch_pound = "1/h", .lower = at_least(0.0),
     .sentence = "Cost of labour per time, in the currency named by cost.currency: \"30 /h\".",
     .measure = {"Ask your accounts department.", none}, .reference = "Definition."},
    {.key = "cost.co2e_factor", .lower = at_least(0.0), .valid_high = 20.0,
     .sentence = "Greenhouse gas emissions per mass of film, kg CO2 equivalent per kg, cradle to gate; when absent, "
                 "the published range 1.70 to 2.1 is used.",
     .measure = {"Declaration of the film maker.", none},
     .reference = "LLDPE 1.70 kg/kg: EPA WARM version 16, 1.54 t per short ton, from a public transcription; LDPE "
                  "2.1 kg/kg: Hopewell, Dvorak & Kosior 2009, Table 3. Both are for resin only: film extrusion and "
                  "end of life are not included."},
    {.key = "cost.energy_factor", .unit = "J/kg", .metric = "MJ/kg", .inch_pound = "MJ/kg", .lower = at_least(0.0),
     .sentence = "Primary energy per mass of film; when absent, the published range 76.7 to 78.1 MJ/kg is used.",
     .measure = {"Declaration of the film maker.", none},
     .reference = "HDPE 76.7 and LDPE 78.1 MJ/kg: Hopewell, Dvorak & Kosior 2009, Table 3, which does not list "
                  "LLDPE. Both are for resin only."},
    {.key = "cost.currency", .kind = text,
     .sentence = "Name of the currency of film.price and cost.labour_rate.", .measure = {"Your choice.", none},
     .reference = "Definition."},

    {.key = "numerics.slices", .kind = integer, .default_text = "30", .lower = at_least(1.0),
     .upper = Bound{2000.0, true},
     .sentence = "Number of horizontal slices into which the height of the load is divided; a station meets edges of "
                 "film within a slice exactly.",
     .measure = {"Double it: results that matter should not change.", none},
     .reference = "Own assumption, checked by the convergence tests."},
    {.key = "numerics.tolerance", .default_text = "1e-3", .lower = at_least(1e-9), .upper = Bound{0.1, true},
     .sentence = "Relative error of tension allowed in each stage.",
     .measure = {"Divide it by ten: results that matter should not change.", none},
     .reference = "Own assumption, checked by the convergence tests."},
    {.key = "numerics.band_samples", .kind = integer, .default_text = "128", .lower = at_least(0.0),
     .upper = Bound{65536.0, true},
     .sentence = "Number of draws behind a band: 0 (no bands) or a power of two from 16 to 65536. Reports and "
                 "--require take 1024 unless it is set.",
     .measure = {"Double it: bands that matter should hardly change.", none},
     .reference = "Own assumption; the sampling error is printed with the band."},
    {.key = "numerics.seed", .kind = integer, .default_text = "1", .lower = at_least(0.0),
     .upper = Bound{2147483647.0, true},
     .sentence = "Seed of all random sampling.",
     .measure = {"Any number.", none},
     .reference = "Definition."},

    {.key = "uncertainty", .kind = table,
     .sentence = "How well inputs are known, by key in quotes: a share (\"film.thickness\" = \"3 %\"), an error in the "
                 "unit of the key (\"1 um\"; \"5 points\" for a key in per cent), a range ([\"20 um\", \"26 um\"]), "
                 "\"exact\" or \"as declared\". An error is half of the central 90 %: right within it nine times in "
                 "ten. A range runs from the 5 % to the 95 % quantile and holds the value in use, its median. "
                 "\"film.file\" takes \"exact\" or \"as fitted\".",
     .measure = {"Measure the same thing five times, by two people if possible; the error is about 1.6 times the "
                 "standard deviation of the readings.", none},
     .reference = "Definition. An input that is not listed has its declared range when assumed, its declared error "
                  "when given, and the covariance of the film file when fitted."},
    {.key = "calibration", .kind = table,
     .sentence = "What readings said of several inputs together, written by hoopfield calibrate: keys, correlation "
                 "(rows of 1, 2, 3, ... numbers between their standard normal numbers), film_mean and film_deviation "
                 "(of the film file's uncertain numbers), load_scatter (standard deviation of hoop tension from load "
                 "to load, as a share) and the readings it was made from. The range of each key stands in "
                 "[uncertainty].",
     .measure = {"Wrap a trial load, read it, and run hoopfield calibrate.", running_machine},
     .reference = "Definition."},
};
// clang-format on

}  // namespace

std::span<const Parameter> result_place_declarations() { return declarations; }

}  // namespace hoopfield::detail
