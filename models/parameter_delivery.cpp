// SPDX-License-Identifier: BSD-3-Clause
// Declarations of the scenario keys from the roll to the outlet: film, delivery, rotation, carriage, pattern.
#include "models/parameter.hpp"

namespace hoopfield::detail {
namespace {

using enum ParameterKind;
using enum Hazard;

constexpr Bound at_least(double v) { return {v, true}; }
constexpr Bound more_than(double v) { return {v, false}; }
constexpr double rpm = 0.10471975511965977;

// clang-format off
constexpr Parameter declarations[] = {
    {.key = "scenario.title", .kind = text,
     .sentence = "Title of the scenario; printed on every result.",
     .measure = {"Free text.", none}, .reference = "Definition."},
    {.key = "scenario.notes", .kind = text,
     .sentence = "Free notes; kept with the results.",
     .measure = {"Free text: who measured what, and when.", none}, .reference = "Definition."},
    {.key = "scenario.schema", .kind = integer, .default_text = "1", .lower = at_least(1.0),
     .sentence = "Version of the file layout; this version reads schema 1.",
     .measure = {"Leave it at 1.", none}, .reference = "Definition."},

    {.key = "report.site", .kind = text, .text_form = TextForm::line,
     .sentence = "Where the wrap stands, for the head of a report: works, hall, line.",
     .measure = {"Free text.", none}, .reference = "Definition.", .label = "site"},
    {.key = "report.author", .kind = text, .text_form = TextForm::line,
     .sentence = "Who answers for a report, for its head.",
     .measure = {"Free text.", none}, .reference = "Definition.", .label = "author"},
    {.key = "report.customer", .kind = text, .text_form = TextForm::line,
     .sentence = "Whom a report is for, for its head.",
     .measure = {"Free text.", none}, .reference = "Definition.", .label = "customer"},
    {.key = "report.date", .kind = text, .text_form = TextForm::date,
     .sentence = "Date of a report, for its head: \"2026-11-27\". It is never taken from the clock.",
     .measure = {"Your choice.", none}, .reference = "Definition.", .label = "date"},

    {.key = "film.file", .kind = text, .required = true,
     .sentence = "File with the mechanical description of the film, relative to the scenario file.",
     .measure = {"Fit a film description to a tensile test and a hold test of the film in use (film fit), or start "
                 "from an illustrative film.", test_machine},
     .reference = "Definition."},
    // Bounds: own assumption. Below a millimetre it is a thread; no film line is 10 m wide.
    {.key = "film.width", .unit = "m", .metric = "mm", .inch_pound = "in", .required = true,
     .lower = at_least(1e-3), .upper = Bound{10.0, true},
     .valid_low = 0.1, .valid_high = 2.0,
     .sentence = "Width of the film on the roll.",
     .measure = {"Lay a tape across the face of the roll, from edge to edge of the film (not of the core).", none},
     .reference = "Definition.", .label = "film width on the roll"},
    // Bounds: own assumption. A tenth of a micrometre tears at a touch; 2 mm is sheet and does not follow a corner.
    {.key = "film.thickness", .unit = "m", .metric = "um", .inch_pound = "ga", .required = true,
     .lower = at_least(1e-7), .upper = Bound{2e-3, true},
     .valid_low = 5e-6, .valid_high = 100e-6,
     .sentence = "Thickness of the film on the roll.",
     .measure = {"Weigh a known length of unstretched film: thickness = mass / (length x width x density). Weighing "
                 "10 m on a kitchen scale gives a better value than a micrometer on one layer (common practice, no "
                 "source).", none},
     .reference = "Definition; 100 gauge = 1 mil = 25.4 um.", .label = "film thickness on the roll"},
    {.key = "film.thickness_tolerance", .metric = "%", .inch_pound = "%", .unit_due = true, .default_text = "5 %",
     .lower = at_least(0.0), .upper = Bound{0.5, true}, .range_low = "0.5", .range_high = "2", .range_is_factor = true,
     .sentence = "Spread of the mean thickness from roll to roll, as a share of the nominal thickness.",
     .measure = {"Weigh 10 m of film from each of five rolls; divide half of the spread by the mean.", none},
     .reference = "Own assumption, no source.", .label = "spread of thickness between rolls"},
    {.key = "film.stiffness_scale", .default_text = "1", .lower = at_least(0.2), .upper = Bound{5.0, true},
     .valid_low = 0.5, .valid_high = 2.0, .range_low = "0.9", .range_high = "1.1",
     .sentence = "Factor on every modulus and flow stress of the film file: how much stiffer this film is than the "
                 "file says. Ranked, and drawn in bands, when the film file has no covariance of its own.",
     .measure = {"Pull strips of the film in use on a testing machine at the speed of a test in the film file: ratio "
                 "of the two forces at the pre-stretch, divided by the ratio of the thicknesses.", test_machine},
     .reference = "Own assumption, no source.", .label = "stiffness of this film against its data"},
    {.key = "film.price", .unit = "1/kg", .metric = "/kg", .inch_pound = "/lb", .lower = at_least(0.0),
     .sentence = "Price of film per mass, in the currency named by cost.currency.",
     .measure = {"Divide the amount of an invoice by the net mass of film, without cores.", none},
     .reference = "Definition."},

    {.key = "delivery.prestretch", .metric = "%", .inch_pound = "%", .unit_due = true, .required = true,
     .lower = at_least(0.0), .upper = Bound{5.0, true}, .valid_low = 0.0, .valid_high = 3.5,
     .sentence = "Strain between the pre-stretch rollers: 250 % makes the film 3.5 times as long.",
     .measure = {"With the machine stopped and locked out and its rollers free to turn, keep your fingers out of the "
                 "roller gap, turn roller 1 by hand through a marked length of film and measure the length that leaves "
                 "roller 2: prestretch = length out / length in - 1. The figure on the machine's plate no longer holds "
                 "once rollers are worn (common practice, no source).", stopped_machine},
     .reference = "Definition.", .label = "pre-stretch"},
    {.key = "delivery.prestretch_slip", .metric = "%", .inch_pound = "%", .unit_due = true, .default_text = "0 %",
     .lower = at_least(0.0), .upper = Bound{0.5, true}, .range_low = "0 %", .range_high = "10 %",
     .sentence = "Points of pre-stretch that are lost because film slips on worn or dirty rollers: a pre-stretch of "
                 "250 % with a slip of 10 % stretches the film by 240 %.",
     .measure = {"Draw two marks 100 mm apart on the film before roller 1 while the machine stands, let film through "
                 "slowly, stop and lock out the machine and measure the marks between roller 2 and the load: "
                 "prestretch_slip = prestretch - (distance / 100 mm - 1).", stopped_machine | running_machine},
     .reference = "Own assumption, no source.", .label = "slip on the pre-stretch rollers"},
    // Bounds: own assumption. A gap longer than the hall is none.
    {.key = "delivery.roller_gap", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "50 mm",
     .lower = at_least(0.0), .upper = Bound{10.0, true}, .valid_low = 0.002, .valid_high = 1.0,
     .range_low = "20 mm", .range_high = "150 mm",
     .sentence = "Free length of film between the two pre-stretch rollers; sets the rate of stretching.",
     .measure = {"With the film removed and the machine stopped and locked out, measure along the common tangent, "
                 "from where film leaves roller 1 to where it meets roller 2, with a tape or caliper.",
                 stopped_machine},
     .reference = "Own assumption, no source, wide range.", .label = "gap between the pre-stretch rollers"},
    // Bounds: own assumption. Once round a roller of 3 m.
    {.key = "delivery.roller_arc", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "100 mm",
     .lower = at_least(0.0), .upper = Bound{10.0, true}, .valid_high = 2.0, .range_low = "40 mm",
     .range_high = "200 mm",
     .sentence = "Length of film in contact with pre-stretch roller 2; sets how long the film relaxes at full stretch.",
     .measure = {"With film threaded and the machine stopped and locked out, mark where the film meets and leaves "
                 "roller 2, and measure along the surface with a tape.", stopped_machine},
     .reference = "Own assumption, no source, wide range.", .label = "film length on the second roller"},
    // Bounds: own assumption. More rollers than any carriage holds.
    {.key = "delivery.internal_path", .unit = "m", .metric = "m", .inch_pound = "ft", .default_text = "0.5 m",
     .lower = at_least(0.0), .upper = Bound{100.0, true}, .valid_high = 10.0, .range_low = "0.2 m",
     .range_high = "1.5 m",
     .sentence = "Length of film from pre-stretch roller 2 to the outlet, inside the carriage.",
     .measure = {"With the machine stopped and locked out, lay a string along the film path, then measure the string.",
                 stopped_machine},
     .reference = "Own assumption, no source, wide range.", .label = "film path inside the carriage"},
    // Bounds: own assumption. Farther than across any hall in which film is wrapped.
    {.key = "delivery.distance", .unit = "m", .metric = "m", .inch_pound = "ft", .default_text = "1.5 m",
     .lower = more_than(0.0), .upper = Bound{100.0, true}, .valid_high = 6.0, .range_low = "0.8",
     .range_high = "1.6", .range_is_factor = true,
     .sentence = "Distance from the film outlet (last roller) to the axis of rotation; must be greater than the "
                 "reach of the load.",
     .measure = {"Measure on the floor with a tape, from the centre of the turntable or ring to a plumb line at the "
                 "last roller.", stopped_machine},
     .reference = "Own assumption, no source.", .label = "distance from outlet to axis"},
    // Bounds: own assumption. As delivery.distance.
    {.key = "delivery.offset", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "0 mm",
     .lower = at_least(-100.0), .upper = Bound{100.0, true},
     .sentence = "Sideways offset of the outlet from the line through the axis; positive is counter-clockwise.",
     .measure = {"Measure with a tape, square to the line used for delivery.distance, machine stopped and locked out.",
                 stopped_machine}, .reference = "Definition."},
    {.key = "delivery.neck_in", .lower = at_least(0.0), .upper = Bound{0.5, true}, .range_low = "0.05",
     .range_high = "0.4",
     .sentence = "Width exponent in the gap: film stretched to l times its length leaves with l^-neck_in times its "
                 "width (0 = width kept, 0.5 = free to narrow). The value of the film file is used when absent.",
     .measure = {"As delivery.width_on_load, which is easier to measure and replaces this key.", falling_goods},
     .reference = "Definition; the range is an own assumption for a short and wide gap, in which film is stretched "
                  "almost without narrowing; no source.", .label = "narrowing of the film"},
    // Bounds: own assumption. As film.width; drawn film is narrower.
    {.key = "delivery.width_on_load", .unit = "m", .metric = "mm", .inch_pound = "in",
     .lower = at_least(1e-4), .upper = Bound{10.0, true},
     .sentence = "Measured width of one film layer on the load; replaces delivery.neck_in.",
     .measure = {"Measure across the last turn with a tape, edge to edge, at mid-face, on three faces; take the mean.",
                 falling_goods},
     .reference = "Definition."},
    {.key = "delivery.tension.control", .kind = choice, .default_text = "constant",
     .choices = "constant|fixed_length|follow",
     .sentence = "How the delivery responds to the uneven take-up: \"constant\" keeps the force; \"fixed_length\" "
                 "feeds a fixed length of film per turn in proportion to the rotation, ramps included (the span "
                 "starts at the force that lays this length); \"follow\" feeds the take-up, delayed by the lag and "
                 "divided by the stretch at the set force, times (1 + gain times the relative error of force).",
     .measure = {"Read the machine manual, or watch a spring balance or load cell on the film over one slow turn, from "
                 "outside the turning circle: a steady reading means \"constant\".", running_machine | pulled_film},
     .reference = "Definition.", .label = "delivery control"},
    // Bounds: own assumption. The film of a span weighs 0.05 N to 1 N, sags by weight/(8 force) of its length, but the
    // span of the models is straight; 100 kN lifts a lorry with its load.
    {.key = "delivery.tension.force", .unit = "N", .metric = "N", .inch_pound = "lbf",
     .lower = at_least(1.0), .upper = Bound{1e5, true},
     .valid_low = 5.0, .valid_high = 400.0, .range_low = "0.8", .range_high = "1.25", .range_is_factor = true,
     .sentence = "Force in the film between outlet and load; give this, or dial with dial_table.",
     .measure = {"Tie the film tail to a spring balance or load cell that is fixed to the load, leave the turning "
                 "circle, turn the load slowly (jog) and read the mean over one turn, from outside or on a video.",
                 running_machine | pulled_film | falling_goods},
     .reference = "Definition.", .label = "span force"},
    {.key = "delivery.tension.force_scale", .default_text = "1", .lower = at_least(0.2), .upper = Bound{5.0, true},
     .valid_low = 0.5, .valid_high = 2.0, .range_low = "0.85", .range_high = "1.15",
     .sentence = "True force between outlet and load over the force that is set (delivery.tension.force, or the dial "
                 "table's). Without effect on control \"fixed_length\".",
     .measure = {"As delivery.tension.force: divide the mean reading by the force that is set.",
                 running_machine | pulled_film | falling_goods},
     .reference = "Own assumption, no source.", .label = "true film force against the set one"},
    {.key = "delivery.tension.dial", .lower = at_least(0.0),
     .sentence = "Setting of the tension dial, turned into a force by dial_table.",
     .measure = {"Read the dial.", none}, .reference = "Definition.", .label = "force dial"},
    {.key = "delivery.tension.dial_table", .kind = table,
     .sentence = "Pairs [dial, force] measured on this machine, dial rising; linear between them.",
     .measure = {"As delivery.tension.force, at three or more positions of the dial.",
                 running_machine | pulled_film | falling_goods},
     .reference = "Definition."},
    // Bounds: own assumption. A control that is hours late answers to nothing.
    {.key = "delivery.tension.lag", .unit = "s", .metric = "s", .inch_pound = "s", .default_text = "0.15 s",
     .lower = at_least(0.0), .upper = Bound{1e4, true}, .valid_high = 5.0, .range_low = "0.05 s", .range_high = "0.5 s",
     .sentence = "Time lag of a following control (control = \"follow\") behind the ripple of the take-up about its "
                 "mean; with a very long lag only the mean is fed.",
     .measure = {"Record the dancer or the load cell reading on video while a corner passes: time from the peak of "
                 "the take-up to the response.", running_machine},
     .reference = "Own assumption, no source, wide range.", .label = "time lag of the force control"},
    // Bounds: own assumption. Five times what the models are meant for; beyond it the rollers only start and stop.
    {.key = "delivery.tension.gain", .default_text = "1",
     .lower = at_least(0.0), .upper = Bound{100.0, true}, .valid_high = 20.0,
     .range_low = "0.3",
     .range_high = "3",
     .sentence = "Proportional gain of a following control: relative change of feed per relative error of force. "
                 "With 0 the feed follows the take-up alone. The rollers stop rather than run backwards; there is no "
                 "other limit.",
     .measure = {"Adjust it until the predicted ripple of force over a turn agrees with the measured one.",
                 running_machine},
     .reference = "Own assumption, no source, wide range.", .label = "gain of the force control"},
    // Lower bound: own assumption. Film stretched fifty times is none.
    {.key = "delivery.tension.length_per_turn", .lower = at_least(0.02), .upper = Bound{2.0, true},
     .sentence = "Film fed per turn, measured on the roll, as a fraction of the load's perimeter (control = "
                 "\"fixed_length\").",
     .measure = {"Mark the edge of the roll, wrap five turns at one height and count the turns of the roll: turns "
                 "times the circumference of the roll, divided by five perimeters of the load.",
                 stopped_machine | running_machine},
     .reference = "Definition.", .label = "film per turn over perimeter"},

    // Bounds: own assumption. A turn takes hours below it; above it a load flies apart.
    {.key = "rotation.speed", .unit = "rad/s", .metric = "rpm", .inch_pound = "rpm", .default_text = "12 rpm",
     .lower = at_least(1e-3 * rpm), .upper = Bound{1e3 * rpm, true}, .valid_low = rpm, .valid_high = 70.0 * rpm,
     .range_low = "6 rpm", .range_high = "20 rpm",
     .sentence = "Speed of rotation of the load, arm or ring.",
     .measure = {"Time ten full turns at the working speed with a stop-watch.", running_machine},
     .reference = "Own assumption; common practice, no source.", .label = "rotation speed"},
    {.key = "rotation.kind", .kind = choice, .default_text = "load", .choices = "load|delivery",
     .sentence = "What turns: the load on a turntable, or the delivery on an arm or ring.",
     .measure = {"Look at the machine.", running_machine}, .reference = "Definition."},
    // Bounds: own assumption. More turns than a wrap has.
    {.key = "rotation.ramp_turns", .default_text = "0",
     .lower = at_least(0.0), .upper = Bound{1e3, true}, .valid_high = 10.0,
     .sentence = "Turns over which the rotation rises from rest to the working speed.",
     .measure = {"Count on a video, from the start to steady speed.", running_machine},
     .reference = "Definition.", .label = "turns to full speed"},

    // Bounds: own assumption. Faster than any hoist.
    {.key = "carriage.speed_up", .unit = "m/s", .metric = "m/min", .inch_pound = "in/s",
     .lower = more_than(0.0), .upper = Bound{100.0, true},
     .valid_high = 2.0,
     .sentence = "Climbing speed of the carriage; give one of carriage.speed_up, pattern.pitch and pattern.overlap.",
     .measure = {"Time the carriage over a marked length of the mast with a stop-watch, carriage moving up.",
                 running_machine}, .reference = "Definition.", .label = "carriage speed up"},
    // Bounds: own assumption. Faster than any hoist.
    {.key = "carriage.speed_down", .unit = "m/s", .metric = "m/min", .inch_pound = "in/s",
     .lower = more_than(0.0), .upper = Bound{100.0, true},
     .valid_high = 2.0,
     .sentence = "Descending speed of the carriage; equal to the climbing speed when absent.",
     .measure = {"Time the carriage over a marked length of the mast with a stop-watch, carriage moving down.",
                 running_machine}, .reference = "Definition.", .label = "carriage speed down"},
    // Bounds: own assumption. As load.height: the whole height in one turn.
    {.key = "pattern.pitch", .unit = "m", .metric = "mm", .inch_pound = "in",
     .lower = at_least(0.0), .upper = Bound{20.0, true}, .valid_high = 2.0,
     .sentence = "Climb per turn; 0 puts all turns at one height.",
     .measure = {"On one face, measure the height between the same edges of two successive turns with a tape (tape "
                 "on one face).", falling_goods},
     .reference = "Definition.", .label = "climb per turn"},
    {.key = "pattern.overlap", .metric = "%", .inch_pound = "%", .default_text = "40 %", .lower = at_least(-1.0),
     .upper = Bound{1.0, false}, .valid_low = 0.0, .valid_high = 0.95, .range_low = "20 %", .range_high = "60 %",
     .sentence = "Share of the laid width that the next turn covers: 1 - pitch / laid width; a negative value leaves "
                 "bare gaps.",
     .measure = {"On one face, measure the pitch and the width of one turn with a tape.",
                 falling_goods}, .reference = "Own assumption, no source.", .label = "overlap"},
    {.key = "pattern.bottom_turns", .default_text = "2", .lower = at_least(0.0), .upper = Bound{100.0, true},
     .valid_high = 20.0,
     .sentence = "Full turns at the bottom before the climb.",
     .measure = {"Machine setting, or count.", running_machine},
     .reference = "Common practice, no source.", .label = "bottom turns"},
    {.key = "pattern.top_turns", .default_text = "2", .lower = at_least(0.0), .upper = Bound{100.0, true},
     .valid_high = 20.0,
     .sentence = "Full turns at the top after the climb.",
     .measure = {"Machine setting, or count.", running_machine},
     .reference = "Common practice, no source.", .label = "top turns"},
    // Bounds: own assumption. As load.height and film.width.
    {.key = "pattern.top_overhang", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "50 mm",
     .lower = at_least(-20.0), .upper = Bound{10.0, true}, .valid_low = -0.5, .valid_high = 0.4,
     .range_low = "0 mm", .range_high = "100 mm",
     .sentence = "How far the upper film edge stands above the load at the top turns; a negative value ends below "
                 "the top.",
     .measure = {"Measure with a tape from the top of the load to the film edge, before it folds in.",
                 falling_goods | at_height},
     .reference = "Own assumption, no source.", .label = "film above the top edge"},
    // Bounds: own assumption. As film.width and load.height.
    {.key = "pattern.start_height", .unit = "m", .metric = "mm", .inch_pound = "in", .default_text = "0 mm",
     .lower = at_least(-10.0), .upper = Bound{20.0, true}, .valid_low = -0.2, .valid_high = 2.0,
     .sentence = "Height of the lower film edge above the pallet deck at the bottom turns; a negative value reaches "
                 "down over the pallet.",
     .measure = {"Measure with a tape from the deck to the film edge.", falling_goods},
     .reference = "Definition.", .label = "start height"},
    {.key = "pattern.descent", .kind = flag, .default_text = "true",
     .sentence = "Whether the carriage also wraps on its way down.",
     .measure = {"Machine setting.", none}, .reference = "Definition.", .label = "wrap on the way down"},
    {.key = "pattern.turns", .kind = integer, .lower = at_least(1.0), .upper = Bound{1000.0, true},
     .sentence = "Whole turns of the wrap as counted; when absent, the turns that bottom, climb, top and descent need, "
                 "the last one completed.",
     .measure = {"Count the times one corner of the load passes the film while a load is wrapped, from outside of the "
                 "fence.", running_machine}, .reference = "Definition.", .label = "turns counted"},
    // Bounds: own assumption. A rope of film is no thinner than a thread.
    {.key = "pattern.roping_width", .unit = "m", .metric = "mm", .inch_pound = "in",
     .lower = at_least(1e-4), .upper = Bound{10.0, true},
     .sentence = "Width of the film where it is gathered into a rope at the bottom turns; not gathered when absent.",
     .measure = {"Measure across the gathered film on the load with a tape.", falling_goods},
     .reference = "Definition.", .label = "roped width, bottom turns"},
};
// clang-format on

}  // namespace

std::span<const Parameter> delivery_declarations() { return declarations; }

}  // namespace hoopfield::detail
