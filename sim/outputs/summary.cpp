// SPDX-License-Identifier: BSD-3-Clause
#include "sim/outputs/summary.hpp"

namespace hoopfield {
namespace {

using List = std::vector<SummaryOutput>;

void add_containment(List& list, const char* moment, ContainmentResult Result::*when) {
  const std::string words = std::string(moment) == "end" ? ", end of wrapping" : ", after storage";
  const std::string root = std::string("containment.") + moment + ".";
  using S = StationResult;
  struct Number {
    const char *name, *unit, *long_name;
    double S::*member;
  };
  const Number numbers[] = {
      {"height", "m", "height above the pallet deck", &S::height},
      {"hoop_tension", "N/m", "hoop tension, mean of the faces", &S::hoop_tension},
      {"band_tension", "N", "hoop tension times band height", &S::band_tension},
      {"pull_force", "N", "pull test, least over the faces", &S::pull_force},
      {"strand_force", "N", "pull test without tent factor, same face", &S::strand_force},
      {"tent_factor", "1", "pull force over strand force", &S::tent_factor},
      {"pull_force_film_stretch_share", "1", "share of the pull force due to stretching the film further",
       &S::pull_force_film_stretch_share},
      {"film_layers", "1", "film layers, mean of the faces", &S::film_layers},
      {"film_layers_min", "1", "film layers, least over the start phase of the carriage", &S::film_layers_min},
      {"film_layers_max", "1", "film layers, greatest over the start phase of the carriage", &S::film_layers_max}};
  using F = StationFace;
  struct FaceNumber {
    const char *name, *unit, *long_name;
    double F::*member;
  };
  const FaceNumber face_numbers[] = {{"hoop_tension", "N/m", "hoop tension", &F::hoop_tension},
                                     {"film_layers", "1", "film layers", &F::film_layers},
                                     {"strand_force", "N", "pull test without tent factor", &F::strand_force},
                                     {"pull_force", "N", "pull test", &F::pull_force}};
  for (std::size_t s = 0; s < station_names.size(); ++s) {
    const std::string station = root + station_names[s] + ".";
    for (const Number& n : numbers)
      list.push_back({station + n.name, n.unit, n.long_name + words + ", " + station_names[s], false,
                      [when, s, member = n.member](const Result& r) { return (r.*when).stations[s].*member; }});
    for (std::size_t f = 0; f < face_count; ++f)
      for (const FaceNumber& n : face_numbers)
        list.push_back(
            {station + "faces." + face_names[f] + "." + n.name, n.unit,
             n.long_name + words + ", " + station_names[s] + ", " + face_names[f] + " face", true,
             [when, s, f, member = n.member](const Result& r) { return (r.*when).stations[s].faces[f].*member; }});
  }
  list.push_back({root + "least.hoop_tension", "N/m", "least hoop tension over height and faces" + words, false,
                  [when](const Result& r) { return (r.*when).least_hoop_tension; }});
  list.push_back({root + "least.height", "m", "height of the least hoop tension" + words, false,
                  [when](const Result& r) { return (r.*when).least_height; }});
}

/// One member of one group of a result.
template <typename Group>
void add(List& list, Group Result::*group, double Group::*member, const char* name, const char* unit,
         const char* long_name) {
  list.push_back({name, unit, long_name, false, [=](const Result& r) { return r.*group.*member; }});
}

void add_film(List& list) {
  using P = FilmPathResult;
  list.push_back({"film.stretch_on_load", "1", "stretch of the film on the load, as strain", false,
                  [](const Result& r) { return r.film_path.stretch_on_load - 1.0; }});
  add(list, &Result::film_path, &P::prestretch_force, "film.prestretch_force", "N", "force between the rollers");
  add(list, &Result::film_path, &P::film_temperature, "film.film_temperature", "K",
      "film at the end of the roller gap");
  add(list, &Result::film, &FilmUse::length_on_roll, "film.length_on_roll", "m", "film used, length on the roll");
  add(list, &Result::film, &FilmUse::mass, "film.mass", "kg", "film used");
  add(list, &Result::film_path, &P::laid_width, "film.laid_width", "m", "film width on the load");
}

void add_span(List& list) {
  using S = SpanResult;
  add(list, &Result::span, &S::force_set, "span.force_set", "N", "force asked of the delivery");
  add(list, &Result::span, &S::force_mean, "span.force_mean", "N", "force in the span, mean over a turn");
  add(list, &Result::span, &S::force_min, "span.force_min", "N", "force in the span, least over a turn");
  add(list, &Result::span, &S::force_max, "span.force_max", "N", "force in the span, greatest over a turn");
  add(list, &Result::span, &S::laid_fraction, "span.laid_fraction", "1",
      "mean force kept at the end of wrapping over the set force");
}

void add_pattern(List& list) {
  using P = PatternResult;
  add(list, &Result::pattern, &P::turns, "pattern.turns", "1", "turns of film");
  add(list, &Result::pattern, &P::pitch, "pattern.pitch", "m", "climb per turn");
  add(list, &Result::pattern, &P::overlap, "pattern.overlap", "1", "1 - pitch / laid width");
  add(list, &Result::pattern, &P::gap, "pattern.gap", "m", "greatest bare height between turns");
  add(list, &Result::pattern, &P::uncovered_top, "pattern.uncovered_top", "m", "load height without film at the top");
  add(list, &Result::pattern, &P::uncovered_bottom, "pattern.uncovered_bottom", "m",
      "load height without film at the bottom");
  add(list, &Result::pattern, &P::cycle_time, "pattern.cycle_time", "s", "time of rotation");
}

void add_load(List& list) {
  using L = LoadResult;
  add(list, &Result::load, &L::closing_along_length, "load.closing_along_length", "m",
      "greatest closing along the length, end of wrapping");
  add(list, &Result::load, &L::closing_along_width, "load.closing_along_width", "m",
      "greatest closing along the width, end of wrapping");
  add(list, &Result::load, &L::corner_force, "load.corner_force", "N/m",
      "greatest line force on an edge, end of wrapping");
}

}  // namespace

const std::vector<SummaryOutput>& summary_outputs() {
  static const List outputs = [] {
    List list;
    add_containment(list, "end", &Result::end);
    add_containment(list, "after_storage", &Result::after_storage);
    add_film(list);
    add_span(list);
    add_pattern(list);
    add_load(list);
    return list;
  }();
  return outputs;
}

}  // namespace hoopfield
