// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/resolved_scenario.hpp"

#include "models/error.hpp"

#include <optional>
#include <string>

namespace hoopfield {
namespace {

double required(const Scenario& s, const std::optional<double>& value, const std::string& key, const char* expected) {
  if (!value) throw InputError(key + ": missing; expected " + expected, s.path, 0, 0, key);
  return *value;
}

}  // namespace

ResolvedScenario::ResolvedScenario(const Scenario& s)
    : inputs(s),
      span_force(required(s, s.delivery.tension.force, "delivery.tension.force", "a force such as \"70 N\"") *
                 (s.delivery.tension.control == TensionControl::fixed_length ? 1.0 : s.delivery.tension.force_scale)),
      width_exponent(s.delivery.neck_in.value_or(s.film_description.neck_in)) {
  if (s.delivery.tension.control == TensionControl::fixed_length)
    length_per_turn = required(s, s.delivery.tension.length_per_turn, "delivery.tension.length_per_turn",
                               "the film per turn over the perimeter that control \"fixed_length\" feeds");
}

std::array<double, station_names.size()> ResolvedScenario::station_heights() const {
  const StationsInput& stations = inputs.stations;
  return {required(inputs, stations.top, "stations.top", "a height such as \"1.2 m\""),
          required(inputs, stations.middle, "stations.middle", "a height such as \"0.7 m\""),
          required(inputs, stations.bottom, "stations.bottom", "a height such as \"0.2 m\"")};
}

}  // namespace hoopfield
