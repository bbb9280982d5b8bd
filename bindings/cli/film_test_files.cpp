// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/film_test.hpp"
#include "models/caution.hpp"
#include "sim/base/build_info.hpp"
#include "sim/base/number_text.hpp"
#include "sim/compare/compare.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace hoopfield::cli {

namespace {

using Json = nlohmann::ordered_json;

Json optional_number(const std::optional<double>& value, double scale = 1.0) {
  return value && std::isfinite(*value) ? Json(*value * scale) : Json(nullptr);
}

double celsius(double kelvin) { return std::round((kelvin - 273.15) * 1e9) / 1e9; }

Json numbers_json(const FilmNumbers& n) {
  return {{"secant_modulus_MPa", optional_number(n.secant_modulus, 1e-6)},
          {"yield_stress_MPa", optional_number(n.yield_stress, 1e-6)},
          {"yield_strain_percent", optional_number(n.yield_strain, 100.0)},
          {"end_stress_MPa", optional_number(n.end_stress, 1e-6)},
          {"end_stiffness", optional_number(n.end_stiffness)},
          {"stress_kept", optional_number(n.kept)},
          {"loss_per_decade", optional_number(n.loss_per_decade)},
          {"release_stretch_percent", optional_number(n.release_stretch, 100.0)},
          {"permanent_set_percent", optional_number(n.permanent_set, 100.0)},
          {"permanent_set_share", optional_number(n.permanent_share)},
          {"elastic_recovery", optional_number(n.elastic_recovery)},
          {"work_lost_first_cycle", optional_number(n.work_lost_first)},
          {"work_lost_last_cycle", optional_number(n.work_lost_last)},
          {"top_stress_last_over_first", optional_number(n.peak_kept)},
          {"creep_start_percent", optional_number(n.creep_start, 100.0)},
          {"creep_strain_percent", optional_number(n.creep_strain, 100.0)}};
}

Json test_json(const TestedFilm& tested) {
  const FilmTest& test = tested.test;
  Json json = {{"kind", film_test_name(test.kind)},
               {"rate_per_s", test.rate},
               {"stretch_percent", test.stretch * 100.0},
               {"width_exponent", test.width_exponent},
               {"temperature_C", test.temperature - 273.15}};
  const bool holds = test.kind == FilmTestKind::relaxation || test.kind == FilmTestKind::creep;
  json["hold_s"] = holds ? Json(test.hold) : Json(nullptr);
  if (test.kind == FilmTestKind::recovery) {
    json["release_hold_s"] = test.release_hold;
    json["wait_s"] = test.wait;
  }
  if (test.kind == FilmTestKind::cycle) json["cycles"] = test.cycles;
  if (test.kind == FilmTestKind::creep) {
    json["stretch_percent"] = nullptr;
    json["creep_stress_MPa"] = test.creep_stress * 1e-6;
  }
  json["numbers"] = numbers_json(tested.curve.numbers);
  Json time = Json::array(), stretch = Json::array(), stress = Json::array(), temperature = Json::array();
  for (const FilmCurvePoint& p : tested.curve.points) {
    time.push_back(p.time);
    stretch.push_back((p.stretch - 1.0) * 100.0);
    stress.push_back(p.stress * 1e-6);
    temperature.push_back(celsius(p.temperature));
  }
  json["curve"] = {{"time_s", time}, {"stretch_percent", stretch}, {"stress_MPa", stress}};
  if (test.draw_heat) json["curve"]["temperature_C"] = temperature;
  return json;
}

/// Names and units of a comparison, so that both speak of one thing.
Json derived_json(const DerivedNumbers& numbers) {
  constexpr std::string_view prefix = "film_numbers.";
  ComparedSide film;
  film.film_numbers = numbers;
  Json json = Json::object();
  for (const CompareQuantity& quantity : compare_quantities())
    if (quantity.json_name.starts_with(prefix))
      json[quantity.json_name.substr(prefix.size())] = optional_number(quantity.value(film), quantity.per_si);
  return json;
}

std::string one_line(std::string name) {
  std::replace_if(
      name.begin(), name.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20; }, ' ');
  return name;
}

}  // namespace

std::string film_curves_json(const FilmDescription& film, const std::vector<TestedFilm>& series,
                             const std::vector<DerivedNumbers>& derived) {
  Json json = {{"version", build_version()}, {"caution", short_caution}, {"film", film.name}};
  Json tests = Json::array();
  for (std::size_t i = 0; i < series.size(); ++i) {
    tests.push_back(test_json(series[i]));
    if (!derived.empty()) tests.back()["film_numbers"] = derived_json(derived[i]);
  }
  if (series.size() == 1)
    json.update(tests.front());
  else
    json["tests"] = tests;
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

std::string film_curves_csv(const FilmDescription& film, const std::vector<TestedFilm>& series) {
  const FilmTest& test = series.front().test;
  const bool single = series.size() == 1;
  std::string text = "# film: " + one_line(film.name) + "\n# source: computed by hoopfield " + build_version() +
                     "\n# kind: " + film_test_name(test.kind) + "\n";
  if (single)
    text +=
        "# rate: " + shortest(test.rate) + " 1/s\n# temperature: " + shortest(celsius(test.temperature)) + " degC\n";
  text += "# width_exponent: " + shortest(test.width_exponent) + "\n";
  if (test.thickness) text += "# thickness: " + shortest(*test.thickness * 1e6) + " um\n";
  text += single ? "" : "rate_per_s,temperature_C,";
  text += "stretch_percent,stress_MPa,time_s\n";
  for (const TestedFilm& tested : series) {
    const std::string lead =
        single ? "" : shortest(tested.test.rate) + "," + shortest(celsius(tested.test.temperature)) + ",";
    for (const FilmCurvePoint& p : tested.curve.points)
      text +=
          lead + shortest((p.stretch - 1.0) * 100.0) + "," + shortest(p.stress * 1e-6) + "," + shortest(p.time) + "\n";
  }
  return text;
}

}  // namespace hoopfield::cli
