// SPDX-License-Identifier: BSD-3-Clause
// Film law "power-network": Gent network and branches whose flow is a power of their stress.
#include "models/film/branched_law.hpp"
#include "models/film/dual.hpp"
#include "models/film/law_parameters.hpp"
#include "models/film/law_registry.hpp"

#include <limits>

namespace hoopfield::detail {
namespace {

/// Reduced stress at the end of a step and its derivative by alpha.
struct PowerStep {
  double y, slope;
};

/// `ln |y_0/y_1|` times n - 1 where `y' = -beta y |y|^(n-1)` over s from 0 to 1: the closed form
/// `|y_1|^(1-n) = |y_0|^(1-n) + (n-1) beta` of n > 1.
template <class Number>
Number decrement(const Number& size, double beta, double n) {
  using std::exp, std::log, std::log1p;
  const Number grown = log(size) * (n - 1.0) + std::log((n - 1.0) * beta);  // logarithm of (n-1) beta |y|^(n-1)
  return grown > 0.0 ? grown + log1p(exp(-grown)) : log1p(exp(grown));
}

constexpr double least_size = 1e-300;  // of a reduced stress that still flows

template <class Number>
Number relaxed(const Number& y, double beta, double n) {
  using std::abs, std::exp;
  const Number size = abs(y);
  if (!(size > least_size)) return y;
  return y * exp(-decrement(size, beta, n) / (n - 1.0));
}

/// d y_1/d alpha of the same at alpha = 0: the mean over the step of `(y_1/y(s))^n`, what is left of a stretch added at
/// s.
double slope_at_rest(double y0, double beta, double n) {
  if (!(std::abs(y0) > least_size)) return 1.0;
  const double m = n / (n - 1.0) + 1.0, d = decrement(std::abs(y0), beta, n);
  return d > 0.0 ? std::expm1(-m * d) / (m * std::expm1(-d)) : 1.0;
}

/// Growth of `q = -ln(1 - x)` over a time t where `x' = 1 - x^m`, x_0 from 0 to 1. Its rate `(1 - x^m)/(1 - x)` lies
/// between 1 and m, so that the classical fourth-order step takes any time and never passes x = 1.
template <class Number>
Number approach(const Number& x0, const Number& t, double m) {
  using std::exp, std::expm1, std::log, std::log1p;
  if (!(1.0 - x0 > 1e-12)) return t * m;
  const auto rate = [m](const Number& q) {
    const Number left = exp(-q), x = -expm1(-q);  // 1 - x and x
    if (!(left > 1e-12)) return Number(m);
    if (!(x > 1e-12)) return Number(1.0);
    return -expm1((q < 0.7 ? log(x) : log1p(-left)) * m) / left;
  };
  const Number q0 = -log1p(-x0);
  const Number k1 = rate(q0), k2 = rate(q0 + 0.5 * t * k1), k3 = rate(q0 + 0.5 * t * k2), k4 = rate(q0 + t * k3);
  return t * (k1 + 2.0 * k2 + 2.0 * k3 + k4) / 6.0;
}

/// alpha > 0 and n > 1: to the steady flow `y_s = (alpha/beta)^(1/n)` from below (x = y/y_s), from above
/// (x = (y/y_s)^(1-n)), or from the other side of zero (relaxed by halves about the stretch, then from below).
template <class Number>
Number stretched(double y0, const Number& alpha, double beta, double n) {
  using std::exp, std::expm1, std::log, std::log1p;
  const Number log_steady = log(alpha / beta) / n, steady = exp(log_steady);
  if (y0 < 0.0) {
    const Number middle = relaxed(Number(y0), 0.5 * beta, n) + alpha;
    if (!(middle > 0.0)) return relaxed(middle, 0.5 * beta, n);
    return -expm1(-approach(Number(0.0), middle / steady, n)) * steady;  // what is left of the stretch after zero
  }
  const Number time = alpha / steady;
  if (!(y0 > steady)) {
    const Number x0 = y0 / steady;
    return y0 + steady * (1.0 - x0) * -expm1(-approach(x0, time, n));
  }
  const Number x0 = exp((log_steady - std::log(y0)) * (n - 1.0)), t = time * (n - 1.0);
  if (!(x0 + t > 1e-8)) return relaxed(y0, beta, n) + alpha * slope_at_rest(y0, beta, n);  // next to rest
  const Number gained = (1.0 - x0) * -expm1(-approach(x0, t, n / (n - 1.0)));              // x_1 - x_0
  if (x0 > 1e-30) return y0 * exp(-log1p(gained / x0) / (n - 1.0));
  return steady * exp(-log(gained) / (n - 1.0));
}

/// One step of `dy/ds = alpha - beta y |y|^(n-1)`, s from 0 to 1, with constant alpha and beta >= 0; see PowerFlow.
PowerStep power_step(double y0, double alpha, double beta, double n) {
  if (!(beta > 0.0)) return {y0 + alpha, 1.0};
  if (n == 1.0) {
    const double slope = -std::expm1(-beta) / beta;
    return {y0 * std::exp(-beta) + alpha * slope, slope};
  }
  if (alpha == 0.0) return {relaxed(y0, beta, n), slope_at_rest(y0, beta, n)};
  const double sign = alpha < 0.0 ? -1.0 : 1.0;
  const Dual<1> end = stretched(sign * y0, Dual<1>::variable(sign * alpha, 0), beta, n);
  return {sign * end.value, end.by[0]};
}

/// Flow as a power of stress: `d e/dt = d ln l/dt - (r/c) sign(y) |y|^n`, `y = E c e/(Y chi)`; c see WidthMode, chi see
/// HardeningStep.
///
/// In one step `y' = alpha - beta y |y|^(n-1)` with `alpha = E c delta/(Y chi_m)`, `beta = E r dt/(Y chi_m)`, and y
/// shrinks by the growth of chi as in eyring_step().
///
/// Parameters: modulus E (Pa, > 0), reference_rate r (1/s, > 0), flow_stress Y (Pa, > 0), rate_exponent n (1 to 100),
/// activation_energy Q (J/mol, >= 0). r and Y stand for one number, r/Y^n: the flow is r where the stress is Y. With
/// temperature `r(T) = r exp(-(Q/R)(1/T - 1/Tref))` and E softens; Y does not move, for r carries all of it. State: e.
///
/// The step keeps y between its start, zero and the steady flow `(alpha/beta)^(1/n)` for any dt. It is second order,
/// and of fourth where the stretch does not work against the stress.
///
/// Special cases: at rest exact for any time,
/// `|y|^(1-n)` grows by `(n-1) E r t/(Y chi)`; steady flow exact; n = 1 is a Maxwell branch of time `Y chi/(E r)`;
/// large n is a plastic branch that yields at Y chi.
///
/// Source: Norton's power law of creep in series with a spring (textbook mechanics, from memory); the step was derived
/// in this project. Pinned by tests/unit/power_network_test.cpp, against rosenbrock4 by
/// tests/consistency/film_step_odeint_test.cpp.
struct PowerFlow {
  static constexpr bool hardens = true;
  static constexpr int step_order = 2;

  struct Branch {
    double modulus, reference_rate, flow_stress, rate_exponent, activation_energy;
    explicit Branch(const BranchParameters& b)
        : modulus(b["modulus"]),
          reference_rate(b["reference_rate"]),
          flow_stress(b["flow_stress"]),
          rate_exponent(b["rate_exponent"]),
          activation_energy(b["activation_energy"]) {}
  };
  struct At {
    double modulus = 0.0, rate = 0.0, flow = 0.0, exponent = 1.0;
  };

  static double strain_scale(const Branch& b) { return b.flow_stress / b.modulus; }
  /// The second derivative of y_1 by alpha stays below `max(1, 0.3 n) max(1, beta)^(1/(n-1))` for n >= 2 (found by
  /// search); a smaller power has an unbounded one next to y = 0.
  static double curvature_bound(const Branch& b, double dt) {
    const double n = b.rate_exponent, beta = b.reference_rate * dt / strain_scale(b);
    if (n == 1.0) return 0.0;
    if (n < 2.0) return std::numeric_limits<double>::infinity();
    return 0.5 * std::max(1.0, 0.3 * n) * std::pow(std::max(1.0, beta), 1.0 / (n - 1.0)) * b.modulus / strain_scale(b);
  }
  static At at(const Branch& b, double arrhenius, double, double softening) {
    return {b.modulus * softening, b.reference_rate * arrhenius, b.flow_stress, b.rate_exponent};
  }
  static double step(const At& b, double e0, double delta, double dt, double c, const HardeningStep<double>& h,
                     double& slope) {
    const double gain = b.modulus * c / b.flow, y0 = gain * e0 / h.chi0, to_strain = h.chi1 / gain;
    const double beta = b.modulus * b.rate * dt / (b.flow * h.chi_mid);
    PowerStep end = power_step(y0, gain * delta / h.chi_mid - y0 * h.log_chi, beta, b.exponent);
    end.y -= 0.5 * end.slope * (end.y - y0) * h.log_chi;
    const double e1 = end.y * to_strain;
    slope = e1 * h.dlog_chi1 + end.slope * (h.chi1 / h.chi_mid - to_strain * 0.5 * (y0 + end.y) * h.dlog_chi1);
    return e1;
  }
  static double drive(const At& b, double e, double c, double chi) { return b.modulus * c * e / (b.flow * chi); }
  static double log_size(const At& b, double drive) {
    return drive == 0.0 ? 0.0 : b.exponent * std::log(std::abs(drive));
  }
  static double flow(const At& b, double drive, double c, double scale) {
    if (drive == 0.0) return 0.0;
    return std::copysign(b.rate / c * std::exp(log_size(b, drive) - scale), drive);
  }
};

constexpr Parameter rate_exponent{
    .key = "branch.rate_exponent",
    .room = ParameterRoom::film_file,
    .lower = Bound{1.0, true},
    .upper = Bound{100.0, true},
    .valid_low = 2.0,
    .valid_high = 50.0,
    .sentence =
        "Exponent n of stress in the flow rate of a branch (law \"power-network\"): 1 is linear, a large "
        "value is nearly plastic.",
    .measure = {"Tensile tests at two rates ten times apart: logarithm of the ratio of the rates over the logarithm "
                "of the ratio of the plateau stresses.",
                Hazard::test_machine},
    .reference = "Norton's power law of creep (textbook mechanics, from memory)."};

constexpr const Parameter* keys[] = {
    &law_key::network_modulus, &law_key::network_stretch_limit, &law_key::viscous_share, &law_key::branch_modulus,
    &law_key::reference_rate,  &law_key::flow_stress,           &rate_exponent,          &law_key::activation_energy};

std::shared_ptr<const FilmLaw> make(const FilmDescription& film) {
  return std::make_shared<BranchedLaw<GentNetwork, PowerFlow>>(GentNetwork(film.network), film);
}

/// Flow at a given strain goes with r E^n, and E falls by b_E a kelvin: `Q >= n b_E R Tref^2`.
double least_activation(const FilmDescription& film, std::size_t k) {
  const double t = film.reference_temperature;
  return film.branches[k]["rate_exponent"] * film.thermal.modulus_softening * gas_constant * t * t;
}

}  // namespace

extern const FilmLawKind power_network;
constinit const FilmLawKind power_network{.name = "power-network",
                                          .summary = "network with branches that flow by a power of stress",
                                          .parameters = keys,
                                          .make = make,
                                          .least_activation = least_activation};

}  // namespace hoopfield::detail
