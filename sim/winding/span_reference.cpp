// SPDX-License-Identifier: BSD-3-Clause
// The film that a span held at its force would hold: its state by place, and what is averaged over bodies of it.
#include "sim/winding/span_film.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace hoopfield {

namespace {

double chebyshev(std::size_t i, std::size_t count) {
  return 0.5 - 0.5 * std::cos(std::numbers::pi * static_cast<double>(i) / static_cast<double>(count - 1));
}

}  // namespace

double SpanReference::young_end() const {
  double sum = 0.0;
  for (const double mass : young_mass) sum += mass;
  return sum;
}

double SpanReference::place(std::size_t i, std::size_t count) const {
  return young_end() * std::pow(farthest / young_end(), chebyshev(i, count));
}

double SpanFilm::force(const FilmState& state) const { return section * law->stress(state, mode, temperature).nominal; }

SpanRowLaw::SpanRowLaw(SpanFilm film, SpanReference reference)
    : film_(std::move(film)), reference_(std::move(reference)) {
  for (std::size_t j = 0; j <= young_count(); ++j) {
    const FilmState& state = j < young_count() ? reference_.young[j] : reference_.laid;
    for (std::size_t k = 0; k < film_.law->branch_count(); ++k)
      viscous_[j][k] = std::log(state.stretch) - state.strain[k];
  }
  young_mass_ = reference_.young_end();
  const auto count = static_cast<Eigen::Index>(reference_.placed.size());
  constexpr auto log_stretch = static_cast<Eigen::Index>(max_branches);
  if (count == 0) return;
  Eigen::MatrixXd powers(count, count), viscous(count, static_cast<Eigen::Index>(max_branches) + 1);
  viscous.setZero();
  for (Eigen::Index i = 0; i < count; ++i) {
    const FilmState& placed = reference_.placed[static_cast<std::size_t>(i)];
    const double x = chebyshev(static_cast<std::size_t>(i), reference_.placed.size());
    for (Eigen::Index n = 0; n < count; ++n) powers(i, n) = std::pow(x, static_cast<double>(n));
    for (std::size_t k = 0; k < film_.law->branch_count(); ++k)
      viscous(i, static_cast<Eigen::Index>(k)) = std::log(placed.stretch) - placed.strain[k];
    viscous(i, log_stretch) = std::log(placed.stretch);
  }
  const Eigen::MatrixXd solved = powers.colPivHouseholderQr().solve(viscous);
  for (Eigen::Index n = 0; n < count; ++n) {
    Placed v{};
    for (std::size_t k = 0; k < v.size(); ++k) v[k] = solved(n, static_cast<Eigen::Index>(k));
    polynomial_.push_back(v);
  }
}

/// From the end of the young film to a place further on. With `s = s_0 e^(a x)`: `int x^n ds = s x^n - (n/a) int
/// x^(n-1) ds`.
SpanRowLaw::Placed SpanRowLaw::integral(double place) const {
  const double from = young_mass_, scale = std::log(reference_.farthest / from);
  const double known = std::min(place, reference_.farthest), x = std::log(known / from) / scale;
  Placed out{};
  double moment = known - from, power = 1.0;
  for (std::size_t n = 0; n < polynomial_.size(); ++n) {
    if (n > 0) {
      power *= x;
      moment = known * power - static_cast<double>(n) / scale * moment;
    }
    for (std::size_t k = 0; k < out.size(); ++k) out[k] += polynomial_[n][k] * moment;
  }
  // Beyond what is known film is no older: a span that holds so much of it is slack.
  if (place > known) {
    const Placed there = at_place(known);
    for (std::size_t k = 0; k < out.size(); ++k) out[k] += there[k] * (place - known);
  }
  return out;
}

SpanRowLaw::Placed SpanRowLaw::at_place(double place) const {
  const double from = young_mass_;
  const double x = std::log(std::min(place, reference_.farthest) / from) / std::log(reference_.farthest / from);
  Placed out{};
  for (std::size_t n = polynomial_.size(); n-- > 0;)
    for (std::size_t k = 0; k < out.size(); ++k) out[k] = out[k] * x + polynomial_[n][k];
  return out;
}

/// By the ratio that the reference film has there to the mean of its body.
double SpanRowLaw::stretch_at_load(const SpanRow& row, double mass) const {
  if (young_count() == 0) return row.laid.stretch;
  const double end = young_mass_ + body_mass(young_count(), mass);
  const double mean = integral(end)[max_branches] / (end - young_mass_);
  return row.laid.stretch * std::exp(at_place(end)[max_branches] - mean);
}

SpanRowLaw::Strains SpanRowLaw::mean_viscous(double from, double to) const {
  const Placed low = integral(from), high = integral(to);
  Strains mean{};
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) mean[k] = (high[k] - low[k]) / (to - from);
  return mean;
}

SpanRowLaw::Strains SpanRowLaw::last_viscous(double mass) const {
  if (young_count() == 0) return viscous_[0];
  return mean_viscous(young_mass_, young_mass_ + body_mass(young_count(), mass));
}

/// The reference of the last body when the span holds an amount of film, at the reference force.
FilmState SpanRowLaw::reference_last(double mass) const {
  if (young_count() == 0) return reference_.laid;
  const Strains viscous = last_viscous(mass);
  FilmState state = reference_.laid;
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) state.strain[k] = std::log(state.stretch) - viscous[k];
  const double nominal = film_.law->stress(reference_.laid, film_.mode, film_.temperature).nominal;
  const double stretch = stretch_at_stress(*film_.law, state, nominal, film_.mode, film_.temperature);
  film_.law->step(state, stretch, 0.0, film_.mode, film_.temperature, film_.temperature);
  return state;
}

}  // namespace hoopfield
