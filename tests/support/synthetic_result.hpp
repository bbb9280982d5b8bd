// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A small made-up result with every field filled, for tests of the writers. The numbers mean nothing.
#pragma once

#include "sim/inputs/scenario.hpp"
#include "sim/outputs/result.hpp"

#include <cmath>
#include <limits>

namespace hoopfield::testing {

inline Scenario synthetic_scenario() {
  Scenario s;
  s.title = "Synthetic \"case\" 5 µm\n";
  s.text = "# scenario as read: żółć\n[film]\n";
  s.film_text = "name = \"illustrative\"\n";
  s.film.width = 0.5;
  s.film.thickness = 23e-6;
  s.film.price = 1.6;
  s.cost.currency = "EUR";
  s.delivery.prestretch = 2.5;
  s.delivery.tension.force = 70.0;
  s.load.length = 1.2;
  s.load.width = 1.0;
  s.load.height = 1.5;
  s.load.stiffness_along_length = 2e5;
  s.load.stiffness_along_width = 1.5e5;
  s.stations.top = 1.25;
  s.stations.middle = 0.75;
  s.stations.bottom = 0.25;
  s.sources["film.width"] = {Origin::given, "scenario.toml", 3, 9};
  return s;
}

inline StationResult synthetic_station(double height, double tension, double layers) {
  StationResult s;
  s.height = height;
  s.temperature = 296.15;
  s.hoop_tension = tension;
  s.band_tension = tension * 0.2;
  s.band_least_tension = tension * 0.9;
  s.pull_force = tension * 0.3;
  s.strand_force = tension * 0.15;
  s.tent_factor = 2.0;
  s.pull_force_film_stretch_share = 0.21;
  s.film_layers = layers;
  s.film_layers_min = std::floor(layers);
  s.film_layers_max = std::ceil(layers);
  for (std::size_t f = 0; f < face_count; ++f)
    s.faces[f] = {tension * (1.0 + 0.01 * static_cast<double>(f)), layers, s.strand_force, s.pull_force};
  return s;
}

inline Result synthetic_result() {
  Result r;
  r.version = "test";
  r.time = {0.0, 0.1, 60.0, 604800.0};
  r.height = {0.25, 0.75, 1.25};
  r.turn = {1.0, 2.0};
  const auto fill = [](Field& field, std::vector<std::size_t> shape, double base) {
    field.resize(std::move(shape), 0.0);
    for (std::size_t i = 0; i < field.data.size(); ++i) field.data[i] = base + static_cast<double>(i) / 3.0;
  };
  fill(r.hoop_tension, {4, 4, 3}, 300.0);
  fill(r.film_layers, {4, 3}, 2.0);
  fill(r.film_stiffness, {4, 3}, 4000.0);
  fill(r.hoop_tension_buildup, {2, 4, 3}, 100.0);
  fill(r.layer_tension, {3, 4, 3}, 50.0);
  r.layer_tension.data.back() = std::numeric_limits<double>::quiet_NaN();
  fill(r.closing_along_length, {4, 3}, 0.001);
  fill(r.closing_along_width, {4, 3}, 0.002);
  r.temperature = {296.15, 296.15, 296.15, 311.15};
  r.film_path.prestretch_force = 61.2;
  r.film_path.film_temperature = 307.0;
  r.film_path.stretch_on_load = 3.3333333333333335;
  r.film_path.laid_width = 0.4;
  r.film_path.laid_thickness = 8e-6;
  r.film_path.gap_position = {0.0, 0.025, 0.05};
  r.film_path.gap_stretch = {1.1, 2.0, 3.5};
  r.film_path.gap_temperature = {296.15, 300.0, 307.0};
  r.span = {70.0, 69.0, 60.0, 80.0, 0.95, {0.0, 3.0, 6.0}, {70.0, 60.0, 80.0}, {0.7, 0.6, 0.8}};
  r.pattern = {14.2, 0.19, 0.525, 0.0, 0.038, 0.038, 71.0, 0.0, 0.0};
  r.end.stations = {synthetic_station(1.25, 900.0, 5.5), synthetic_station(0.75, 600.0, 4.2),
                    synthetic_station(0.25, 950.0, 6.0)};
  r.after_storage.stations = {synthetic_station(1.25, 700.0, 5.5), synthetic_station(0.75, 450.0, 4.2),
                              synthetic_station(0.25, 720.0, 6.0)};
  r.weakest.stations = {synthetic_station(1.25, 690.0, 5.5), synthetic_station(0.75, 440.0, 4.2),
                        synthetic_station(0.25, 710.0, 6.0)};
  for (StationResult& station : r.weakest.stations) station.time = 302400.0, station.temperature = 311.15;
  for (StationResult& station : r.after_storage.stations) station.time = 604800.0;
  r.weakest.least_hoop_tension = 430.0;
  r.weakest.least_height = 0.75;
  r.weakest.least_face = left;
  r.end.least_hoop_tension = 590.0;
  r.end.least_height = 0.75;
  r.after_storage.least_hoop_tension = 440.0;
  r.after_storage.least_height = 0.75;
  r.after_storage.least_face = left;
  r.load = {0.004, 0.006, 350.0, 44500.0};
  r.film = {19.5, 0.206};
  r.sensitivity = Sensitivity{0.71, 0.83};
  UnknownInput friction;
  friction.key = "friction.film_on_load";
  friction.origin = "assumed";
  friction.low_text = "0.2";
  friction.high_text = "0.6";
  friction.value_text = "0.35";
  friction.containment_low = friction.low = 410.0;
  friction.containment_high = friction.high = 480.0;
  friction.quantity = "hoop_tension";
  friction.at = "after_storage";
  friction.effect = 0.155;
  friction.how_to_measure = "Pull a film strip over the load at an angle.";
  friction.caution = "Goods may fall.";
  r.assumed.push_back(friction);
  r.targets.push_back({"middle", "hoop_tension", "after_storage", 500.0, 450.0, false, {}, {}});
  r.warnings.push_back({"assumed-stiffness", "caution", "load.stiffness_along_length", "assumed: \"cased\""});
  return r;
}

}  // namespace hoopfield::testing
