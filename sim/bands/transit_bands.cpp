// SPDX-License-Identifier: BSD-3-Clause
#include "sim/bands/transit_bands.hpp"

#include "models/error.hpp"
#include "sim/base/parallel.hpp"
#include "sim/inputs/unknowns.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield {
namespace {

/// Largest pulse with one input elsewhere; NaN where goods are too stiff to be ridden.
double pulse_at(const Scenario& scenario, const Result& result, const Unknown& unknown, double value,
                std::size_t direction) {
  try {
    Scenario moved = scenario;
    set_unknowns(moved, {unknown}, {value});
    return largest_of(transit_stack(moved, result, weakest_moment, direction), blow_shape(moved.transit));
  } catch (const Error&) {
    return std::numeric_limits<double>::quiet_NaN();
  }
}

std::vector<PulseInfluence> influences(const Scenario& scenario, const Result& result, std::size_t direction,
                                       double from, Observer* observer) {
  std::vector<Unknown> moved;
  for (Unknown& unknown : unknown_inputs(scenario))
    if (acts_in_transit_only(unknown.key)) moved.push_back(std::move(unknown));
  std::vector<PulseInfluence> list(moved.size());
  for (std::size_t i = 0; i < moved.size(); ++i) list[i] = {moved[i].key, moved[i].low, moved[i].high, 0.0, 0.0};
  run_parallel(2 * moved.size(), observer, from, 1.0, "inputs of the way one at a time", [&](std::size_t j, Observer*) {
    const Unknown& unknown = moved[j / 2];
    double& at = j % 2 == 0 ? list[j / 2].at_low : list[j / 2].at_high;
    at = pulse_at(scenario, result, unknown, j % 2 == 0 ? unknown.low : unknown.high, direction);
  });
  std::erase_if(list, [](const PulseInfluence& i) { return std::isnan(i.at_low) || std::isnan(i.at_high); });
  std::stable_sort(list.begin(), list.end(), [](const PulseInfluence& a, const PulseInfluence& b) {
    return std::abs(a.at_high - a.at_low) > std::abs(b.at_high - b.at_low);
  });
  return list;
}

}  // namespace

void add_transit_bands(const Scenario& scenario, const Result& result, TransitAnswer& answer, std::size_t samples,
                       Observer* observer) {
  if (samples == 0) return;
  BandOptions drawn;
  drawn.samples = samples;
  drawn.seed = band_options(scenario).seed;
  drawn.pulses = true;
  drawn.to = 0.85;
  answer.band = draw_bands(scenario, drawn, observer);
  const std::size_t weaker = answer.direction[1].largest_blow < answer.direction[0].largest_blow ? 1 : 0;
  answer.influences = influences(scenario, result, weaker, drawn.to, observer);
}

}  // namespace hoopfield
