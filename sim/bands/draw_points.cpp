// SPDX-License-Identifier: BSD-3-Clause
#include "sim/bands/draw_points.hpp"

#include "models/error.hpp"
#include "models/parameter.hpp"

#include <boost/math/special_functions/erf.hpp>
#include <boost/random/sobol.hpp>

#include <cmath>
#include <map>
#include <numbers>
#include <string>

namespace hoopfield {
namespace {

constexpr unsigned digits = 32;
constexpr std::size_t most_film_numbers = 48;  // eight branches of five numbers, and those every film has

/// Mixes the bits of a number (the finaliser of SplitMix64; Steele, Lea and Flood 2014, from memory).
std::uint64_t mixed(std::uint64_t x) {
  x += 0x9e3779b97f4a7c15U;
  x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9U;
  x = (x ^ (x >> 27U)) * 0x94d049bb133111ebU;
  return x ^ (x >> 31U);
}

std::uint32_t scrambled(std::uint32_t x, std::uint64_t seed) {
  std::uint32_t flips = 0;
  for (unsigned digit = 0; digit < digits; ++digit) {
    const std::uint64_t before = digit == 0 ? 0U : x >> (digits - digit);
    const std::uint64_t hash = mixed(seed ^ mixed((std::uint64_t{digit} << 32U) | before));
    flips |= static_cast<std::uint32_t>(hash >> 63U) << (digits - 1 - digit);
  }
  return x ^ flips;
}

/// What belongs to a film and its roll rather than to the machine or the load.
bool of_film(std::string_view key) {
  return key.starts_with("film.") || key == "delivery.neck_in" || key == "delivery.width_on_load";
}

struct Places {
  std::map<std::string_view, std::size_t> shared, film;
  Places() {
    for (const Parameter& p : parameters(ParameterRoom::scenario)) {
      auto& list = of_film(p.key) ? film : shared;
      list.emplace(p.key, list.size());
    }
  }
  [[nodiscard]] std::size_t block() const { return film.size() + most_film_numbers; }
};

const Places& places() {
  static const Places known;
  return known;
}

}  // namespace

DrawPoints::DrawPoints(std::size_t count, std::size_t dimensions, std::uint64_t seed)
    : dimensions_(dimensions), seed_(mixed(seed)), points_(count * dimensions, 0) {
  // The engine leaves out the origin, which is the first point.
  boost::random::sobol engine(dimensions);
  for (std::size_t i = dimensions; i < points_.size(); ++i) points_[i] = static_cast<std::uint32_t>(engine() >> 32U);
}

double DrawPoints::at(std::size_t point, std::size_t dimension) const {
  const std::uint32_t x = scrambled(points_[point * dimensions_ + dimension], seed_ ^ mixed(dimension + 1));
  return (static_cast<double>(x) + 0.5) * 0x1p-32;
}

double DrawPoints::normal(std::size_t point, std::size_t dimension) const {
  return -std::numbers::sqrt2 * boost::math::erfc_inv(2.0 * at(point, dimension));
}

std::size_t dimension_of(std::string_view key, std::size_t film_block) {
  const Places& known = places();
  if (const auto shared = known.shared.find(key); shared != known.shared.end()) return shared->second;
  const auto film = known.film.find(key);
  if (film == known.film.end()) throw InputError(std::string(key) + ": unknown key", {}, 0, 0, std::string(key));
  return known.shared.size() + film_block * known.block() + film->second;
}

std::size_t film_dimension(std::size_t number, std::size_t film_block) {
  const Places& known = places();
  return known.shared.size() + film_block * known.block() + known.film.size() + number % most_film_numbers;
}

std::size_t dimension_count(std::size_t film_blocks) { return places().shared.size() + film_blocks * places().block(); }

}  // namespace hoopfield
