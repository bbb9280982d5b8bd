// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_model.hpp"

#include "models/film/branched_law.hpp"
#include "models/film/dual.hpp"
#include "models/film/eyring_flow.hpp"

#include <algorithm>
#include <cmath>
#include <type_traits>

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
    film.branches.push_back({{"modulus", std::exp(p[layout.modulus(k)])},
                             {"reference_rate", std::exp(p[layout.rate(k)])},
                             {"flow_stress", std::exp(p[layout.flow_stress(k)])},
                             {"activation_energy", p[layout.activation(k)] * activation_unit}});
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

namespace {

/// Derivatives carried through the steps: by ln(E/Y) and ln r of a branch, and by ln h.
enum : std::size_t { by_gain, by_rate, by_share, derivative_count };
using Sensitive = Dual<derivative_count>;

double seeded(double value, std::size_t, double) { return value; }
Sensitive seeded(double value, std::size_t variable, Sensitive) { return Sensitive::variable(value, variable, value); }
double value_of(double x) { return x; }
double value_of(const Sensitive& x) { return x.value; }

/// What the parameters say at the temperature of a path.
struct Constants {
  double network, limit, share;
  std::vector<double> modulus, rate, flow;

  Constants(const FitLayout& layout, const Eigen::VectorXd& p, double temperature, double reference_temperature) {
    const double warm = temperature - reference_temperature;
    const double inverse = (1.0 / temperature - 1.0 / reference_temperature) / gas_constant;
    network = std::exp(p[layout.network_modulus()] - p[layout.network_softening()] * warm);
    limit = std::exp(p[layout.stretch_limit()]);
    share = std::exp(p[layout.viscous_share()]);
    for (std::size_t k = 0; k < layout.branches; ++k) {
      modulus.push_back(std::exp(p[layout.modulus(k)] - p[layout.softening()] * warm));
      rate.push_back(std::exp(p[layout.rate(k)] - p[layout.activation(k)] * activation_unit * inverse));
      flow.push_back(std::exp(p[layout.flow_stress(k)]) * (temperature / reference_temperature));
    }
  }
};

/// The film along a path, branch by branch, stepped by the law's own integrator.
template <class Number>
class FittedFilm {
 public:
  FittedFilm(const Constants& constants, const WidthMode& mode)
      : share_(seeded(constants.share, by_share, Number())), strain_(constants.modulus.size()), mode_(mode) {
    for (std::size_t k = 0; k < strain_.size(); ++k)
      branch_.push_back({seeded(constants.modulus[k], by_gain, Number()), seeded(constants.rate[k], by_rate, Number()),
                         Number(constants.flow[k])});
  }

  void move(const FitStep& step) {
    const double delta = std::log(step.stretch / stretch_);
    if (step.duration > 0.0) {
      cut_by_hardening(value_of(share_), stretch_, step.stretch, delta, mode_, [&](double l0, double l1, int count) {
        const HardeningStep<Number> hardened = hardening_step(share_, l0, l1, mode_);
        for (std::size_t k = 0; k < strain_.size(); ++k) {
          Number slope;
          strain_[k] =
              EyringFlow::step(branch_[k], strain_[k], delta / count, step.duration / count, mode_.c, hardened, slope);
        }
      });
    } else {
      for (Number& e : strain_) e += Number(delta);
    }
    stretch_ = step.stretch;
  }

  [[nodiscard]] const Number& strain(std::size_t k) const { return strain_[k]; }

 private:
  Number share_;
  std::vector<EyringFlow::Constants<Number>> branch_;
  std::vector<Number> strain_;
  WidthMode mode_;
  double stretch_ = 1.0;
};

/// Derivatives of one reading; `s_net` is the network's share of the true stress, `invariant` I1 - 3.
void fill_row(Eigen::MatrixXd::RowXpr row, const FitLayout& layout, const Constants& at,
              const FittedFilm<Sensitive>& film, const WidthMode& mode, double stretch, double s_net, double invariant,
              double warm, double inverse) {
  const double rest = std::max(at.limit - invariant, 1e-9 * at.limit);
  row[layout.network_modulus()] = s_net / stretch;
  row[layout.stretch_limit()] = -s_net * invariant / rest / stretch;
  row[layout.network_softening()] = -warm * s_net / stretch;
  for (std::size_t k = 0; k < layout.branches; ++k) {
    const Sensitive& e = film.strain(k);
    const double f = mode.m * at.modulus[k] / stretch;
    const double by_modulus = f * (e.value + e.by[by_gain]);
    row[layout.modulus(k)] = by_modulus;
    row[layout.flow_stress(k)] = -f * e.by[by_gain];
    row[layout.rate(k)] = f * e.by[by_rate];
    row[layout.viscous_share()] += f * e.by[by_share];
    row[layout.activation(k)] = -activation_unit * inverse * f * e.by[by_rate];
    row[layout.softening()] -= warm * by_modulus;
  }
}

template <class Number>
void march(const FitPath& path, const FitLayout& layout, const Eigen::VectorXd& p, double reference_temperature,
           Eigen::VectorXd& stress, Eigen::MatrixXd* jacobian) {
  const Constants at(layout, p, path.temperature, reference_temperature);
  FittedFilm<Number> film(at, path.mode);
  for (const FitStep& step : path.steps) {
    film.move(step);
    if (step.reading < 0) continue;
    const double invariant = path.mode.invariant(step.stretch) - 3.0;
    const double rest = std::max(at.limit - invariant, 1e-9 * at.limit);
    const double s_net = at.network * at.limit / rest * path.mode.drive(step.stretch);
    double s = s_net;
    for (std::size_t k = 0; k < layout.branches; ++k) s += path.mode.m * at.modulus[k] * value_of(film.strain(k));
    stress[step.reading] = s / step.stretch;
    if constexpr (std::is_same_v<Number, Sensitive>)
      fill_row(jacobian->row(step.reading), layout, at, film, path.mode, step.stretch, s_net, invariant,
               path.temperature - reference_temperature,
               (1.0 / path.temperature - 1.0 / reference_temperature) / gas_constant);
  }
}

}  // namespace

void model_stress(const FitPath& path, const FitLayout& layout, const Eigen::VectorXd& p, double reference_temperature,
                  Eigen::VectorXd& stress, Eigen::MatrixXd* jacobian) {
  stress.resize(static_cast<Eigen::Index>(path.readings.size()));
  if (jacobian == nullptr) return march<double>(path, layout, p, reference_temperature, stress, nullptr);
  jacobian->setZero(stress.size(), layout.size());
  march<Sensitive>(path, layout, p, reference_temperature, stress, jacobian);
}

}  // namespace hoopfield
