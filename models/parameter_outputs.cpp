// SPDX-License-Identifier: BSD-3-Clause
// Declarations of the outputs of a prediction, by their names in JSON.
#include "models/parameter.hpp"

namespace hoopfield::detail {
namespace {

constexpr Parameter output(std::string_view key, std::string_view unit, std::string_view metric,
                           std::string_view inch_pound, std::string_view sentence, std::string_view measure) {
  return {.key = key, .room = ParameterRoom::output, .unit = unit, .metric = metric, .inch_pound = inch_pound,
          .sentence = sentence, .measure = measure,
     .reference = "Computed; documented with the stage that computes it."};
}

constexpr std::string_view no_direct_factor = "Not measured at the line; ask the film maker for the factor.";
constexpr std::string_view no_direct = "Not measured directly; compare through the pull test.";

constexpr Parameter declarations[] = {
    output("containment.hoop_tension_N_per_m", "N/m", "N/m", "lbf/in",
           "Sum over film layers of the tension per height at a station, mean of the four faces: the primary result.",
           "Not read off a pull force: slit the film in a band, with a load cell in a strap that takes over its pull."),
    output("containment.band_tension_N", "N", "N", "lbf", "Hoop tension times stations.band_height.", no_direct),
    output("containment.pull_force_N", "N", "N", "lbf",
           "Force of the pull test at a station, least over the faces, tent factor included.",
           "Round plate under the film, spring balance or load cell, pull stations.pull_distance square to the face."),
    output("containment.strand_force_N", "N", "N", "lbf",
           "The same pull force for film cut into separate strands, without the tent factor.",
           "Slit the film above and below the plate before the pull."),
    output("containment.pull_force_film_stretch_share", "", "%", "%",
           "Share of the pull force that comes from stretching the film further in the test.", no_direct),
    output("containment.film_layers", "", "", "", "Film layers at a station, mean of the faces.",
           "Slit a flap and count, or count edges from the top down."),
    output("film.stretch_on_load_percent", "", "%", "%", "Stretch of the film as it lies on the load.",
           "Mark two lines a known distance apart on the roll, wrap, tape their distance on the load."),
    output("film.prestretch_force_N", "N", "N", "lbf", "Force that stretches the film between the rollers.",
           "Torque of the pre-stretch drive over roller radius, less the empty torque."),
    output("film.film_temperature_C", "K", "degC", "degF", "Film temperature at the end of the gap.",
           "Infrared thermometer on the film just behind roller 2, slow machine response allowed for."),
    output("film.length_on_roll_m", "m", "m", "ft", "Length of film drawn from the roll per load.",
           "Roll turns times roll circumference."),
    output("film.mass_kg", "kg", "kg", "lb", "Mass of film per load.", "Cut the film off and weigh it."),
    output("film.laid_width_mm", "m", "mm", "in", "Width of one film layer on the load.", "Tape across the last turn."),
    output("span.force_set_N", "N", "N", "lbf", "Force set at the delivery.", "See delivery.tension.force."),
    output("span.force_mean_N", "N", "N", "lbf", "Mean force in the span over a settled turn.",
           "Load cell on the last roller."),
    output("span.force_min_N", "N", "N", "lbf", "Least force in the span over a settled turn.",
           "Load cell on the last roller, read fast."),
    output("span.force_max_N", "N", "N", "lbf", "Greatest force in the span over a settled turn.",
           "Load cell on the last roller, read fast."),
    output("span.laid_fraction", "", "", "", "Mean force kept by the film at the end of wrapping over the set force.",
           no_direct),
    output("pattern.turns", "", "", "", "Turns of the wrap.", "Count."),
    output("pattern.pitch_mm", "m", "mm", "in", "Climb per turn.", "See pattern.pitch."),
    output("pattern.overlap", "", "%", "%", "1 - pitch / laid width.", "See pattern.overlap."),
    output("pattern.gap_mm", "m", "mm", "in", "Greatest bare height between turns; 0 when closed.", "Tape."),
    output("pattern.cycle_time_s", "s", "s", "s", "Time of rotation of one wrap.", "Stop-watch."),
    output("load.closing_along_length_mm", "m", "mm", "in",
           "Greatest closing of the load's length at the end of wrapping.",
           "Tape or caliper across the load, before and after."),
    output("load.closing_along_width_mm", "m", "mm", "in",
           "Greatest closing of the load's width at the end of wrapping.",
           "Tape or caliper across the load, before and after."),
    output("load.corner_force_N_per_m", "N/m", "N/m", "lbf/in",
           "Greatest force per height on a vertical edge at the end of wrapping.", no_direct),
    output("sensitivity.end", "", "", "", "d ln(containment) / d ln(force) at the end of wrapping.",
           "Wrap two loads at two forces and compare."),
    output("sensitivity.after_storage", "", "", "", "d ln(containment) / d ln(force) after storage.",
           "Wrap two loads at two forces and compare."),
    output("targets", "", "", "", "Each target with what was predicted and whether it is met.", "See target.top."),
    output("assumed", "", "", "", "The largest unknowns among assumed inputs, ranked by their effect on containment.",
           "Each entry says how to measure it."),
    output("cost", "", "", "", "Film mass, money, rolls and emissions per load and per year, when asked for.",
           "Invoices and counts."),
    output("cost.film_per_load", "", "", "", "Cost of film per load: film mass times film.price.",
           "Weigh the film of one load; invoice for the price."),
    output("cost.roll_changes_per_load", "", "", "",
           "Cost of roll changes per load: cost.roll_change_time times cost.labour_rate over loads per roll.",
           "Stop-watch over a few changes."),
    output("cost.per_load", "", "", "", "Cost per load: film and, where known, roll changes. No wrapping labour in it.",
           "Invoices and counts."),
    output("cost.loads_per_roll", "", "", "", "Film on a full roll over film per load.", "Count between roll changes."),
    output("cost.co2e_low_kg", "kg", "kg", "lb",
           "CO2 equivalent of the film of one load, low end of the factor; co2e_high_kg is the high end.", no_direct_factor),
    output("cost.energy_low_MJ", "J", "MJ", "MJ",
           "Primary energy of the film of one load, low end of the factor; energy_high_MJ is the high end.",
           no_direct_factor),
    output("cost.year", "", "", "",
           "The same chain for cost.loads_per_year: loads, film, rolls, roll changes, money, CO2e. Absent without it.",
           "Invoices and counts over a year."),
    output("warnings", "", "", "", "What to know before using the numbers: code, severity, key, text.", ""),
    output("inputs", "", "", "", "Every resolved input with unit and origin.", ""),
    output("version", "", "", "", "Version that computed the result.", ""),
    output("schema", "", "", "", "Version of the layout of the JSON object.", ""),
    output("run_info", "", "", "", "Times and facts of the host, kept apart so that results are byte-identical.", ""),
};

}  // namespace

std::span<const Parameter> output_declarations() { return declarations; }

}  // namespace hoopfield::detail
