// SPDX-License-Identifier: BSD-3-Clause
#include "models/renamed.hpp"

namespace hoopfield {
namespace {

constexpr Renamed names[] = {
    // Scenario
    {"load.corner_pressure_limit", "load.edge_pressure_limit"},
    // Outputs of a prediction. A cycle in the trade includes infeed, cut and clamp; this is the time of rotation alone.
    {"pattern.cycle_time", "pattern.rotation_time"},
    {"pattern.cycle_time_s", "pattern.rotation_time_s"},
    {"load.corner_force", "load.edge_line_force"},
    {"load.corner_force_N_per_m", "load.edge_line_force_N_per_m"},
    {"load.corner_pressure", "load.edge_pressure"},
    // Numbers of a film
    {"film_numbers.stiffness_over_force", "film_numbers.held_stiffness_over_force"},
    {"initial_modulus_MPa", "secant_modulus_MPa"},
    {"permanent_strain_percent_of_original", "permanent_set_percent"},
    {"permanent_strain_share_of_extension", "permanent_set_share"},
    {"release_strain_percent", "release_stretch_percent"},
    // Comparison
    {"alternatives", "sides"},
    // Tables: columns hold the names and units of the JSON object
    {"temperature_K", "temperature_C"},
    {"closing_along_length_m", "closing_along_length_mm"},
    {"closing_along_width_m", "closing_along_width_mm"},
    {"station_hoop_tension_N_per_m", "hoop_tension_N_per_m"},
    {"station_band_tension_N", "band_tension_N"},
    {"station_pull_force_N", "pull_force_N"},
    {"station_strand_force_N", "strand_force_N"},
    {"station_tent_factor", "tent_factor"},
    {"station_film_layers", "film_layers"},
    {"build_up.csv", "buildup.csv"},
    {"force_N", "face_force_N"},
};

}  // namespace

std::span<const Renamed> renamed_names() { return names; }

std::string_view renamed_to(std::string_view name) {
  for (const Renamed& r : names)
    if (r.before == name) return r.now;
  // "corner_force" alone is the end of one key.
  for (const Renamed& r : names) {
    const std::size_t dot = r.before.rfind('.');
    if (dot != std::string_view::npos && r.before.substr(dot + 1) == name && r.before != "build_up.csv") return r.now;
  }
  return {};
}

}  // namespace hoopfield
