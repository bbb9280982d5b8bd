// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/film_test.hpp"
#include "bindings/cli/text_layout.hpp"
#include "sim/build_info.hpp"
#include "sim/io/number_text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace hoopfield::cli {

namespace {

using Json = nlohmann::ordered_json;

const char* kind_name(FilmTestKind kind) { return kind == FilmTestKind::tensile ? "tensile" : "relaxation"; }

FilmCurvePoint at_stretch(const std::vector<FilmCurvePoint>& points, double stretch) {
  const auto after =
      std::find_if(points.begin() + 1, points.end() - 1, [&](const auto& p) { return p.stretch >= stretch; });
  const FilmCurvePoint& a = *(after - 1);
  const FilmCurvePoint& b = *after;
  const double share = (stretch - a.stretch) / (b.stretch - a.stretch);
  return {a.time + share * (b.time - a.time), stretch, a.stress + share * (b.stress - a.stress)};
}

/// The points a person wants to see: a dozen strains, or the start and the round times of the hold.
std::vector<FilmCurvePoint> shown_points(const FilmTest& test, const FilmCurve& curve) {
  std::vector<FilmCurvePoint> shown;
  if (test.kind == FilmTestKind::tensile) {
    for (int i = 1; i <= 12; ++i) shown.push_back(at_stretch(curve.points, 1.0 + test.stretch * i / 12.0));
    return shown;
  }
  const double start = test.stretch / test.rate;
  std::vector<double> times = round_hold_times(test.hold);
  times.insert(times.begin(), 0.0);
  for (const double held : times)
    shown.push_back(*std::min_element(curve.points.begin(), curve.points.end(), [&](const auto& a, const auto& b) {
      return std::abs(a.time - start - held) < std::abs(b.time - start - held);
    }));
  return shown;
}

std::string row(const std::vector<std::string>& cells) {
  std::string line = " ";
  for (const std::string& cell : cells) line += pad_left(cell, 15);
  return line + '\n';
}

std::string curve_table(const FilmTest& test, const FilmCurve& curve, const DisplayUnits& units) {
  const bool relaxation = test.kind == FilmTestKind::relaxation;
  std::vector<std::string> titles = {relaxation ? "time held" : "strain", std::string("stress, ") + units.stress.name,
                                     std::string("true, ") + units.stress.name};
  if (relaxation) titles.push_back("stress kept");
  if (test.thickness) titles.push_back(std::string("force, ") + units.tension.name);
  std::string text = row(titles);
  const double start = test.stretch / test.rate;
  for (const FilmCurvePoint& p : shown_points(test, curve)) {
    std::vector<std::string> cells = {relaxation ? duration(std::max(0.0, p.time - start)) : percent(p.stretch - 1.0),
                                      number(p.stress, units.stress), number(p.stress * p.stretch, units.stress)};
    if (relaxation) cells.push_back(percent(p.stress / curve.numbers.end_stress));
    if (test.thickness) cells.push_back(number(p.stress * *test.thickness, units.tension));
    text += row(cells);
  }
  return text;
}

std::string fact(const std::string& label, const std::string& value) {
  return wrap(value, pad_right("  " + label, 34), std::string(34, ' '));
}

std::string numbers_text(const FilmTest& test, const FilmNumbers& n, const DisplayUnits& units) {
  std::string text = fact("secant modulus, 0 to 1 %", quantity(n.initial_modulus, units.stress));
  text += fact("yield (first stress peak)",
               n.yield_stress ? quantity(*n.yield_stress, units.stress) + " at " + percent(*n.yield_strain) + " strain"
                              : "none: stress rises all the way");
  text += fact("stress at " + percent(test.stretch), quantity(n.end_stress, units.stress));
  text += fact("stiffness there, dln P / dln l", trimmed(n.end_stiffness));
  if (n.kept) text += fact("stress kept after " + duration(test.hold), percent(*n.kept));
  if (n.loss_per_decade) text += fact("loss in the last decade of time", percent(*n.loss_per_decade) + " of the start");
  return text;
}

Json optional_number(const std::optional<double>& value) {
  return value && std::isfinite(*value) ? Json(*value) : Json(nullptr);
}

}  // namespace

std::string film_curve_text(const FilmDescription& film, const FilmTest& test, const FilmCurve& curve,
                            UnitStyle style) {
  const DisplayUnits units(style);
  std::string text =
      wrap(film.name + ": " + kind_name(test.kind) + " test at " + quantity(test.temperature, units.temperature) +
               ", grips at " + trimmed(test.rate) + " 1/s, width as stretch^-" + trimmed(test.width_exponent),
           "", "  ");
  text += "\n" + curve_table(test, curve, units) + "\n" + numbers_text(test, curve.numbers, units);
  text +=
      "\n" + wrap("Stress is force over the section on the roll; true stress is that times the stretch. " +
                      std::string(film.provenance.illustrative ? "This film is illustrative, no measured film. " : "") +
                      "The numbers follow from the film file; they are not measurements.",
                  "", "");
  return text;
}

std::string film_curve_json(const FilmDescription& film, const FilmTest& test, const FilmCurve& curve) {
  const FilmNumbers& n = curve.numbers;
  Json json = {{"version", build_version()},
               {"film", film.name},
               {"kind", kind_name(test.kind)},
               {"rate_per_s", test.rate},
               {"stretch_percent", test.stretch * 100.0},
               {"width_exponent", test.width_exponent},
               {"temperature_C", test.temperature - 273.15}};
  json["hold_s"] = test.kind == FilmTestKind::relaxation ? Json(test.hold) : Json(nullptr);
  json["numbers"] = {{"initial_modulus_MPa", n.initial_modulus * 1e-6},
                     {"yield_stress_MPa", n.yield_stress ? Json(*n.yield_stress * 1e-6) : Json(nullptr)},
                     {"yield_strain_percent", n.yield_strain ? Json(*n.yield_strain * 100.0) : Json(nullptr)},
                     {"end_stress_MPa", n.end_stress * 1e-6},
                     {"end_stiffness", optional_number(n.end_stiffness)},
                     {"stress_kept", optional_number(n.kept)},
                     {"loss_per_decade", optional_number(n.loss_per_decade)}};
  Json time = Json::array(), stretch = Json::array(), stress = Json::array();
  for (const FilmCurvePoint& p : curve.points) {
    time.push_back(p.time);
    stretch.push_back((p.stretch - 1.0) * 100.0);
    stress.push_back(p.stress * 1e-6);
  }
  json["curve"] = {{"time_s", time}, {"stretch_percent", stretch}, {"stress_MPa", stress}};
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

std::string film_curve_csv(const FilmDescription& film, const FilmTest& test, const FilmCurve& curve) {
  std::string name = film.name;
  std::replace_if(
      name.begin(), name.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20; }, ' ');
  std::string text = "# film: " + name + "\n# source: computed by hoopfield " + build_version() +
                     "\n# kind: " + kind_name(test.kind) + "\n# rate: " + shortest(test.rate) +
                     " 1/s\n# temperature: " + shortest(std::round((test.temperature - 273.15) * 1e9) / 1e9) +
                     " degC\n# width_exponent: " + shortest(test.width_exponent) + "\n";
  if (test.thickness) text += "# thickness: " + shortest(*test.thickness * 1e6) + " um\n";
  text += "stretch_percent,stress_MPa,time_s\n";
  for (const FilmCurvePoint& p : curve.points)
    text += shortest((p.stretch - 1.0) * 100.0) + "," + shortest(p.stress * 1e-6) + "," + shortest(p.time) + "\n";
  return text;
}

}  // namespace hoopfield::cli
