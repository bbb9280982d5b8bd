// SPDX-License-Identifier: BSD-3-Clause
// What the row of the span averages over the film that a body holds, against a fine quadrature.
#include "sim/winding/span_film.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/winding_cases.hpp"

#include <cmath>
#include <functional>

using namespace hoopfield;
using namespace hoopfield::testing;

namespace {

constexpr double young = 0.3, farthest = 4.0;  // m on the roll
constexpr std::size_t points = 6;

double place_of(double x) { return young * std::pow(farthest / young, x); }
double log_of(double place) { return std::log(place / young) / std::log(farthest / young); }

// Polynomials in the logarithm of the place, so that the nodes carry them exactly.
double log_stretch(double x) { return 1.1 + 0.05 * x - 0.02 * x * x + 0.01 * std::pow(x, 5); }
double viscous(std::size_t k, double x) {
  return 0.4 + 0.1 * static_cast<double>(k) + (0.3 - 0.05 * static_cast<double>(k)) * x - 0.2 * std::pow(x, 3);
}

/// Mean over unstretched film from the end of the young film to a place, by Simpson's rule in x; film beyond the
/// farthest is that of the farthest.
double mean_to(double end, const std::function<double(double)>& value) {
  constexpr int pieces = 4000;
  const double top = log_of(std::min(end, farthest)), width = top / pieces, rate = std::log(farthest / young);
  double sum = 0.0;
  for (int i = 0; i <= pieces; ++i) {
    const double x = width * i, weight = i == 0 || i == pieces ? 1.0 : i % 2 == 1 ? 4.0 : 2.0;
    sum += weight * value(x) * rate * place_of(x);
  }
  sum *= width / 3.0;
  if (end > farthest) sum += value(1.0) * (end - farthest);
  return sum / (end - young);
}

SpanRowLaw polynomial_row() {
  const WindingInput in = reference_winding();
  SpanFilm film;
  film.law = in.law;
  film.section = in.roll_section;
  const std::size_t branches = film.law->branch_count();
  SpanReference reference;
  reference.farthest = farthest;
  reference.young_mass = {0.1, 0.2};
  const auto state_at = [&](double x) {
    FilmState state;
    state.stretch = std::exp(log_stretch(x));
    for (std::size_t k = 0; k < branches; ++k) state.strain[k] = log_stretch(x) - viscous(k, x);
    return state;
  };
  reference.young = {state_at(0.0), state_at(0.0)};
  reference.laid = state_at(1.0);
  for (std::size_t i = 0; i < points; ++i) reference.placed.push_back(state_at(log_of(reference.place(i, points))));
  return {film, reference};
}

}  // namespace

TEST_CASE("span reference: the mean of a body is the integral over the film it holds", "[span]") {
  const SpanRowLaw law = polynomial_row();
  const std::size_t branches = law.film().law->branch_count();
  REQUIRE(branches >= 2);
  SpanRow row;
  row.laid = law.reference().laid;
  // Short bodies, where moments are small differences of large terms, and film beyond what is known.
  for (const double from : {0.3004, 0.301, 0.33, 1.0, 4.0})
    for (const double to : {0.3005, 0.5, 2.0, 3.999, 4.0, 6.5}) {
      INFO(from << " to " << to);
      SpanRow aged = row;
      law.age(aged, from, to);
      for (std::size_t k = 0; k < branches; ++k) {
        const auto value = [&](double x) { return viscous(k, x); };
        CHECK(aged.laid.strain[k] - row.laid.strain[k] ==
              Approx(mean_to(from, value) - mean_to(to, value)).margin(1e-9));
      }
    }
}

TEST_CASE("span reference: film at the load is further drawn than the mean of its body", "[span]") {
  const SpanRowLaw law = polynomial_row();
  SpanRow row;
  row.laid = law.reference().laid;
  row.laid.stretch = 3.2;
  for (const double mass : {0.31, 0.8, 2.5, 4.0, 9.0}) {
    INFO(mass);
    const double at_end = log_stretch(log_of(std::min(mass, farthest)));
    const double expected = 3.2 * std::exp(at_end - mean_to(mass, log_stretch));
    CHECK(law.stretch_at_load(row, mass) == Approx(expected).epsilon(1e-9));
  }
}
