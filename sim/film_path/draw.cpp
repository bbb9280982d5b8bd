// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_path/draw.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/film_path/monotone_root.hpp"

#include <boost/numeric/odeint.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>

namespace hoopfield {
namespace {

namespace odeint = boost::numeric::odeint;

// Dependent variables over ln l: branch strains, temperature rise / 10 K, transit time of a unit speed film /
// reference.
constexpr std::size_t at_temperature = max_branches;
constexpr std::size_t at_transit = max_branches + 1;
using Variables = std::array<double, max_branches + 2>;
constexpr double temperature_unit = 10.0;  // K, so that one absolute tolerance suits all variables

// The integrator bounds the error of a step in the strains; the force errs by far less (tests/unit/draw_test.cpp).
constexpr double integration_share = 10.0;

enum class Verdict { fine, cannot_flow, necks };

class DrawEquations {
 public:
  DrawEquations(const DrawInput& input, double nominal_stress)
      : input_(input), mode_(WidthMode::power(input.width_exponent)), stress_(nominal_stress) {}

  void operator()(const Variables& v, Variables& dv, double log_stretch) const {
    dv.fill(0.0);
    FilmState state;
    state.stretch = std::exp(log_stretch);
    std::copy_n(v.begin(), max_branches, state.strain.begin());
    const double temperature = input_.temperature + v[at_temperature] * temperature_unit;
    const FilmRates r = input_.law->rates(state, mode_, temperature);
    const std::size_t count = input_.law->branch_count();
    double modulus_sum = 0.0, branch_stress = 0.0;
    for (std::size_t k = 0; k < count; ++k) {
      modulus_sum += mode_.m * r.modulus[k];
      branch_stress += mode_.m * r.modulus[k] * state.strain[k];
    }
    const double heat = input_.volumetric_heat;
    const double beta =
        heat > 0.0 ? (r.softening_network * r.network + r.softening_branch * branch_stress) / heat : 0.0;
    const double drive =
        r.network_slope + modulus_sum - stress_ * state.stretch - beta * input_.entropic_share * r.network;
    double flow_sum = 0.0;  // times exp(-log_scale), as every flow here
    for (std::size_t k = 0; k < count; ++k)
      flow_sum += mode_.m * r.modulus[k] * r.flow[k] * (1.0 + beta * state.strain[k]);
    if (!(drive > 0.0)) verdict_ = Verdict::necks;
    if (!(flow_sum > 0.0)) verdict_ = Verdict::cannot_flow;
    if (verdict_ != Verdict::fine) return;
    const double scaled_tau = drive / flow_sum;
    double flow_work = 0.0;
    for (std::size_t k = 0; k < count; ++k) {
      dv[k] = 1.0 - r.flow[k] * scaled_tau;
      flow_work += mode_.m * r.modulus[k] * state.strain[k] * r.flow[k] * scaled_tau;
    }
    dv[at_transit] = state.stretch * scaled_tau * std::exp(-r.log_scale);
    if (heat > 0.0) dv[at_temperature] = (flow_work + input_.entropic_share * r.network) / (heat * temperature_unit);
  }

  [[nodiscard]] Verdict verdict() const { return verdict_; }
  void clear_verdict() const { verdict_ = Verdict::fine; }
  [[nodiscard]] const WidthMode& mode() const { return mode_; }

 private:
  const DrawInput& input_;
  WidthMode mode_;
  double stress_;
  mutable Verdict verdict_ = Verdict::fine;
};

bool all_finite(const Variables& v) {
  return std::all_of(v.begin(), v.end(), [](double x) { return std::isfinite(x); });
}

/// Integrates over ln l with the error control of dopri5, refusing non-finite steps (the library accepts them).
/// A transit longer than `longest` ends it, as does a draw too slow to be followed: relaxed fast branches make it
/// stiff.
Verdict integrate(const DrawEquations& equations, Variables& v, double from, double to, double tolerance,
                  double longest, const auto& on_step) {
  auto stepper = odeint::make_controlled(0.01 * tolerance, tolerance, odeint::runge_kutta_dopri5<Variables>());
  double z = from;
  double h = std::min(1e-3, to - from);
  for (int tries = 0; z < to; ++tries) {
    if (tries > 10000) return Verdict::cannot_flow;
    h = std::min(h, to - z);
    const Variables before = v;
    const double z_before = z;
    equations.clear_verdict();
    const auto outcome = stepper.try_step(std::cref(equations), v, z, h);
    const Verdict verdict = equations.verdict();
    if (verdict != Verdict::fine || !all_finite(v)) {
      if (h < 1e-10) return verdict == Verdict::fine ? Verdict::necks : verdict;
      v = before;
      h = 0.2 * std::min(h, outcome == odeint::success ? z - z_before : h);
      z = z_before;
      stepper.reset();
      continue;
    }
    if (outcome != odeint::success) continue;
    if (v[at_transit] > longest) return Verdict::cannot_flow;
    on_step(z, v);
  }
  return Verdict::fine;
}

}  // namespace

DrawResult draw_at_stress(const DrawInput& input, double nominal_stress, bool keep_profile) {
  DrawResult result;
  result.nominal_stress = nominal_stress;
  result.exit_temperature = input.temperature;
  result.roller_speed_1 = std::numeric_limits<double>::infinity();
  result.work = nominal_stress * (input.ratio - 1.0);
  const DrawEquations equations(input, nominal_stress);
  double entry_stretch = 0.0;
  try {
    entry_stretch = stretch_at_stress(*input.law, FilmState{}, nominal_stress, equations.mode(), input.temperature);
  } catch (const SolverError&) {
    return result;  // no elastic state carries this force: the film would be at the ratio at once
  }
  if (entry_stretch >= input.ratio) return result;

  Variables v{};
  std::fill_n(v.begin(), input.law->branch_count(), std::log(entry_stretch));
  std::vector<std::array<double, 3>> steps;  // transit, stretch, temperature
  if (keep_profile) steps.push_back({0.0, entry_stretch, input.temperature});
  const Verdict verdict = integrate(
      equations, v, std::log(entry_stretch), std::log(input.ratio), integration_share * input.tolerance,
      input.gap / input.slowest, [&](double z, const Variables& now) {
        if (keep_profile)
          steps.push_back({now[at_transit], std::exp(z), input.temperature + now[at_temperature] * temperature_unit});
      });
  if (verdict == Verdict::necks) return result;
  if (verdict == Verdict::cannot_flow) {
    result.roller_speed_1 = 0.0;
    return result;
  }
  result.roller_speed_1 = input.gap / v[at_transit];
  result.exit.stretch = input.ratio;
  std::copy_n(v.begin(), max_branches, result.exit.strain.begin());
  result.exit_temperature = input.temperature + v[at_temperature] * temperature_unit;
  if (keep_profile) {
    result.profile.push_back({0.0, 1.0, input.temperature});
    result.sharpness = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < steps.size(); ++i) {
      result.profile.push_back({steps[i][0] * result.roller_speed_1, steps[i][1], steps[i][2]});
      if (i == 0) continue;
      const double run = (steps[i][0] - steps[i - 1][0]) * result.roller_speed_1;
      const double rise = steps[i][1] - steps[i - 1][1];
      result.sharpness = std::min(result.sharpness, 0.5 * (steps[i][1] + steps[i - 1][1]) * run / rise);
    }
  }
  return result;
}

double draw_stress_guess(const DrawInput& input) {
  const WidthMode mode = WidthMode::power(input.width_exponent);
  FilmState state;
  const double rate = std::max(1e-6, input.roller_speed_1) * std::log(input.ratio) / input.gap;
  // Drawn at the mean rate, the branches end near their steady flow stress.
  return advance_controlled(*input.law, state, input.ratio, std::log(input.ratio) / rate, mode, input.temperature, 1e-2)
      .nominal;
}

DrawResult elastic_draw(const DrawInput& input) {
  DrawResult jump;
  jump.nominal_stress = input.law
                            ->step(jump.exit, input.ratio, 0.0, WidthMode::power(input.width_exponent),
                                   input.temperature, input.temperature)
                            .nominal;
  jump.exit_temperature = input.temperature;
  jump.roller_speed_1 = input.roller_speed_1;
  jump.work = jump.nominal_stress * (input.ratio - 1.0);
  jump.sharpness = std::numeric_limits<double>::infinity();
  jump.is_jump = true;
  jump.profile = {{0.0, 1.0, input.temperature},
                  {0.0, input.ratio, input.temperature},
                  {input.gap, input.ratio, input.temperature}};
  return jump;
}

void require_reachable(const DrawInput& input) {
  const double limit = input.law->stretch_limit(WidthMode::power(input.width_exponent));
  if (input.ratio < limit) return;
  throw FilmLimitError("pre-stretch beyond the film: the stretch limit of its network is reached at " +
                           short_number(100.0 * (limit - 1.0)) + " %",
                       "less pre-stretch, or a film with a larger network.stretch_limit");
}

DrawResult RoughFirst::operator()(double nominal_stress) {
  DrawInput input = input_;
  if (count_++ < 2) input.tolerance = std::max(input.tolerance, 1e-5);
  return draw_at_stress(input, nominal_stress, false);
}

DrawResult settled_draw(const DrawInput& input, double nominal_stress) {
  DrawResult result = draw_at_stress(input, nominal_stress, true);
  if (std::isfinite(result.roller_speed_1) && result.roller_speed_1 > 0.0) return result;
  DrawResult jump = elastic_draw(input);
  if (std::abs(jump.nominal_stress - nominal_stress) <= 1e-6 * nominal_stress) return jump;
  if (result.roller_speed_1 == 0.0)
    throw SolverError("the draw between the rollers is too slow to be followed",
                      "a faster rotation, or a smaller roller gap");
  throw FilmLimitError("the film necks without bound between the rollers",
                       "less pre-stretch, a wider roller gap, or a film whose force rises faster with stretch");
}

DrawResult draw(const DrawInput& input) {
  if (!(input.ratio > 1.0)) throw SolverError("the draw needs a ratio above 1");
  require_reachable(input);
  if (input.law->branch_count() == 0) return elastic_draw(input);
  const double log_wanted = std::log(input.roller_speed_1);
  DrawInput trial = input;
  trial.slowest = std::max(input.slowest, 0.01 * input.roller_speed_1);
  RoughFirst draw_in(trial);
  const double stress = increasing_root([&](double p) { return std::log(draw_in(p).roller_speed_1) - log_wanted; },
                                        draw_stress_guess(input), 0.1 * input.tolerance, "the draw between the rollers",
                                        speed_over_force);
  return settled_draw(input, stress);
}

}  // namespace hoopfield
