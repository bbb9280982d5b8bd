// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/unknowns.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/inputs/correlation.hpp"
#include "sim/inputs/inputs_detail.hpp"
#include "sim/inputs/spreads.hpp"

#include <algorithm>
#include <bit>
#include <charconv>
#include <cmath>
#include <limits>

namespace hoopfield {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

/// Range of the formula's share (c over its median, models the priors of sim/stations/pull_test.hpp at 0.1 m).
std::pair<double, double> formula_share(PullSlit slit) {
  switch (slit) {
    case PullSlit::none: return {0.78 / 0.92, 1.24 / 0.92};
    case PullSlit::beside: return {0.37 / 0.55, 0.81 / 0.55};
    case PullSlit::unknown: break;
  }
  return {0.38 / 0.72, 1.14 / 0.72};
}

const InputSpread* stated(const Scenario& s, const std::string& key) {
  const auto found = s.uncertainty.find(key);
  if (found == s.uncertainty.end() || found->second.kind == InputSpread::Kind::as_declared) return nullptr;
  return &found->second;
}

SpreadScale scale_of(const Unknown& u, double end) {
  const bool low = u.least > -infinite, high = u.most < infinite;
  const auto on_bound = [&](double x) { return (low && !(x > u.least)) || (high && !(x < u.most)); };
  if (on_bound(end) || on_bound(u.value)) return SpreadScale::linear;
  if (low && high) return SpreadScale::logit;
  return low && u.least >= 0.0 ? SpreadScale::logarithm : SpreadScale::linear;
}

void choose_scales(Unknown& u) {
  u.below = scale_of(u, u.low);
  u.above = scale_of(u, u.high);
}

Unknown unknown_of(const Parameter& p, Origin origin, double value, double low, double high) {
  Unknown u{std::string(p.key), origin, value, low, high, -infinite, infinite, {}, {}, &p, false};
  if (p.lower) u.least = p.lower->value;
  if (p.upper) u.most = p.upper->value;
  u.low = std::max(u.low, u.least);
  u.high = std::min(u.high, u.most);
  choose_scales(u);
  return u;
}

/// Half of the central 90 % as a share of the value, or in the unit of the key.
std::pair<double, double> ends_of(double value, const InputSpread& spread) {
  switch (spread.kind) {
    case InputSpread::Kind::share:
      return {value - std::abs(value) * spread.error, value + std::abs(value) * spread.error};
    case InputSpread::Kind::error: return {value - spread.error, value + spread.error};
    case InputSpread::Kind::range: return {spread.low, spread.high};
    case InputSpread::Kind::as_declared:
    case InputSpread::Kind::exact: break;
  }
  return {value, value};
}

Unknown tent_formula(const Scenario& s) {
  const auto [low, high] = formula_share(s.stations.slit);
  Unknown u =
      unknown_of(*find_parameter(ParameterRoom::scenario, "stations.tent_factor"), Origin::assumed, 1.0, 1.0, 1.0);
  u.least = 0.0, u.most = infinite, u.low = low, u.high = high;
  u.formula_share = true;
  choose_scales(u);
  return u;
}

double to_scale(const Unknown& u, SpreadScale scale, double x) {
  if (scale == SpreadScale::logarithm) return std::log(x);
  return scale == SpreadScale::logit ? std::log((x - u.least) / (u.most - x)) : x;
}

double from_scale(const Unknown& u, SpreadScale scale, double y) {
  if (scale == SpreadScale::logarithm) return std::exp(y);
  if (scale != SpreadScale::logit) return std::clamp(y, u.least, u.most);
  return u.least + (u.most - u.least) / (1.0 + std::exp(-y));
}

/// The number of a film description under its key in the film file; null when there is none.
double* film_number(FilmDescription& film, std::string_view key) {
  if (key == "density") return &film.density;
  if (key == "neck_in") return &film.neck_in;
  if (key == "network.modulus") return &film.network.modulus;
  if (key == "network.stretch_limit") return &film.network.stretch_limit;
  if (key == "hardening.viscous_share") return &film.viscous_share;
  if (key == "thermal.expansion") return &film.thermal.expansion;
  if (key == "thermal.modulus_softening") return &film.thermal.modulus_softening;
  if (key == "thermal.network_softening") return &film.thermal.network_softening;
  if (key == "thermal.heat_capacity") return &film.thermal.heat_capacity;
  constexpr std::string_view branch = "branch[";
  if (!key.starts_with(branch)) return nullptr;
  std::size_t number = 0;
  const char* end = key.data() + key.size();
  const auto [rest, error] = std::from_chars(key.data() + branch.size(), end, number);
  if (error != std::errc() || number < 1 || number > film.branches.size() || end - rest < 3) return nullptr;
  return &film.branches[number - 1][std::string_view(rest + 2, static_cast<std::size_t>(end - rest - 2))];
}

bool error_of_value(std::string_view key) { return key.ends_with(".activation_energy") || key.starts_with("thermal."); }

}  // namespace

std::vector<Unknown> unknown_inputs(const Scenario& scenario) {
  const std::vector<AssumedRange> assumed = assumed_ranges(scenario);
  std::vector<Unknown> unknowns;
  for (const ResolvedValue& value : resolved_values(scenario)) {
    const Parameter& p = *value.parameter;
    const InputSpread* spread = stated(scenario, value.key);
    const auto range = std::find_if(assumed.begin(), assumed.end(), [&](const auto& r) { return r.key == value.key; });
    if (spread != nullptr) {
      if (!value.number || spread->kind == InputSpread::Kind::exact) continue;
      const auto [low, high] = ends_of(*value.number, *spread);
      unknowns.push_back(unknown_of(p, value.source.origin, *value.number, low, high));
    } else if (range != assumed.end() && value.key == "stations.tent_factor" && !value.number) {
      unknowns.push_back(tent_formula(scenario));
    } else if (range != assumed.end()) {
      unknowns.push_back(unknown_of(p, value.source.origin, range->value, range->low, range->high));
    } else if (value.number && !p.error.empty() && value_acts(scenario, value.key) &&
               value.source.origin != Origin::assumed && std::isfinite(*value.number)) {
      const double share = parse_quantity(p.error, "");
      unknowns.push_back(unknown_of(p, value.source.origin, *value.number, *value.number * (1.0 - share),
                                    *value.number * (1.0 + share)));
    }
  }
  // A range of no width says nothing.
  std::erase_if(unknowns, [](const Unknown& u) { return !(u.high > u.low); });
  return unknowns;
}

bool acts_in_transit_only(std::string_view key) {
  return key.starts_with("transit.") || key == "friction.between_tiers" || key == "friction.tier_on_pallet" ||
         key == "friction.sliding_share";
}

std::vector<std::string> transit_only_keys() {
  std::vector<std::string> keys;
  for (const Parameter& p : parameters(ParameterRoom::scenario))
    if (acts_in_transit_only(p.key)) keys.emplace_back(p.key);
  return keys;
}

double value_at(const Unknown& u, double z) {
  const SpreadScale scale = z < 0.0 ? u.below : u.above;
  const double middle = to_scale(u, scale, u.value);
  const double end = to_scale(u, scale, z < 0.0 ? u.low : u.high);
  return from_scale(u, scale, middle + std::abs(z) / normal_95 * (end - middle));
}

void set_unknowns(Scenario& scenario, const std::vector<Unknown>& unknowns, const std::vector<double>& values) {
  std::vector<std::pair<std::string, double>> numbers;
  double share = scenario.stations.tent_share;
  for (std::size_t i = 0; i < unknowns.size(); ++i) {
    if (unknowns[i].formula_share) {
      share = values[i];
    } else {
      numbers.emplace_back(unknowns[i].key, values[i]);
    }
  }
  scenario.uncertainty.clear();  // ranges are about the value that is moved here
  set_numbers(scenario, numbers);
  scenario.stations.tent_share = share;
}

bool is_draw_count(std::int64_t samples) {
  return samples == 0 ||
         (samples >= 16 && samples <= 65536 && std::has_single_bit(static_cast<std::uint64_t>(samples)));
}

bool film_is_unknown(const Scenario& s) {
  const FilmDescription& film = s.film_description;
  return (film.covariance || film.assumed.contains("density")) && stated(s, "film.file") == nullptr;
}

FilmSpread::FilmSpread(const FilmDescription& film) : film_(film) {
  if (film.assumed.contains("density")) {
    const Parameter& p = *find_parameter(ParameterRoom::film_file, "density");
    density_ = unknown_of(p, Origin::assumed, film.density, std::min(film.density, parse_quantity(p.range_low, p.unit)),
                          std::max(film.density, parse_quantity(p.range_high, p.unit)));
  }
  if (!film.covariance) return;
  const FilmCovariance& c = *film_.covariance;
  keys_ = c.keys;
  const std::size_t n = c.keys.size();
  for (std::size_t i = 0; i < n; ++i)
    if (film_number(film_, c.keys[i]) == nullptr)
      throw InputError("covariance.parameters: \"" + c.keys[i] + "\" is not a number of this film", {}, 0, 0,
                       "covariance.parameters");
  root_ = symmetric_root(c.correlation, n);
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < n; ++j) root_[i * n + j] *= c.error[i];
}

FilmDescription FilmSpread::at(const std::vector<double>& z) const {
  FilmDescription film = film_;
  const std::size_t n = keys_.size();
  if (density_) film.density = value_at(*density_, z[n]);
  for (std::size_t i = 0; i < n; ++i) {
    double move = 0.0;
    for (std::size_t j = 0; j < n; ++j) move += root_[i * n + j] * z[j];
    const std::string& key = keys_[i];
    double& number = *film_number(film, key);
    number = error_of_value(key) ? number + move : number * std::exp(move);
  }
  return film;
}

const char* scale_word(SpreadScale scale) {
  switch (scale) {
    case SpreadScale::linear: return "linear";
    case SpreadScale::logarithm: return "log";
    case SpreadScale::logit: return "logit";
  }
  return "linear";
}

}  // namespace hoopfield
