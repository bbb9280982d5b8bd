// SPDX-License-Identifier: BSD-3-Clause
#include "sim/winding/span_film.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {

namespace {

constexpr double even = 1e-10;         // difference in ln l below which bodies carry one stress
constexpr double greatest_move = 0.3;  // in ln l, of a body in one round: slack film is far from straight
constexpr int most_rounds = 30;
constexpr std::size_t work_of_feeding = 12;  // of a step, in steps of the film law that take as long
constexpr double least_share = 1e-3;         // of all film, that the body at the load counts as at least
constexpr double least_slope = 1e-12;  // of the greatest among the bodies: keeps a limp one from taking up everything

}  // namespace

double SpanRowLaw::body_mass(std::size_t j, double mass) const {
  return j < young_count() ? reference_.young_mass[j] : std::max(mass - young_mass_, least_share * mass);
}

/// Half the reference film's own flow over a step: the shift x of each branch strain for which shift, film law at held
/// stretch and shift again give the reference back, `S(e + x) + x = e`. The left side rises with x by a rate between 1
/// and 2, so a secant from there settles in a few evaluations; symmetric, hence the even error expansion of the step is
/// kept.
SpanRowLaw::Strains SpanRowLaw::half_drift_of(const FilmState& reference, double dt) const {
  Strains shift{}, before{}, miss_before{};
  const std::size_t branches = film_.law->branch_count();
  for (int i = 0; i < 12 && branches > 0; ++i) {
    FilmState rested = reference;
    for (std::size_t k = 0; k < branches; ++k) rested.strain[k] += shift[k];
    film_.law->step(rested, reference.stretch, dt, film_.mode, film_.temperature, film_.temperature);
    double greatest = 0.0;
    for (std::size_t k = 0; k < branches; ++k) {
      const double miss = rested.strain[k] + shift[k] - reference.strain[k];
      const double moved = shift[k] - before[k];
      const double rise = moved != 0.0 ? std::clamp((miss - miss_before[k]) / moved, 1.0, 2.0) : 2.0;
      before[k] = shift[k];
      miss_before[k] = miss;
      shift[k] -= miss / rise;
      greatest = std::max(greatest, std::abs(miss));
    }
    if (greatest < 1e-11) break;
  }
  return shift;
}

SpanRowLaw::Drift SpanRowLaw::half_drift(double dt, double begin_mass, double end_mass) const {
  Drift drift;
  for (std::size_t j = 0; j < young_count(); ++j) drift.young[j] = half_drift_of(reference_.young[j], dt);
  drift.mass = {begin_mass, end_mass};
  drift.last[0] = half_drift_of(reference_last(begin_mass), dt);
  drift.last[1] = young_count() == 0 ? drift.last[0] : half_drift_of(reference_last(end_mass), dt);
  return drift;
}

void SpanRowLaw::flow(SpanRow& row, double pace, const Drift& drift, double mass) const {
  const double between = drift.mass[1] - drift.mass[0];
  const double share = std::abs(between) > 1e-9 * drift.mass[0] ? (mass - drift.mass[0]) / between : 0.0;
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) {
    for (std::size_t j = 0; j < young_count(); ++j) row.young[j].strain[k] += pace * drift.young[j][k];
    row.laid.strain[k] += pace * (drift.last[0][k] + share * (drift.last[1][k] - drift.last[0][k]));
  }
}

/// `exp(-A) - 1` for what is fed into a row, A the lower bidiagonal matrix of (film fed / film of the body).
struct SpanRowLaw::Feeding {
  std::array<std::array<double, most_young + 1>, most_young + 1> change{};
};

/// By the Taylor series of a small part and doubling of the difference from 1, which keeps small feeds exact.
SpanRowLaw::Feeding SpanRowLaw::feeding(double fed, double mass) const {
  const std::size_t n = young_count() + 1;
  using Matrix = decltype(Feeding::change);
  std::array<double, most_young + 1> rate{};
  double greatest = 0.0;
  for (std::size_t j = 0; j < n; ++j) {
    rate[j] = fed / body_mass(j, mass);
    greatest = std::max(greatest, rate[j]);
  }
  if (n == 1) {
    Feeding single;
    single.change[0][0] = std::expm1(-rate[0]);
    return single;
  }
  const int doublings = std::clamp(static_cast<int>(std::ceil(std::log2(std::max(greatest, 1e-9) / 0.25))), 0, 40);
  for (std::size_t j = 0; j < n; ++j) rate[j] = std::ldexp(rate[j], -doublings);
  Feeding out;
  Matrix term{};
  for (std::size_t j = 0; j < n; ++j) term[j][j] = 1.0;
  for (int order = 1; order <= 10; ++order) {
    Matrix next{};
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j <= i; ++j) {
        const double came = i > 0 ? term[i - 1][j] : 0.0;
        next[i][j] = rate[i] * (came - term[i][j]) / order;
        out.change[i][j] += next[i][j];
      }
    }
    term = next;
  }
  for (int d = 0; d < doublings; ++d) {
    Matrix twice{};
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j <= i; ++j) {
        twice[i][j] = 2.0 * out.change[i][j];
        for (std::size_t m = j; m <= i; ++m) twice[i][j] += out.change[i][m] * out.change[m][j];
      }
    }
    out.change = twice;
  }
  return out;
}

/// Film passes on at the same stress and stretch: only its viscous strains differ.
void SpanRowLaw::feed(SpanRow& row, const Feeding& feeding, const Strains& last) const {
  const std::size_t n = young_count() + 1;
  std::array<double, most_young + 1> log_stretch{}, deviation{};
  for (std::size_t j = 0; j < n; ++j) log_stretch[j] = std::log(body(row, j).stretch);
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) {
    for (std::size_t j = 0; j < n; ++j)
      deviation[j] = log_stretch[j] - body(row, j).strain[k] - (j + 1 < n ? viscous_[j][k] : last[k]);
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j <= i; ++j) body(row, i).strain[k] -= feeding.change[i][j] * deviation[j];
  }
}

SpanRow SpanRowLaw::at_stress(double nominal, double length) const {
  SpanRow row;
  double all = length / reference_.laid.stretch;
  constexpr int rounds = 8;  // what the last body is depends on how much film it has, a little
  for (int round = 0; round < (young_count() == 0 ? 1 : rounds); ++round) {
    for (std::size_t j = 0; j <= young_count(); ++j) {
      FilmState& state = body(row, j);
      state = j < young_count() ? reference_.young[j] : reference_last(all);
      // The reference film itself when it has that stress, not to the rounding of a second solve.
      const double own = film_.law->stress(state, film_.mode, film_.temperature).nominal;
      if (std::abs(own - nominal) < 1e-9 * nominal) continue;
      const double stretch = stretch_at_stress(*film_.law, state, nominal, film_.mode, film_.temperature);
      film_.law->step(state, stretch, 0.0, film_.mode, film_.temperature, film_.temperature);
    }
    all = mass(row, length);
  }
  return row;
}

SpanRowLaw::Laying SpanRowLaw::lay(SpanRow& row, double all, double length, double left) const {
  if (young_count() == 0) return {row.laid, left / row.laid.stretch};
  const Strains last = last_viscous(all);
  const double end = young_mass_ + body_mass(young_count(), all);
  const double nominal = film_.law->stress(row.laid, film_.mode, film_.temperature).nominal;
  // Film of a part of the last body: its own reference, and the deviation of all of it.
  const auto part = [&](double from, double to) {
    FilmState film = row.laid;
    const Strains own = mean_viscous(from, to);
    for (std::size_t k = 0; k < film_.law->branch_count(); ++k) film.strain[k] += last[k] - own[k];
    const double slope = film_.law->stress(film, film_.mode, film_.temperature).slope;
    for (int i = 0; i < 20; ++i) {
      const double miss = nominal - film_.law->stress(film, film_.mode, film_.temperature).nominal;
      if (!(std::abs(miss) > 1e-13 * slope)) break;
      film_.law->step(film, film.stretch * std::exp(miss / slope), 0.0, film_.mode, film_.temperature,
                      film_.temperature);
    }
    return film;
  };
  Laying laying{row.laid, 0.0};
  for (int i = 0; i < 6; ++i) {
    const double from = std::max(end - length / laying.film.stretch, young_mass_ + least_share * all);
    laying.film = part(from, end);
  }
  laying.mass = all - length / laying.film.stretch;
  const double rest = body_mass(young_count(), laying.mass);
  row.laid = part(young_mass_, young_mass_ + rest);
  fit(row.laid, (left - young_length(row)) / rest, nominal);
  return laying;
}

/// Two parts of a body are together longer than the body by the square of their difference, some 1e-5. The film left
/// takes that up as viscous strain: an event changes no force.
void SpanRowLaw::fit(FilmState& film, double stretch, double nominal) const {
  if (!(stretch > 0.0)) return;
  const auto stress = [&](double shift) {
    FilmState shifted = film;
    for (std::size_t k = 0; k < film_.law->branch_count(); ++k) shifted.strain[k] += shift;
    return film_.law->stress(shifted, film_.mode, film_.temperature).nominal;
  };
  film.stretch = stretch;
  double shift = 0.0, before = 1e-6, now = stress(0.0), then = stress(before);
  for (int i = 0; i < 10 && std::abs(now - nominal) > 1e-13 * std::abs(nominal) && now != then; ++i) {
    const double next = shift + (nominal - now) * (shift - before) / (now - then);
    before = shift;
    then = now;
    shift = next;
    now = stress(shift);
  }
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) film.strain[k] += shift;
}

double SpanRowLaw::young_length(const SpanRow& row) const {
  double length = 0.0;
  for (std::size_t j = 0; j < young_count(); ++j) length += reference_.young_mass[j] * row.young[j].stretch;
  return length;
}

double SpanRowLaw::mass(const SpanRow& row, double length) const {
  return young_mass_ + (length - young_length(row)) / row.laid.stretch;
}

/// Bodies with their film, stretch and stress: what each has to be stretched by for one stress and a given length.
struct SpanRowLaw::Bodies {
  std::array<double, most_young + 1> mass{}, stretch{}, stress{}, slope{};
  std::size_t count = 0;

  void limit_slopes() {
    const double greatest = *std::max_element(slope.begin(), slope.begin() + static_cast<std::ptrdiff_t>(count));
    for (std::size_t j = 0; j < count; ++j) slope[j] = std::max(slope[j], least_slope * greatest);
  }
  /// Length taken up per unit of stress, m/Pa.
  [[nodiscard]] double softness() const {
    double sum = 0.0;
    for (std::size_t j = 0; j < count; ++j) sum += mass[j] * stretch[j] / slope[j];
    return sum;
  }
  /// What the common stress loses when film comes to the last body, per share of all film, Pa.
  [[nodiscard]] double stiffness(double all) const { return all * stretch[count - 1] / softness(); }
  /// Moves stretches towards one stress and the length; returns the greatest move in ln l.
  double even_out(double length) {
    double now = 0.0, bias = 0.0;
    for (std::size_t j = 0; j < count; ++j) {
      now += mass[j] * stretch[j];
      bias += mass[j] * stretch[j] * stress[j] / slope[j];
    }
    const double common = (length - now + bias) / softness();
    double greatest = 0.0;
    for (std::size_t j = 0; j < count; ++j) {
      const double move = std::clamp((common - stress[j]) / slope[j], -greatest_move, greatest_move);
      stretch[j] *= std::exp(move);
      greatest = std::max(greatest, std::abs(move));
    }
    close(length);
    return greatest;
  }
  /// The film at the load takes what is left of the length.
  void close(double length) {
    double rest = length;
    for (std::size_t j = 0; j + 1 < count; ++j) rest -= mass[j] * stretch[j];
    if (rest > 0.0) {
      stretch[count - 1] = rest / mass[count - 1];
      return;
    }
    scale(length);  // far too short a length
  }
  /// All bodies give alike.
  void scale(double length) {
    double now = 0.0;
    for (std::size_t j = 0; j < count; ++j) now += mass[j] * stretch[j];
    for (std::size_t j = 0; j < count; ++j) stretch[j] *= length / now;
  }
};

SpanRowLaw::Bodies SpanRowLaw::bodies_of(const SpanRow& row, double mass) const {
  Bodies bodies;
  bodies.count = young_count() + 1;
  for (std::size_t j = 0; j < bodies.count; ++j) {
    bodies.mass[j] = body_mass(j, mass);
    bodies.stretch[j] = body(row, j).stretch;
  }
  return bodies;
}

RowAnswer SpanRowLaw::settle(SpanRow& row, double mass, double length) const {
  RowAnswer answer;
  Bodies bodies = bodies_of(row, mass);
  bodies.close(length);
  for (int round = 0; round < most_rounds; ++round) {
    for (std::size_t j = 0; j < bodies.count; ++j) {
      const FilmStress at =
          film_.law->step(body(row, j), bodies.stretch[j], 0.0, film_.mode, film_.temperature, film_.temperature);
      bodies.stress[j] = at.nominal;
      bodies.slope[j] = at.slope;
    }
    answer.film_steps += bodies.count;
    bodies.limit_slopes();
    answer.stress = {bodies.stress[bodies.count - 1], bodies.stiffness(mass)};
    if (bodies.count == 1 || bodies.even_out(length) < even) break;
  }
  return answer;
}

double SpanRowLaw::slope(const SpanRow& row, double mass) const {
  Bodies bodies = bodies_of(row, mass);
  for (std::size_t j = 0; j < bodies.count; ++j)
    bodies.slope[j] = film_.law->stress(body(row, j), film_.mode, film_.temperature).slope;
  bodies.limit_slopes();
  return bodies.stiffness(mass);
}

SpanRow SpanRowLaw::between(const SpanRow& a, const SpanRow& b, double share) const {
  SpanRow row;
  for (std::size_t j = 0; j <= young_count(); ++j) {
    const FilmState &from = body(a, j), &to = body(b, j);
    FilmState& state = body(row, j);
    const double moved = std::log(to.stretch / from.stretch);
    state.stretch = from.stretch * std::exp(share * moved);
    for (std::size_t k = 0; k < film_.law->branch_count(); ++k)
      state.strain[k] = (1.0 - share) * from.strain[k] + share * to.strain[k];
  }
  return row;
}

SpanRow SpanRowLaw::extrapolated(const SpanRow& coarse, const SpanRow& fine) const {
  return between(coarse, fine, 4.0 / 3.0);
}

void SpanRowLaw::age(SpanRow& row, double from_mass, double to_mass) const {
  if (young_count() == 0) return;
  const Strains before = last_viscous(from_mass), after = last_viscous(to_mass);
  for (std::size_t k = 0; k < film_.law->branch_count(); ++k) row.laid.strain[k] -= after[k] - before[k];
}

RowAnswer SpanRowLaw::move(SpanRow& row, const Step& step) const {
  RowAnswer answer;
  answer.film_steps = work_of_feeding;
  const Strains before = last_viscous(step.begin_mass), after = last_viscous(step.end_mass_unslipped);
  // The reference of the last body changes as the span fills: half of it before the step of the film law, half after.
  const auto age = [&](SpanRow& film) {
    for (std::size_t k = 0; k < film_.law->branch_count(); ++k) film.laid.strain[k] -= 0.5 * (after[k] - before[k]);
  };
  const double mean_mass = 0.5 * (step.begin_mass + step.end_mass_unslipped);
  feed(row, feeding(0.5 * step.dt * step.begin_feed, step.begin_mass), before);
  flow(row, step.pace, *step.drift, mean_mass);
  age(row);
  const Feeding last = feeding(0.5 * step.dt * step.end_feed, step.end_mass);
  Bodies bodies = bodies_of(row, step.end_mass);
  bodies.scale(step.end_length);
  const SpanRow start = row;
  for (int round = 0; round < most_rounds; ++round) {
    row = start;
    for (std::size_t j = 0; j < bodies.count; ++j) {
      bodies.slope[j] =
          film_.law->step(body(row, j), bodies.stretch[j], step.dt, film_.mode, film_.temperature, film_.temperature)
              .slope;
    }
    age(row);
    flow(row, step.pace, *step.drift, mean_mass);
    feed(row, last, after);
    for (std::size_t j = 0; j < bodies.count; ++j)
      bodies.stress[j] = film_.law->stress(body(row, j), film_.mode, film_.temperature).nominal;
    answer.film_steps += bodies.count;
    bodies.limit_slopes();
    answer.stress = {bodies.stress[bodies.count - 1], bodies.stiffness(step.end_mass)};
    if (bodies.count == 1 || bodies.even_out(step.end_length) < even) break;
  }
  return answer;
}

}  // namespace hoopfield
