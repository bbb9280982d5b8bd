// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/film_test.hpp"
#include "bindings/cli/words.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::cli {

namespace {

FilmCurvePoint at_stretch(const FilmCurve& curve, double stretch) {
  std::size_t i = 1;
  while (i < curve.loaded && curve.points[i].stretch < stretch) ++i;
  const FilmCurvePoint &a = curve.points[i - 1], &b = curve.points[i];
  const double share = (stretch - a.stretch) / (b.stretch - a.stretch);
  return {a.time + share * (b.time - a.time), stretch, a.stress + share * (b.stress - a.stress), b.phase,
          b.temperature};
}

FilmCurvePoint at_time(const FilmCurve& curve, double time, FilmPhase phase) {
  const FilmCurvePoint* best = &curve.points[curve.loaded];
  for (const FilmCurvePoint& p : curve.points)
    if (p.phase == phase && std::abs(p.time - time) < std::abs(best->time - time)) best = &p;
  return *best;
}

/// The points a person wants to see: a dozen strains, or the start and the round times of the hold.
std::vector<FilmCurvePoint> shown_points(const FilmTest& test, const FilmCurve& curve) {
  std::vector<FilmCurvePoint> shown;
  if (test.kind == FilmTestKind::tensile) {
    for (int i = 1; i <= 12; ++i) shown.push_back(at_stretch(curve, 1.0 + test.stretch * i / 12.0));
    return shown;
  }
  const FilmCurvePoint& top = curve.points[curve.loaded];
  if (test.kind == FilmTestKind::cycle) {
    for (std::size_t i = 1; i < curve.points.size(); ++i)
      if (i + 1 == curve.points.size() || curve.points[i].phase != curve.points[i + 1].phase)
        shown.push_back(curve.points[i]);
    return shown;
  }
  const bool recovery = test.kind == FilmTestKind::recovery;
  double start = top.time;
  shown.push_back(top);
  if (recovery) {
    if (test.release_hold > 0.0) shown.push_back(at_time(curve, start + test.release_hold, FilmPhase::holding));
    for (const FilmCurvePoint& p : curve.points)
      if (p.phase == FilmPhase::releasing) start = p.time;
    shown.push_back(at_time(curve, start, FilmPhase::releasing));
  }
  for (const double held : round_hold_times(recovery ? test.wait : test.hold))
    shown.push_back(at_time(curve, start + held, recovery ? FilmPhase::free : FilmPhase::holding));
  return shown;
}

/// Differences of times carry rounding; six digits are enough for a person.
std::string elapsed(double seconds) {
  const double unit = std::pow(10.0, std::floor(std::log10(std::max(seconds, 1e-6))) - 5.0);
  return duration(std::round(seconds / unit) * unit);
}

std::string phase_word(const FilmTest& test, const FilmCurve& curve, const FilmCurvePoint& p) {
  const double top = curve.points[curve.loaded].time;
  if (p.phase == FilmPhase::stretching) return test.kind == FilmTestKind::cycle ? "up" : "stretched";
  if (p.phase == FilmPhase::holding)
    return (test.kind == FilmTestKind::recovery ? "held " : "") + elapsed(p.time - top);
  if (p.phase == FilmPhase::releasing) return test.kind == FilmTestKind::cycle ? "back" : "released";
  double released = top;
  for (const FilmCurvePoint& q : curve.points)
    if (q.phase == FilmPhase::releasing) released = q.time;
  return "free " + elapsed(p.time - released);
}

/// Small strains keep two digits.
std::string strain_text(double strain) {
  const double value = strain * 100.0;
  if (!(std::abs(value) < 1.0) || value == 0.0) return percent(strain);
  const double unit = std::pow(10.0, std::floor(std::log10(std::abs(value))) - 1.0);
  return trimmed(std::round(value / unit) * unit) + " %";
}

std::string row(const std::vector<std::string>& cells, std::size_t width = 15) {
  std::string line = " ";
  for (const std::string& cell : cells) line += pad_left(cell, width);
  return line + '\n';
}

std::string curve_table(const TestedFilm& tested, const DisplayUnits& units) {
  const FilmTest& test = tested.test;
  const bool relaxation = test.kind == FilmTestKind::relaxation;
  const bool phases = test.kind != FilmTestKind::tensile && !relaxation;
  std::vector<std::string> titles;
  if (phases) titles.emplace_back("moment");
  titles.emplace_back(relaxation ? "time held" : "strain");
  titles.push_back(std::string("stress, ") + units.stress.name);
  titles.push_back(std::string("true, ") + units.stress.name);
  if (relaxation) titles.emplace_back("stress kept");
  if (test.thickness) titles.push_back(std::string("force, ") + units.tension.name);
  std::string text = row(titles);
  const double start = tested.curve.points[tested.curve.loaded].time;
  for (const FilmCurvePoint& p : shown_points(test, tested.curve)) {
    std::vector<std::string> cells;
    if (phases) cells.push_back(phase_word(test, tested.curve, p));
    cells.push_back(relaxation ? duration(std::max(0.0, p.time - start)) : strain_text(p.stretch - 1.0));
    cells.push_back(number(p.stress, units.stress));
    cells.push_back(number(p.stress * p.stretch, units.stress));
    if (relaxation) cells.push_back(percent(p.stress / *tested.curve.numbers.end_stress));
    if (test.thickness) cells.push_back(number(p.stress * *test.thickness, units.tension));
    text += row(cells);
  }
  return text;
}

std::string fact(const std::string& label, const std::string& value) {
  return wrap(value, pad_right("  " + label, 38), std::string(38, ' '));
}

std::string numbers_text(const TestedFilm& tested, const DisplayUnits& units) {
  const FilmNumbers& n = tested.curve.numbers;
  const FilmTest& test = tested.test;
  std::string text = fact("secant modulus, 0 to 1 %", n.secant_modulus ? quantity(*n.secant_modulus, units.stress)
                                                                       : "- (the curve ends below 1 %)");
  text += fact("yield (first stress peak)", n.yield_stress ? quantity(*n.yield_stress, units.stress) + " at " +
                                                                 strain_text(*n.yield_strain) + " strain"
                                                           : "none: the stress rises throughout");
  if (test.kind == FilmTestKind::creep) {
    text += fact("strain when the stress is reached", strain_text(*n.creep_start));
    text += fact("strain added in " + duration(test.hold), strain_text(*n.creep_strain));
    return text;
  }
  text += fact("stress at " + strain_text(test.stretch), quantity(*n.end_stress, units.stress));
  text += fact("stiffness there, dln P / dln l", trimmed(*n.end_stiffness));
  if (n.kept)
    text += fact("stress kept after " + duration(test.kind == FilmTestKind::recovery ? test.release_hold : test.hold),
                 percent(*n.kept));
  if (n.loss_per_decade) text += fact("loss in the last decade of time", percent(*n.loss_per_decade) + " of the start");
  if (n.release_stretch) text += fact("strain when the force is gone", strain_text(*n.release_stretch));
  if (n.permanent_set) {
    text +=
        fact("permanent set after " + duration(test.wait), strain_text(*n.permanent_set) + " of the starting length");
    text += fact("  of the strain reached", percent(*n.permanent_share));
    text += fact("elastic recovery", percent(*n.elastic_recovery) + " of the strain reached");
  }
  if (n.work_lost_first) {
    text += fact("work lost, first cycle", percent(*n.work_lost_first));
    text += fact("work lost, cycle " + std::to_string(test.cycles), percent(*n.work_lost_last));
    text += fact("top stress, last over first cycle", percent(*n.peak_kept));
  }
  if (test.draw_heat)
    text += fact("film temperature at the end", quantity(tested.curve.points.back().temperature, units.temperature));
  return text;
}

std::string closing(const FilmDescription& film) {
  return wrap("Stress is force over the section on the roll; true stress is that times the stretch. " +
                  std::string(film.provenance.illustrative ? "This film is illustrative, not measured. " : "") +
                  "The numbers follow from the film file; they are not measurements.",
              "", "");
}

}  // namespace

std::string film_curve_text(const FilmDescription& film, const TestedFilm& tested, UnitStyle style) {
  const DisplayUnits units(style);
  const FilmTest& test = tested.test;
  std::string text =
      wrap(film.name + ": " + film_test_name(test.kind) + " test at " + quantity(test.temperature, units.temperature) +
               ", grips at " + trimmed(test.rate) + " 1/s, width as stretch^-" + trimmed(test.width_exponent) +
               (test.draw_heat ? ", heated by the work done on it" : ""),
           "", "  ");
  return text + "\n" + curve_table(tested, units) + "\n" + numbers_text(tested, units) + "\n" + closing(film);
}

std::string film_series_text(const FilmDescription& film, const std::vector<TestedFilm>& series, UnitStyle style) {
  const DisplayUnits units(style);
  const FilmTest& test = series.front().test;
  std::string text =
      wrap(film.name + ": " + film_test_name(test.kind) + " tests, width as stretch^-" + trimmed(test.width_exponent),
           "", "  ") +
      "\n";
  const std::string stress = std::string(", ") + units.stress.name;
  std::vector<std::string> titles = {"rate, 1/s", std::string("at, ") + units.temperature.name, "modulus" + stress};
  if (test.kind == FilmTestKind::creep) {
    titles.insert(titles.end(), {"strain at load", "strain added"});
  } else {
    titles.push_back("at " + strain_text(test.stretch) + stress);
    if (test.kind == FilmTestKind::relaxation) titles.emplace_back("stress kept");
    if (test.kind == FilmTestKind::recovery) titles.emplace_back("permanent set");
    if (test.kind == FilmTestKind::cycle) titles.emplace_back("work lost, first");
  }
  text += row(titles, 15);
  for (const TestedFilm& t : series) {
    const FilmNumbers& n = t.curve.numbers;
    std::vector<std::string> cells = {trimmed(t.test.rate), number(t.test.temperature, units.temperature),
                                      n.secant_modulus ? number(*n.secant_modulus, units.stress) : "-"};
    if (test.kind == FilmTestKind::creep) {
      cells.insert(cells.end(), {strain_text(*n.creep_start), strain_text(*n.creep_strain)});
    } else {
      cells.push_back(number(*n.end_stress, units.stress));
      if (test.kind == FilmTestKind::relaxation) cells.push_back(percent(*n.kept));
      if (test.kind == FilmTestKind::recovery) cells.push_back(strain_text(*n.permanent_set));
      if (test.kind == FilmTestKind::cycle) cells.push_back(percent(*n.work_lost_first));
    }
    text += row(cells, 15);
  }
  if (test.kind == FilmTestKind::relaxation)
    text += "\n" + wrap("Stress kept: after " + duration(test.hold) + ".", "", "");
  if (test.kind == FilmTestKind::recovery)
    text +=
        "\n" +
        wrap("Permanent set: strain after " + duration(test.wait) + " without force, of the starting length.", "", "");
  return text + "\n" + closing(film);
}

std::string derived_title(const DerivedSettings& settings, double temperature, UnitStyle style) {
  return "Comparison numbers at " + percent(settings.stretch) + " on the load, drawn at " + trimmed(settings.rate) +
         " 1/s and " + quantity(temperature, DisplayUnits(style).temperature);
}

std::string derived_text(const DerivedNumbers& numbers, UnitStyle style) {
  const DisplayUnits units(style);
  std::string text;
  for (const DerivedField& field : derived_fields()) {
    const Parameter& p = *field.parameter;
    const std::optional<double>& value = numbers.*field.value;
    std::string shown = "-";
    if (value && p.unit == "Pa") shown = quantity(*value, units.stress);
    if (value && p.unit == "J/m^3") shown = quantity(*value, units.work);
    if (value && p.unit.empty()) shown = p.unit_due ? percent(*value) : trimmed(*value);
    text += fact(std::string(p.key.substr(p.key.find('.') + 1)), shown);
  }
  return text;
}

}  // namespace hoopfield::cli
