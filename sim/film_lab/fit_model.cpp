// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_model.hpp"

#include "models/film/branched_law.hpp"
#include "models/film/equilibrium.hpp"

#include <cmath>

namespace hoopfield {

std::string FitLayout::key(Eigen::Index i) const {
  if (i == network_modulus()) return "network.modulus";
  if (i == stretch_limit()) return "network.stretch_limit";
  if (i == viscous_share()) return "hardening.viscous_share";
  if (i == softening()) return "thermal.modulus_softening";
  if (i == network_softening()) return "thermal.network_softening";
  const auto j = static_cast<std::size_t>(i) - 3;
  if (j >= 3 * branches) return "branch[" + std::to_string(j - 3 * branches + 1) + "].activation_energy";
  static constexpr const char* names[] = {"modulus", "reference_rate", "flow_stress"};
  return "branch[" + std::to_string(j / 3 + 1) + "]." + names[j % 3];
}

FilmDescription film_from(const FitLayout& layout, const Eigen::VectorXd& p, const FilmDescription& base) {
  FilmDescription film = base;
  film.law = "eyring-network";
  film.network = {std::exp(p[layout.network_modulus()]), std::exp(p[layout.stretch_limit()])};
  film.viscous_share = std::exp(p[layout.viscous_share()]);
  film.branches.clear();
  for (std::size_t k = 0; k < layout.branches; ++k) {
    BranchParameters branch;
    branch["modulus"] = std::exp(p[layout.modulus(k)]);
    branch["reference_rate"] = std::exp(p[layout.rate(k)]);
    branch["flow_stress"] = std::exp(p[layout.flow_stress(k)]);
    branch["activation_energy"] = p[layout.activation(k)] * activation_unit;
    film.branches.push_back(branch);
  }
  film.thermal.modulus_softening = p[layout.softening()];
  film.thermal.network_softening = p[layout.network_softening()];
  return film;
}

Eigen::VectorXd parameters_from(const FitLayout& layout, const FilmDescription& film) {
  Eigen::VectorXd p(layout.size());
  p[layout.network_modulus()] = std::log(film.network.modulus);
  p[layout.stretch_limit()] = std::log(film.network.stretch_limit);
  p[layout.viscous_share()] = std::log(film.viscous_share);
  for (std::size_t k = 0; k < layout.branches; ++k) {
    const BranchParameters& branch = film.branches[k];
    p[layout.modulus(k)] = std::log(branch["modulus"]);
    p[layout.rate(k)] = std::log(branch["reference_rate"]);
    p[layout.flow_stress(k)] = std::log(branch["flow_stress"]);
    p[layout.activation(k)] = branch["activation_energy"] / activation_unit;
  }
  p[layout.softening()] = film.thermal.modulus_softening;
  p[layout.network_softening()] = film.thermal.network_softening;
  return p;
}

EyringPartials eyring_step_partials(double y0, double alpha, double beta) {
  const double sigma = std::sqrt(alpha * alpha + beta * beta);
  if (!(sigma > 0.0)) return {y0, 1.0, 1.0, -std::sinh(y0)};
  const double sign = alpha < 0.0 ? -1.0 : 1.0;
  const double a = std::abs(alpha);
  const double y = sign * y0;
  const double growth = std::expm1(sigma < 700.0 ? sigma : 700.0);
  const double q = growth / (growth + 2.0);
  const double one_minus_q = 2.0 / (growth + 2.0);
  const double low = beta * beta / (sigma + a) + a * one_minus_q;
  const double high = sigma + a * q;
  const double decay = std::exp(-std::abs(y));
  const double scale_low = y >= 0.0 ? decay : 1.0;
  const double scale_high = y >= 0.0 ? 1.0 : decay;
  const double cross = beta * q;
  const double numerator = scale_low * low + scale_high * cross;
  const double denominator = scale_high * high + scale_low * cross;
  const double half = 0.5 * one_minus_q * (1.0 + q);  // dq / dsigma
  const double sine = a / sigma, cosine = beta / sigma;
  // By the drive: as in eyring_step.
  const double dq_a = half * sine;
  const double dlow_a = (a > beta ? one_minus_q - beta * beta / (sigma * (sigma + a)) : sine - q) - a * dq_a;
  const double dhigh_a = sine + q + a * dq_a;
  const double by_drive = (scale_high * dhigh_a + scale_low * beta * dq_a) / denominator -
                          (scale_low * dlow_a + scale_high * beta * dq_a) / numerator;
  // By the flow number; the sign of y comes back.
  const double dq_b = half * cosine;
  const double dcross = q + beta * dq_b;
  const double by_flow = sign * ((scale_high * (cosine + a * dq_b) + scale_low * dcross) / denominator -
                                 (scale_low * (cosine - a * dq_b) + scale_high * dcross) / numerator);
  const double by_start = scale_low * low / numerator - scale_low * cross / denominator;
  return {sign * std::log(denominator / numerator), by_start, by_drive, by_flow};
}

namespace {

/// Elastic strain of one branch and its derivatives by ln(E/Y), ln r and ln h.
struct BranchState {
  double e = 0.0, by_gain = 0.0, by_rate = 0.0, by_share = 0.0;
};

/// chi and d ln chi/d ln h at the start, middle and end of a step.
struct Hardening {
  double chi0 = 1.0, chi1 = 1.0, mid = 1.0, log = 0.0;
  double slope0 = 0.0, slope1 = 0.0, slope_mid = 0.0;
};

/// The closed-form step of EyringFlow (branched_law.hpp) with its derivatives. `gain` = E c/Y. The mean reduced stress
/// is iterated here where the law corrects it to first order: the same to second order in the step.
void advance(BranchState& s, double gain, double flow, double delta, const Hardening& h) {
  // flow = gain r dt / c: the flow number is flow/chi_mid.
  const double y0 = gain * s.e / h.chi0;
  const double y0_gain = y0 + gain * s.by_gain / h.chi0;
  const double y0_rate = gain * s.by_rate / h.chi0;
  const double y0_share = gain * s.by_share / h.chi0 - y0 * h.slope0;
  const double drive = gain * delta / h.mid;
  const double beta = flow / h.mid;
  const double log_share = h.slope1 - h.slope0;
  EyringPartials end = eyring_step_partials(y0, drive - y0 * h.log, beta);
  double y_gain, y_rate, y_share;
  const auto chain = [&](double a_gain, double a_rate, double a_share) {
    y_gain = end.by_start * y0_gain + end.by_drive * a_gain + end.by_flow * beta;
    y_rate = end.by_start * y0_rate + end.by_drive * a_rate + end.by_flow * beta;
    y_share = end.by_start * y0_share + end.by_drive * a_share - end.by_flow * beta * h.slope_mid;
  };
  chain(drive - y0_gain * h.log, -y0_rate * h.log, -drive * h.slope_mid - y0_share * h.log - y0 * log_share);
  if (h.log != 0.0) {
    const double mean = 0.5 * (y0 + end.y);
    const double m_gain = 0.5 * (y0_gain + y_gain), m_rate = 0.5 * (y0_rate + y_rate), m_share = 0.5 * (y0_share + y_share);
    end = eyring_step_partials(y0, drive - mean * h.log, beta);
    chain(drive - m_gain * h.log, -m_rate * h.log, -drive * h.slope_mid - m_share * h.log - mean * log_share);
  }
  const double scale = h.chi1 / gain;
  s.e = end.y * scale;
  s.by_gain = y_gain * scale - s.e;
  s.by_rate = y_rate * scale;
  s.by_share = y_share * scale + s.e * h.slope1;
}

}  // namespace

void model_stress(const FitPath& path, const FitLayout& layout, const Eigen::VectorXd& p, double reference_temperature,
                  Eigen::VectorXd& stress, Eigen::MatrixXd* jacobian) {
  const std::size_t n = layout.branches;
  const double warm = path.temperature - reference_temperature;
  const double inverse = (1.0 / path.temperature - 1.0 / reference_temperature) / gas_constant;
  const double network = std::exp(p[layout.network_modulus()] - p[layout.network_softening()] * warm);
  const double limit = std::exp(p[layout.stretch_limit()]);
  const double share = std::exp(p[layout.viscous_share()]);
  const double softening = -p[layout.softening()] * warm;
  std::vector<double> modulus(n), gain(n), rate(n);
  for (std::size_t k = 0; k < n; ++k) {
    modulus[k] = std::exp(p[layout.modulus(k)] + softening);
    gain[k] = path.mode.c * modulus[k] / std::exp(p[layout.flow_stress(k)]) * reference_temperature / path.temperature;
    rate[k] = std::exp(p[layout.rate(k)] - p[layout.activation(k)] * activation_unit * inverse);
  }
  stress.resize(static_cast<Eigen::Index>(path.readings.size()));
  if (jacobian != nullptr) jacobian->setZero(stress.size(), layout.size());
  std::vector<BranchState> state(n);
  double stretch = 1.0;
  double invariant = path.mode.invariant(1.0) - 3.0;
  for (const FitStep& step : path.steps) {
    const double delta = std::log(step.stretch / stretch);
    if (step.duration > 0.0) {
      Hardening h;
      h.chi0 = 1.0 + share * invariant;
      h.slope0 = (h.chi0 - 1.0) / h.chi0;
      if (delta != 0.0) {
        const double middle = path.mode.invariant(std::sqrt(stretch * step.stretch)) - 3.0;
        invariant = path.mode.invariant(step.stretch) - 3.0;
        h.chi1 = 1.0 + share * invariant;
        h.mid = 1.0 + share * middle;
        h.log = std::log(h.chi1 / h.chi0);
        h.slope1 = (h.chi1 - 1.0) / h.chi1;
        h.slope_mid = (h.mid - 1.0) / h.mid;
      } else {
        h.chi1 = h.mid = h.chi0;
        h.slope1 = h.slope_mid = h.slope0;
      }
      for (std::size_t k = 0; k < n; ++k)
        advance(state[k], gain[k], gain[k] / path.mode.c * rate[k] * step.duration, delta, h);
    } else if (delta != 0.0) {
      for (BranchState& s : state) s.e += delta;
      invariant = path.mode.invariant(step.stretch) - 3.0;
    }
    stretch = step.stretch;
    if (step.reading < 0) continue;
    const Eigen::Index row = step.reading;
    const double rest = std::max(limit - invariant, 1e-9 * limit);
    const double s_net = network * limit / rest * path.mode.drive(stretch);
    double s = s_net;
    for (std::size_t k = 0; k < n; ++k) s += path.mode.m * modulus[k] * state[k].e;
    stress[row] = s / stretch;
    if (jacobian == nullptr) continue;
    auto j = jacobian->row(row);
    j[layout.network_modulus()] = s_net / stretch;
    j[layout.stretch_limit()] = -s_net * invariant / rest / stretch;
    j[layout.network_softening()] = -warm * s_net / stretch;
    for (std::size_t k = 0; k < n; ++k) {
      const double f = path.mode.m * modulus[k] / stretch;
      const double by_modulus = f * (state[k].e + state[k].by_gain);
      j[layout.modulus(k)] = by_modulus;
      j[layout.flow_stress(k)] = -f * state[k].by_gain;
      j[layout.rate(k)] = f * state[k].by_rate;
      j[layout.viscous_share()] += f * state[k].by_share;
      j[layout.activation(k)] = -activation_unit * inverse * f * state[k].by_rate;
      j[layout.softening()] -= warm * by_modulus;
    }
  }
}

}  // namespace hoopfield
