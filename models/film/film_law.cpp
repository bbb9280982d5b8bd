// SPDX-License-Identifier: BSD-3-Clause
#include "models/film/film_law.hpp"

#include "models/error.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <string>

namespace hoopfield {
namespace {

/// What an error of steps of order p asks of the next step: its length times the p+1-th root of what the error may grow
/// by.
class OrderedSteps {
 public:
  explicit OrderedSteps(int order) : order_(order), two_halves_(std::ldexp(1.0, order) - 1.0) {}
  [[nodiscard]] double root(double ratio) const {
    return order_ == 2 ? std::cbrt(ratio) : std::pow(ratio, 1.0 / (order_ + 1));
  }
  /// One step and two of half its length differ by so many times the error of the two.
  [[nodiscard]] double two_halves() const { return two_halves_; }

 private:
  int order_;
  double two_halves_;
};

}  // namespace

FilmStress advance_controlled(const FilmLaw& law, FilmState& state, double stretch_end, double dt,
                              const WidthMode& mode, double temperature, double tolerance, std::size_t* steps) {
  const OrderedSteps steps_of(law.step_order());
  const double log_start = std::log(state.stretch);
  const double log_path = std::log(stretch_end) - log_start;
  double done = 0.0;  // share of the path
  // step() cuts long paths into pieces itself; whole and half steps must not share those pieces, or they agree for
  // nothing.
  const double longest = log_path == 0.0 ? 1.0 : std::min(1.0, 0.03 / std::abs(log_path));
  double piece = longest;  // share of the next step
  FilmStress end = law.stress(state, mode, temperature);
  while (done < 1.0) {
    const double next = std::min(1.0, done + piece);
    const double share = next - done;
    const double middle_stretch = std::exp(log_start + log_path * (done + 0.5 * share));
    const double next_stretch = next >= 1.0 ? stretch_end : std::exp(log_start + log_path * next);
    FilmState whole = state;
    FilmState halves = state;
    law.step(whole, next_stretch, share * dt, mode, temperature, temperature);
    law.step(halves, middle_stretch, 0.5 * share * dt, mode, temperature, temperature);
    end = law.step(halves, next_stretch, 0.5 * share * dt, mode, temperature, temperature);
    double error = 0.0;
    for (std::size_t k = 0; k < law.branch_count(); ++k)
      error =
          std::max(error, std::abs(whole.strain[k] - halves.strain[k]) / (steps_of.two_halves() * law.strain_scale(k)));
    if (!std::isfinite(error) || !std::isfinite(end.nominal)) error = 1e30;
    if (error > tolerance && share > 1e-9) {
      piece = share * std::clamp(0.9 * steps_of.root(tolerance / error), 0.1, 0.7);
      continue;
    }
    if (error > tolerance)
      throw SolverError("the film law could not be followed from stretch " + short_number(state.stretch) + " to " +
                            short_number(stretch_end),
                        "the stretch may be beyond what this film can reach");
    // The two answers combined cancel the leading error.
    for (std::size_t k = 0; k < law.branch_count(); ++k)
      halves.strain[k] += (halves.strain[k] - whole.strain[k]) / steps_of.two_halves();
    const double slope = end.slope;
    state = halves;
    end = law.stress(state, mode, temperature);
    end.slope = slope;
    done = next;
    piece =
        std::min(longest, share * (error > 0.0 ? std::clamp(0.9 * steps_of.root(tolerance / error), 0.3, 4.0) : 4.0));
    if (steps != nullptr) ++*steps;
  }
  return end;
}

double stretch_at_stress(const FilmLaw& law, const FilmState& state, double nominal, const WidthMode& mode,
                         double temperature) {
  const auto jump = [&](double stretch) {
    FilmState moved = state;
    return law.step(moved, stretch, 0.0, mode, temperature, temperature);
  };
  double low = 0.0;   // a stretch with less stress than wanted; 0 = not found yet
  double high = 0.0;  // a stretch with more
  double stretch = state.stretch;
  for (int i = 0; i < 200; ++i) {
    const FilmStress now = jump(stretch);
    const double miss = nominal - now.nominal;
    if (std::abs(miss) <= 1e-13 * std::max(std::abs(nominal), std::abs(now.slope))) return stretch;
    (miss > 0.0 ? low : high) = stretch;
    if (miss > 0.0 && high == 0.0 && !(now.slope > 0.0)) break;  // past the greatest force
    double next = now.slope > 0.0 ? stretch * std::exp(std::clamp(miss / now.slope, -0.3, 0.3)) : 0.9 * stretch;
    if (low > 0.0 && high > 0.0 && !(next > std::min(low, high) && next < std::max(low, high)))
      next = std::sqrt(low * high);
    if (next > stretch)
      if (const double limit = law.stretch_limit(mode); next >= limit) next = 0.5 * (stretch + limit);
    if (std::abs(next - stretch) <= 1e-15 * stretch) return next;
    stretch = next;
  }
  throw FilmLimitError("the film cannot carry a nominal stress of " + short_number(nominal * 1e-6) +
                           " MPa at stretch " + short_number(state.stretch),
                       "less force, a thicker or stiffer film, or a higher pre-stretch");
}

namespace {

/// One implicit step at a held nominal stress; false when Newton finds no stretch or it would run away.
bool creep_step(const FilmLaw& law, FilmState& state, double nominal, double dt, double log_guess,
                const WidthMode& mode, double temperature) {
  const FilmState start = state;
  double stretch = start.stretch * std::exp(log_guess);
  for (int i = 0; i < 30; ++i) {
    state = start;
    const FilmStress end = law.step(state, stretch, dt, mode, temperature, temperature);
    const double miss = nominal - end.nominal;
    if (std::abs(miss) <= 1e-12 * std::abs(end.slope) + 1e-14 * std::abs(nominal))
      return std::abs(std::log(stretch / start.stretch)) < 0.05;
    if (!(end.slope > 0.0)) break;
    stretch *= std::exp(std::clamp(miss / end.slope, -0.1, 0.1));
  }
  state = start;
  return false;
}

}  // namespace

namespace {

/// Creep at a held nominal stress in steps of its own choice.
class Creeping {
 public:
  Creeping(const FilmLaw& law, FilmState& state, double nominal, const WidthMode& mode, double temperature,
           double tolerance)
      : law_(law),
        state_(state),
        nominal_(nominal),
        mode_(mode),
        temperature_(temperature),
        tolerance_(tolerance),
        // The rate of stretch is constant in a step, the stress is held.
        steps_of_(std::min(2, law.step_order())) {
    law.step(state, stretch_at_stress(law, state, nominal, mode, temperature), 0.0, mode, temperature, temperature);
  }

  /// One step of at most `most` out of a time; returns how long it was and leaves the film before it in `before`, the
  /// stretch in its middle in `middle`.
  double step(double most, double out_of) {
    for (;;) {
      const double step = std::min(suggested_, most);
      FilmState whole = state_, halves = state_;
      bool good = creep_step(law_, whole, nominal_, step, 0.0, mode_, temperature_);
      const double guess = 0.5 * std::log(whole.stretch / state_.stretch);
      good = good && creep_step(law_, halves, nominal_, 0.5 * step, guess, mode_, temperature_);
      const double halfway = halves.stretch;
      good = good && creep_step(law_, halves, nominal_, 0.5 * step, guess, mode_, temperature_);
      const double error = good ? std::abs(std::log(whole.stretch / halves.stretch)) / steps_of_.two_halves() : 1.0;
      if (error > tolerance_) {
        if (step < 1e-12 * out_of + 1e-15)
          throw FilmLimitError("the film runs away under a nominal stress of " + short_number(nominal_ * 1e-6) + " MPa",
                               "less force, or a higher pre-stretch");
        suggested_ = step * std::clamp(0.9 * steps_of_.root(tolerance_ / error), 0.1, 0.7);
        continue;
      }
      before = state_;
      middle = halfway;
      // The two answers combined cancel the leading error.
      state_ = halves;
      state_.stretch *= std::exp(std::log(halves.stretch / whole.stretch) / steps_of_.two_halves());
      for (std::size_t k = 0; k < law_.branch_count(); ++k)
        state_.strain[k] += (halves.strain[k] - whole.strain[k]) / steps_of_.two_halves();
      suggested_ = step * (error > 0.0 ? std::clamp(0.9 * steps_of_.root(tolerance_ / error), 0.5, 5.0) : 5.0);
      return step;
    }
  }
  void undo() { state_ = before; }

  FilmState before;
  double middle = 1.0;

 private:
  const FilmLaw& law_;
  FilmState& state_;
  double nominal_;
  const WidthMode& mode_;
  double temperature_, tolerance_, suggested_ = 1e-3;
  OrderedSteps steps_of_;
};

}  // namespace

void creep(const FilmLaw& law, FilmState& state, double nominal, double dt, const WidthMode& mode, double temperature,
           double tolerance) {
  Creeping creeping(law, state, nominal, mode, temperature, tolerance);
  if (law.branch_count() == 0 || !(dt > 0.0)) return;
  for (double time = 0.0; time < dt;) time += creeping.step(dt - time, dt);
}

double creep_along(const FilmLaw& law, FilmState& state, double nominal, double time_as_laid, const WidthMode& mode,
                   double temperature, double tolerance) {
  Creeping creeping(law, state, nominal, mode, temperature, tolerance);
  if (law.branch_count() == 0 || !(time_as_laid > 0.0)) return time_as_laid;
  constexpr double close = 1e-12;
  constexpr int most_steps = 100000;
  double time = 0.0, passed = 0.0;
  double most = time_as_laid;
  for (int i = 0; i < most_steps; ++i) {
    const double step = creeping.step(most, time_as_laid);
    const double start = creeping.before.stretch;
    const double onwards = passed + step * (start + 4.0 * creeping.middle + state.stretch) / 6.0;
    const double beyond = onwards - time_as_laid * state.stretch;
    if (beyond > close * onwards) {  // past the load: a shorter step
      const double short_of = time_as_laid * start - passed;
      most = step * short_of / (short_of + beyond);
      creeping.undo();
      continue;
    }
    time += step;
    passed = onwards;
    if (beyond >= -close * passed) return time;
    const double rate = (state.stretch - start) / step;
    most = std::max(-beyond / std::max(state.stretch - time_as_laid * rate, 0.5 * state.stretch), 1e-14 * time_as_laid);
  }
  throw FilmLimitError("the film does not arrive at the load", "less force, or a higher pre-stretch");
}

}  // namespace hoopfield
