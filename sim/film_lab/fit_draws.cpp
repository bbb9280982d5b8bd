// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_draws.hpp"

#include "models/film/eyring_activation.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::detail {

namespace {

constexpr std::size_t least_branches = 3;
constexpr std::size_t most_attempts = 2 * draw_count;
constexpr int most_steps = 200;         // of one minimisation
constexpr double added_modulus = 0.05;  // of the prior centre: a branch the fit has not starts faint
constexpr double least_activation_margin = 1.02;

/// Readings whose errors are widened for correlated neighbours.
std::vector<FitPath> widened(const FitOutcome& outcome) {
  std::vector<FitPath> paths = *outcome.problem.paths;
  for (FitPath& path : paths)
    for (FitReading& reading : path.readings) reading.scale *= std::sqrt(outcome.widening);
  return paths;
}

/// The problem of the fit, with faint branches added where it has fewer than three.
FitProblem family_of(const FitOutcome& outcome, const std::vector<FitPath>& paths) {
  FitProblem problem = outcome.problem;
  problem.paths = &paths;
  if (problem.layout.branches >= least_branches) return problem;
  double invariant = 0.0;
  for (const FitPath& path : paths)
    for (const FitStep& step : path.steps) invariant = std::max(invariant, path.mode.invariant(step.stretch) - 3.0);
  problem.layout = FitLayout(least_branches);
  problem.prior = fit_prior(problem.layout, invariant);
  problem.free.clear();
  for (Eigen::Index i = 0; i < problem.layout.size(); ++i)
    problem.free.push_back(outcome.two_temperatures || !problem.layout.thermal(i));
  return problem;
}

/// A law in the larger family; what it lacks stands at `centre`.
Eigen::VectorXd extended(const FitLayout& from, const Eigen::VectorXd& law, const FitLayout& to,
                         const Eigen::VectorXd& centre) {
  Eigen::VectorXd p = centre;
  p.head(3) = law.head(3);
  p.tail(2) = law.tail(2);
  for (std::size_t k = 0; k < to.branches; ++k) {
    if (k < from.branches) {
      p.segment(to.modulus(k), 3) = law.segment(from.modulus(k), 3);
      p[to.activation(k)] = law[from.activation(k)];
    } else {
      p[to.modulus(k)] += std::log(added_modulus);
    }
  }
  return p;
}

class Drawer {
 public:
  Drawer(const FitOutcome& outcome, unsigned seed)
      : outcome_(outcome),
        paths_(widened(outcome)),
        moved_(paths_),
        problem_(family_of(outcome, paths_)),
        random_(seed) {
    FitProblem fitted = outcome.problem;
    fitted.paths = &paths_;
    const auto free = static_cast<double>(std::count(problem_.free.begin(), problem_.free.end(), true));
    // The sum of squares of a draw lies above that of the fit like chi-square of the free parameters: mean and three
    // standard deviations. What lies higher got stuck on its way.
    allowed_ = misfit(fitted, outcome.parameters) + free + 3.0 * std::sqrt(2.0 * free);
    starts_.push_back(outcome.parameters);
    for (const FitMinimum& other : outcome.others)
      if (misfit(fitted, other.parameters) <= allowed_) starts_.push_back(other.parameters);
  }

  /// One law, or nothing when minimising got stuck.
  std::optional<Eigen::VectorXd> draw() {
    FitProblem moved = problem_;
    moved.paths = &moved_;
    const Eigen::VectorXd error = problem_.errors();
    Eigen::Index row = 0;
    for (std::size_t c = 0; c < paths_.size(); ++c)
      for (std::size_t i = 0; i < paths_[c].readings.size(); ++i)
        moved_[c].readings[i].stress = paths_[c].readings[i].stress + error[row++] * normal_(random_);
    for (Eigen::Index i = 0; i < moved.layout.size(); ++i)
      moved.prior.centre[i] += moved.prior.error[i] * normal_(random_);
    const Eigen::VectorXd& law = starts_[count_++ % starts_.size()];
    const Eigen::VectorXd start = extended(outcome_.problem.layout, law, moved.layout, moved.prior.centre);
    Eigen::VectorXd p = minimise(moved, start, most_steps).parameters;
    if (!p.allFinite() || !(misfit(problem_, p) <= allowed_)) return std::nullopt;
    if (!outcome_.two_temperatures) draw_thermal(p);
    return p;
  }
  [[nodiscard]] const FitLayout& layout() const { return problem_.layout; }

 private:
  static double misfit(const FitProblem& problem, const Eigen::VectorXd& parameters) {
    Eigen::VectorXd r;
    problem.residuals(parameters, r);
    return r.squaredNorm();
  }

  /// What no curve speaks of comes from the prior alone.
  void draw_thermal(Eigen::VectorXd& p) {
    const FitLayout& layout = problem_.layout;
    for (Eigen::Index i = layout.activation(0); i < layout.size(); ++i) {
      double centre = problem_.prior.centre[i], least = problem_.prior.low[i];
      if (i < layout.softening()) {
        const double rate = std::exp(p[layout.rate(static_cast<std::size_t>(i - layout.activation(0)))]);
        centre = assumed_activation(rate, problem_.reference_temperature) / activation_unit;
        least =
            least_activation_margin * eyring_least_activation(rate, problem_.reference_temperature) / activation_unit;
      }
      p[i] = std::max(least, centre + problem_.prior.error[i] * normal_(random_));
    }
  }

  const FitOutcome& outcome_;
  std::vector<FitPath> paths_, moved_;
  FitProblem problem_;
  std::vector<Eigen::VectorXd> starts_;  ///< minima that meet the curves, the fit first
  double allowed_ = 0.0;
  std::size_t count_ = 0;
  std::mt19937 random_;
  std::normal_distribution<double> normal_{0.0, 1.0};
};

}  // namespace

std::vector<FilmDescription> draw_films(const FitOutcome& outcome, const FilmDescription& base, unsigned seed,
                                        Observer* observer) {
  std::vector<FilmDescription> films;
  Drawer drawer(outcome, seed);
  for (std::size_t i = 0; i < most_attempts && films.size() < draw_count; ++i) {
    if (observer != nullptr && !observer->progress(0.9, "drawing laws that fit as well")) throw Interrupted();
    if (const auto p = drawer.draw()) films.push_back(film_from(drawer.layout(), *p, base));
  }
  return films;
}

}  // namespace hoopfield::detail
