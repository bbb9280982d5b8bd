// SPDX-License-Identifier: BSD-3-Clause
// Declarations of the numbers and fields of a prediction. Their order is that of the JSON object.
// Every surface (JSON, result file, CSV, sweeps, comparison, Python, the report) takes names, units and words from
// here.
#include "models/detail/declare_output.hpp"

namespace hoopfield::detail {
namespace {

using enum Hazard;

using Units = OutputUnits;
using Words = OutputWords;

constexpr Units tension{"N/m", "N/m", "lbf/in", "N/m"}, force{"N", "N", "lbf", "N"}, pure{"", "", "", ""},
    share{"", "", "", ""}, strain{"", "%", "%", "%"}, height{"m", "m", "in", "m"}, length{"m", "m", "ft", "m"},
    size{"m", "mm", "in", "mm"}, temperature{"K", "degC", "degF", "degC"}, warming{"K", "K", "K", "K"},
    time{"s", "s", "s", "s"}, power{"W", "W", "W", "W"}, speed{"m/s", "m/s", "m/s", "m/s"},
    pressure{"Pa", "kPa", "psi", "Pa"}, angle{"rad", "deg", "deg", "rad"};

/// One of the numbers that sum a wrap up.
constexpr Parameter number(std::string_view key, Units units, std::string_view file, Words words) {
  return declare_output(key, units, "", file, words, true);
}

/// A number per moment and station, or per face of a station.
constexpr Parameter station(std::string_view key, Units units, std::string_view file, Words words) {
  return declare_output(key, units, "moment,station", file, words, true);
}
constexpr Parameter face(std::string_view key, Units units, std::string_view file, Words words) {
  return declare_output(key, units, "moment,station,face", file, words, true);
}

/// A number that stands in files and in Python only.
constexpr Parameter detail_number(std::string_view key, Units units, std::string_view file, Words words) {
  return declare_output(key, units, "", file, words, false);
}

/// A field over its axes, in files and in Python only.
constexpr Parameter field(std::string_view key, Units units, std::string_view axes, std::string_view file,
                          Words words) {
  return declare_output(key, units, axes, file, words, false);
}

constexpr Measure no_direct{"Cannot be measured directly; compare pull forces instead.", pulled_film | falling_goods};
constexpr Measure cell_on_roller{"Load cell on the last roller.", running_machine};
constexpr Measure fast_cell_on_roller{"Load cell on the last roller, read many times per turn.", running_machine};
constexpr Measure across_the_load{"Measure across the load with a tape or caliper, before and after.", falling_goods};
constexpr Measure follows{"Calculated from other inputs and outputs; not measured.", none};

// clang-format off
constexpr Parameter declarations[] = {
    // Stations
    station("containment.height", height, "stations/station_height",
            {"height above the pallet deck", "Height of the station above the pallet deck.",
            {"Measure with a tape from the deck.", falling_goods}}),
    station("containment.time", time, "stations/station_time",
            {"time since the end of wrapping",
             "Time at which a station is read: 0 at the end of wrapping, the duration of storage after it, and in "
             "between the time at which its hoop tension is least.",
             {"Clock.", none}}),
    station("containment.temperature", temperature, "stations/station_temperature",
            {"temperature of the film", "Temperature of film and surroundings when a station is read.",
             {"Logger beside the load.", none}}),
    station("containment.hoop_tension", tension, "stations/hoop_tension",
            {"hoop tension, mean of the faces",
             "Sum over film layers of the tension per height at a station, mean of the four faces: the primary result.",
             {"A pull force does not give it: put a strap with a load cell around the load, slit the film in a band "
              "beside it and read the force that the strap takes over.",
               cut_film | pulled_film | strap | falling_goods}}),
    station("containment.band_tension", force, "stations/band_tension",
            {"hoop tension times band height", "Hoop tension times stations.band_height.", no_direct}),
    station("containment.band_least_tension", tension, "stations/band_least_tension",
            {"least hoop tension within the band",
             "Least hoop tension over the four faces and over single heights in the band of stations.band_height at a "
             "station, each the mean along its face: that of its weakest spot, where hoop_tension is the mean.",
             no_direct}),
    station("containment.pull_force", force, "stations/pull_force",
            {"pull test, least over the faces",
             "Force of the pull test at a station, least over the faces, tent factor included.",
             {"Pull a round plate under the film by stations.pull_distance, square to the face, with a spring balance "
              "or load cell.", pulled_film | falling_goods}}),
    station("containment.strand_force", force, "stations/strand_force",
            {"pull test without tent factor, same face",
             "The same pull force for film cut into separate strands, without the tent factor.",
             {"As containment.pull_force, with the film slit above and below the plate.",
              cut_film | pulled_film | falling_goods}}),
    station("containment.tent_factor", pure, "stations/tent_factor",
            {"pull force over strand force",
             "Ratio of pull force to strand force on the same face: film is a sheet that forms a tent around the "
             "plate.",
             {"As containment.pull_force, once with the film whole and once with it slit above and below the plate; "
              "divide.",
             cut_film | pulled_film | falling_goods}}),
    station("containment.pull_force_film_stretch_share", share, "stations/pull_force_film_stretch_share",
            {"share of the pull force due to stretching the film further",
             "Fraction of the pull force that comes from the further stretching of the film in the test.",
             no_direct}),
    station("containment.film_layers", pure, "stations/film_layers",
            {"film layers, mean of the faces", "Film layers at a station, mean of the faces.",
             {"Slit a flap and count the layers, or count the film edges from the top down.",
              cut_film | falling_goods}}),
    station("containment.film_layers_min", pure, "stations/film_layers_min",
            {"film layers, fewest over where the climb may start",
             "Fewest film layers at a station, over all heights at which the climb may happen to start.",
             {"Count the layers on several loads.", falling_goods}}),
    station("containment.film_layers_max", pure, "stations/film_layers_max",
            {"film layers, most over where the climb may start",
             "Most film layers at a station, over all heights at which the climb may happen to start.",
             {"Count the layers on several loads.", falling_goods}}),
    face("containment.faces.hoop_tension", tension, "stations/face_hoop_tension",
         {"hoop tension", "Hoop tension of one face, mean over the band.", no_direct}),
    face("containment.faces.film_layers", pure, "stations/face_film_layers",
         {"film layers", "Film layers on one face, mean over the band.",
         {"Slit a flap and count the layers.", cut_film | falling_goods}}),
    face("containment.faces.strand_force", force, "stations/face_strand_force",
         {"pull test without tent factor", "Pull force on one face without the tent factor.",
          {"As containment.pull_force, with the film slit above and below the plate.",
           cut_film | pulled_film | falling_goods}}),
    face("containment.faces.pull_force", force, "stations/face_pull_force",
         {"pull test", "Pull force on one face, tent factor included.",
         {"As containment.pull_force, at that face.", pulled_film | falling_goods}}),
    declare_output("containment.least.hoop_tension", tension, "moment", "",
             {"least hoop tension over height and faces",
              "Least hoop tension over faces and heights: the mean over that band of film on one face, as high as "
              "stations.band_height, that holds least. A band, because what holds at a single height is the edge of a "
              "film.",
              no_direct}, true),
    declare_output("containment.least.height", height, "moment", "",
             {"height of the least hoop tension", "Height of the middle of the band of film that holds least.",
             {"Measure with a tape from the deck.", falling_goods}},
                                                                                            true),
    declare_output("containment.least.face", pure, "moment", "",
             {"face of the least hoop tension", "Face on which hoop tension is least."}, true),
    // Film
    number("film.stretch_on_load", strain, "film_path/stretch_on_load",
           {"stretch on the load", "Stretch of the film as it lies on the load, mean by length. "
            "Film springs back behind the rollers, from the "
            "pre-stretch to what the span force holds; the film law computes it, but no published recovery of film "
            "from such stretches could be read, so it is not validated: measure it.",
            {"Mark two lines a known distance apart on the roll, wrap, and measure their distance on the load.",
            running_machine | falling_goods}}),
    number("film.stretch_on_load_min", strain, "film_path/stretch_on_load_min",
           {"least stretch on the load", "Least stretch of a piece of film on the load.",
            {"As film.stretch_on_load, on the face where the span force is least.", falling_goods}}),
    number("film.stretch_on_load_max", strain, "film_path/stretch_on_load_max",
           {"greatest stretch on the load", "Greatest stretch of a piece of film on the load.",
            {"As film.stretch_on_load, on the face where the span force is greatest.", falling_goods}}),
    number("film.prestretch_force", force, "film_path/prestretch_force",
           {"force that stretches the film between the rollers", "Force that stretches the film between the rollers.",
            {"Torque of the pre-stretch drive minus its torque without film, divided by the radius of the roller.",
             running_machine}}),
    number("film.film_temperature", temperature, "film_path/film_temperature",
           {"film at the end of the roller gap", "Film temperature at the end of the gap.",
            {"Infrared thermometer on the film just behind roller 2, held until its reading is steady.",
            running_machine}}),
    number("film.length_on_roll", length, "summary/film_length_on_roll",
           {"film per load, length on the roll", "Length of film drawn from the roll per load.",
            {"Count the turns of the roll and multiply by its circumference.", running_machine}}),
    number("film.mass", Units{"kg", "g", "oz", "kg"}, "summary/film_mass",
           {"film per load", "Mass of film per load.", {"Cut the film off and weigh it.", cut_film | falling_goods}}),
    number("film.laid_width", size, "film_path/laid_width",
           {"width of one layer on the load", "Width of one film layer on the load, mean by length.",
            {"Measure across the last turn with a tape.", falling_goods}}),
    number("film.laid_width_min", size, "film_path/laid_width_min",
           {"least width of one layer on the load", "Least width of a piece of film on the load.",
            {"Measure across the turns of a load with a tape.", falling_goods}}),
    number("film.laid_width_max", size, "film_path/laid_width_max",
           {"greatest width of one layer on the load", "Greatest width of a piece of film on the load.",
            {"Measure across the turns of a load with a tape.", falling_goods}}),
    detail_number("film.prestretch_power", power, "film_path/prestretch_power",
           {"mechanical power put into the film in the gap", "Mechanical power put into the film in the gap.",
                                                             follows}),
    detail_number("film.draw_temperature_rise", warming, "film_path/draw_temperature_rise",
           {"warming of the film in the gap, adiabatic", "Warming of the film at the end of the gap, no heat lost.",
            {"Infrared thermometer on the film before roller 1 and behind roller 2.", running_machine}}),
    detail_number("film.roller_speed_1", speed, "film_path/roller_speed_1",
           {"film speed on the first roller", "Film speed on the first roller.",
           {"Tachometer on the roller.", running_machine}}),
    detail_number("film.roller_speed_2", speed, "film_path/roller_speed_2",
           {"film speed on the second roller", "Film speed on the second roller.",
           {"Tachometer on the roller.", running_machine}}),
    detail_number("film.dwell_time", time, "film_path/dwell_time",
           {"time on the second roller", "Time the film spends on the second roller.", follows}),
    detail_number("film.residence_time", time, "film_path/residence_time",
           {"time from the second roller to the load", "Time of the film from the second roller to the load.",
                                                       follows}),
    detail_number("film.stretch_in_gap", strain, "film_path/stretch_in_gap",
           {"strain at the end of the gap", "Stretch of the film at the end of the gap.",
            {"Ratio of the roller speeds.", running_machine}}),
    detail_number("film.laid_thickness", Units{"m", "um", "mil", "m"}, "film_path/laid_thickness",
           {"thickness on the load", "Thickness of one film layer on the load.",
           {"Cut a stack of layers off the load and measure it with a micrometer.", cut_film | falling_goods}}),
    detail_number("film.stiffness_over_force", pure, "film_path/stiffness_over_force",
           {"d ln force / d ln stretch of the laid film",
            "Elastic stiffness of the laid film over its force, d ln force / d ln stretch ratio.",
            {"Tensile test of film cut from the load: slope over the first percent of strain.",
            cut_film | falling_goods | test_machine}}),
    detail_number("film.gap_sharpness", pure, "film_path/gap_sharpness",
           {"least length of the draw over the roll thickness",
            "Least length over which the film draws in the gap, divided by its thickness on the roll.", follows}),
    field("film.gap_position", size, "gap_position", "film_path/gap_position",
          {"position in the gap between the rollers", "Position in the gap, from the first roller."}),
    field("film.gap_stretch", strain, "gap_position", "film_path/gap_stretch",
          {"strain of the film in the gap", "Stretch of the film along the gap.",
           {"Mark lines across the film and photograph them in the gap.", running_machine}}),
    field("film.gap_temperature", temperature, "gap_position", "film_path/gap_temperature",
          {"temperature of the film in the gap", "Temperature of the film along the gap.",
          {"Infrared camera.", running_machine}}),
    // Span
    number("span.force_set", force, "span/force_set",
           {"span force set", "Force set at the delivery.", {"As delivery.tension.force.",
            running_machine | pulled_film | falling_goods}}),
    number("span.force_mean", force, "span/force_mean",
           {"force in the span, mean over a turn", "Mean force in the span over a settled turn.", cell_on_roller}),
    number("span.force_min", force, "span/force_min",
           {"force in the span, least over a turn", "Least force in the span over a settled turn.",
                                                    fast_cell_on_roller}),
    number("span.force_max", force, "span/force_max",
           {"force in the span, greatest over a turn", "Greatest force in the span over a settled turn.",
            fast_cell_on_roller}),
    number("span.laid_fraction", pure, "span/laid_fraction",
           {"mean force kept at the end of wrapping over the set force",
            "Mean force that the film has kept at the end of wrapping, divided by the set force.", no_direct}),
    field("span.angle", angle, "angle", "span/angle",
          {"rotation over one settled turn", "Angle of rotation within a settled turn."}),
    field("span.force", force, "angle", "span/force",
          {"film force in the span", "Film force in the span over a settled turn.", fast_cell_on_roller}),
    field("span.take_up_speed", speed, "angle", "span/take_up_speed",
          {"speed at which the load takes film up", "Speed at which the turning load takes film up.",
           {"Encoder on an idle roller near the load.", running_machine}}),
    field("span.face_turn", pure, "laid_face", "span/face_turn",
          {"turns since the start when the face is laid", "Turns since the start when a face is laid.",
          {"Count.", running_machine}}),
    field("span.face", pure, "laid_face", "",
          {"name of the face laid", "Name of the face that is laid."}),
    field("span.face_force", force, "laid_face", "span/face_force",
          {"force the face keeps, over the whole film width",
           "Force that the film on a face keeps once it has slipped round the corners, over its whole width.",
           no_direct}),
    // Pattern
    number("pattern.turns", pure, "summary/turns", {"turns", "Turns of the wrap.", {"Count.", running_machine}}),
    number("pattern.pitch", size, "summary/pitch", {"climb per turn", "Climb per turn.",
     {"As pattern.pitch.", falling_goods}}),
    number("pattern.overlap", share, "summary/overlap",
           {"1 - pitch / laid width", "1 - pitch / laid width, as a fraction.",
           {"As pattern.overlap.", falling_goods}}),
    number("pattern.gap", size, "summary/gap",
           {"greatest bare height between turns", "Greatest bare height between turns; 0 when closed.",
           {"Measure with a tape.", falling_goods}}),
    number("pattern.uncovered_top", size, "summary/uncovered_top",
           {"load height without film at the top", "Height of load that has no film at the top.",
           {"Measure with a tape.", falling_goods | at_height}}),
    number("pattern.uncovered_bottom", size, "summary/uncovered_bottom",
           {"load height without film at the bottom", "Height of load that has no film at the bottom.",
           {"Measure with a tape.", falling_goods}}),
    number("pattern.rotation_time", time, "summary/rotation_time",
           {"time of rotation", "Time of rotation of one wrap.", {"Time it with a stop-watch.", running_machine}}),
    detail_number("pattern.speed_up", speed, "summary/carriage_speed_up",
           {"speed of the carriage, up", "Speed of the carriage on its way up.",
           {"Time it over a marked height with a stop-watch.", running_machine}}),
    detail_number("pattern.speed_down", speed, "summary/carriage_speed_down",
           {"speed of the carriage, down", "Speed of the carriage on its way down.",
            {"Time it over a marked height with a stop-watch.", running_machine}}),
    // Load
    number("load.closing_along_length", size, "summary/greatest_closing_along_length",
           {"greatest closing along the length, end of wrapping",
            "Greatest closing of the load's length at the end of wrapping.", across_the_load}),
    number("load.closing_along_width", size, "summary/greatest_closing_along_width",
           {"greatest closing along the width, end of wrapping",
            "Greatest closing of the load's width at the end of wrapping.", across_the_load}),
    number("load.edge_line_force", tension, "summary/edge_line_force",
           {"greatest line force on an edge, end of wrapping",
            "Greatest force per height on a vertical edge at the end of wrapping.", no_direct}),
    detail_number("load.edge_pressure", pressure, "summary/edge_pressure",
           {"greatest pressure on an edge, over the arc of the corner radius",
            "Greatest force on a vertical edge at the end of wrapping, divided by the arc of the corner radius.",
            {"Pressure-sensitive foil over the edge.", falling_goods}}),
    // Sensitivity, when it was asked for
    declare_output("sensitivity.end", pure, "", "",
             {"d ln(containment) / d ln(force), end of wrapping",
              "d ln(containment) / d ln(force) at the end of wrapping.",
             {"Wrap two loads at two forces and compare them.", running_machine | pulled_film | falling_goods}}, false),
    declare_output("sensitivity.after_storage", pure, "", "",
             {"d ln(containment) / d ln(force), after storage",
              "d ln(containment) / d ln(force) after storage.",
               {"Wrap two loads at two forces and compare them.",
                running_machine | pulled_film | falling_goods}}, false),
    // Fields over time, height and faces
    field("time", time, "time", "time",
          {"time since the end of wrapping", "Time since the end of the last turn."}),
    field("turn", pure, "turn", "turn", {"finished turns", "Finished turns."}),
    field("height", height, "height", "height",
          {"height above the pallet deck, centre of the slice", "Height of a slice's centre above the deck."}),
    field("hoop_tension", tension, "time,face,height", "hoop_tension",
          {"hoop tension: film force per height of load, all layers",
           "Film force per height of load, all layers, over time, face and height.", no_direct}),
    field("film_stiffness", tension, "face,height", "film_stiffness",
          {"stiffness of the film, all layers, at the rate of a blow",
           "Film force per height of load and per strain since the film was stress-free, after storage, all layers, in a "
           "stretch of 0.05 s: what the film answers a blow with.",
           {"Slit the film in a band, pull the cut ends together quickly with a strap and a load cell, and read force "
            "over stretch.", cut_film | pulled_film | strap | falling_goods}}),
    field("closing_along_length", size, "time,height", "closing_along_length",
          {"closing of the load along its length", "Closing of the load along its length over time and height.",
           across_the_load}),
    field("closing_along_width", size, "time,height", "closing_along_width",
          {"closing of the load along its width", "Closing of the load along its width over time and height.",
           across_the_load}),
    field("temperature", temperature, "time", "temperature",
          {"temperature of film and surroundings", "Temperature of film and surroundings over time.",
           {"Logger beside the load.", none}}),
    field("hoop_tension_buildup", tension, "turn,face,height", "hoop_tension_buildup",
          {"hoop tension when each turn is finished", "Hoop tension when each turn is finished.", no_direct}),
    field("layer_tension", tension, "film_layer,face,height", "layer_tension",
          {"tension of each film layer at the end of wrapping",
           "Tension per height of each film layer at the end of wrapping; layer 1 lies on the load.", no_direct}),
    field("film_layers", pure, "face,height", "film_layers",
          {"film layers", "Film layers over face and height.", {"Slit a flap and count the layers.",
           cut_film | falling_goods}}),
    detail_number("force_balance_error", pure, "summary/force_balance_error",
           {"greatest relative residual of closing force against film force",
            "Greatest relative difference between closing force and film force: a numerical error of the solution."}),
};
// clang-format on

}  // namespace

std::span<const Parameter> output_declarations() { return declarations; }

}  // namespace hoopfield::detail
