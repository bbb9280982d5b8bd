// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/film_fit.hpp"

#include "models/error.hpp"
#include "sim/base/number_text.hpp"
#include "sim/film_lab/fit_problem.hpp"
#include "sim/film_lab/fit_result.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace hoopfield {

namespace {

using detail::FitMinimum;
using detail::FitProblem;

constexpr std::size_t most_branches_tried = 4;
constexpr double same_temperature = 2.0;  // K
constexpr double least_misfit = 2e-4;

struct Prepared {
  std::vector<FitPath> paths;
  double reference_temperature = 296.15;
  double greatest_invariant = 0.0;
  bool two_temperatures = false;
  std::size_t readings = 0;
};

Prepared prepare(const std::vector<LabCurve>& curves, const FitOptions& options, std::vector<std::string>& warnings) {
  if (curves.empty()) throw InputError("film fit: no curves; expected at least one CSV file");
  Prepared prepared;
  std::map<double, std::size_t> count;
  bool assumed = false;
  for (const LabCurve& curve : curves) {
    prepared.paths.push_back(make_fit_path(curve));
    FitPath& path = prepared.paths.back();
    if (!curve.temperature_given) {
      path.temperature = options.base.reference_temperature;
      assumed = true;
    }
    for (const std::string& warning : curve.warnings) warnings.push_back(curve.name + ": " + warning);
    count[path.temperature] += path.readings.size();
    prepared.readings += path.readings.size();
    for (const FitStep& step : path.steps)
      prepared.greatest_invariant = std::max(prepared.greatest_invariant, path.mode.invariant(step.stretch) - 3.0);
  }
  if (assumed)
    warnings.push_back("some curves give no temperature: " + fixed(options.base.reference_temperature - 273.15, 0) +
                       " degC was assumed (a line \"# temperature: 23 degC\" states it)");
  prepared.reference_temperature = std::max_element(count.begin(), count.end(), [](const auto& a, const auto& b) {
                                     return a.second < b.second;
                                   })->first;
  prepared.two_temperatures = count.rbegin()->first - count.begin()->first > same_temperature;
  return prepared;
}

FitProblem make_problem(const Prepared& prepared, std::size_t branches) {
  FitProblem problem;
  problem.paths = &prepared.paths;
  problem.reference_temperature = prepared.reference_temperature;
  problem.layout = FitLayout(branches);
  problem.prior = detail::fit_prior(problem.layout, prepared.greatest_invariant);
  for (Eigen::Index i = 0; i < problem.layout.size(); ++i)
    problem.free.push_back(prepared.two_temperatures || !problem.layout.thermal(i));
  return problem;
}

/// Fast branches first; activation energies are set to what is assumed where no curve speaks of them.
Eigen::VectorXd sorted_branches(const FitProblem& problem, const Eigen::VectorXd& p, bool two_temperatures) {
  const FitLayout& layout = problem.layout;
  std::vector<std::size_t> order(layout.branches);
  std::iota(order.begin(), order.end(), 0u);
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return p[layout.rate(a)] > p[layout.rate(b)]; });
  Eigen::VectorXd sorted = p;
  for (std::size_t k = 0; k < order.size(); ++k) {
    sorted.segment(layout.modulus(k), 3) = p.segment(layout.modulus(order[k]), 3);
    sorted[layout.activation(k)] = p[layout.activation(order[k])];
    if (!two_temperatures)
      sorted[layout.activation(k)] =
          detail::assumed_activation(std::exp(sorted[layout.rate(k)]), problem.reference_temperature) / activation_unit;
  }
  return sorted;
}

void centre_activation(FitProblem& problem, const Eigen::VectorXd& p) {
  for (std::size_t k = 0; k < problem.layout.branches; ++k)
    problem.prior.centre[problem.layout.activation(k)] =
        detail::assumed_activation(std::exp(p[problem.layout.rate(k)]), problem.reference_temperature) /
        activation_unit;
}

struct Solved {
  FitProblem problem;
  FitMinimum minimum;
  std::vector<FitMinimum> others;  ///< what the other starts led to, branches sorted
};

Solved solve(const Prepared& prepared, std::size_t branches, const FitOptions& options, Observer* observer,
             double share) {
  Solved solved{make_problem(prepared, branches), {}, {}};
  std::mt19937 random(options.seed);
  const auto starts = detail::fit_starts(solved.problem, static_cast<std::size_t>(options.starts), random, observer);
  bool found = false;
  for (const Eigen::VectorXd& start : starts) {
    if (observer != nullptr && !observer->progress(share, "fitting")) throw Interrupted();
    centre_activation(solved.problem, start);
    const FitMinimum minimum = detail::minimise(solved.problem, start, 80);
    if (!std::isfinite(minimum.cost)) continue;
    solved.others.push_back(
        {sorted_branches(solved.problem, minimum.parameters, prepared.two_temperatures), minimum.cost});
    if (found && minimum.cost >= solved.minimum.cost) continue;
    solved.minimum = minimum;
    found = true;
  }
  if (!found)
    throw SolverError("no starting point of the fit leads to a film law",
                      "check the curves: units, thickness, sign of the force");
  solved.minimum.parameters = sorted_branches(solved.problem, solved.minimum.parameters, prepared.two_temperatures);
  centre_activation(solved.problem, solved.minimum.parameters);
  solved.minimum = detail::minimise(solved.problem, solved.minimum.parameters, 300);
  solved.minimum.parameters = sorted_branches(solved.problem, solved.minimum.parameters, prepared.two_temperatures);
  return solved;
}

/// Minima elsewhere that the curves cannot tell from the best: each widens the covariance along the way to it.
Eigen::MatrixXd ambiguity(const Solved& solved, const FitMinimum& best, double widening) {
  const FitLayout& layout = solved.problem.layout;
  Eigen::MatrixXd added = Eigen::MatrixXd::Zero(layout.size(), layout.size());
  double unit = best.cost / static_cast<double>(solved.problem.readings());  // cost of one reading
  unit *= 4.0 * widening;                                                    // two standard deviations
  double count = 0.0;
  for (const FitMinimum& other : solved.others) {
    const Eigen::VectorXd way = other.parameters - best.parameters;
    const double prior_widths = way.cwiseQuotient(solved.problem.prior.error).cwiseAbs().maxCoeff();
    if (other.cost - best.cost > unit || prior_widths < 0.05) continue;
    added += 0.25 * way * way.transpose();
    count += 1.0;
  }
  return count > 0.0 ? Eigen::MatrixXd(added / count) : added;
}

/// Residuals relative to the scale of their reading.
std::vector<Eigen::VectorXd> relative_residuals(const Solved& solved) {
  std::vector<Eigen::VectorXd> all;
  for (const FitPath& path : *solved.problem.paths) {
    Eigen::VectorXd stress;
    model_stress(path, solved.problem.layout, solved.minimum.parameters, solved.problem.reference_temperature, stress);
    for (Eigen::Index i = 0; i < stress.size(); ++i) {
      const FitReading& reading = path.readings[static_cast<std::size_t>(i)];
      stress[i] = (stress[i] - reading.stress) / reading.scale;
    }
    all.push_back(stress);
  }
  return all;
}

/// Correlation of neighbours within the curves; 0 when chance explains it.
double neighbour_correlation(const Solved& solved) {
  const Eigen::VectorXd error = solved.problem.errors();
  double product = 0.0, square = 0.0, count = 0.0;
  Eigen::Index row = 0;
  std::size_t curve = 0;
  for (const Eigen::VectorXd& r : relative_residuals(solved)) {
    const FitPath& path = (*solved.problem.paths)[curve++];
    double last = 0.0;
    for (Eigen::Index i = 0; i < r.size(); ++i, ++row) {
      const double now = r[i] * path.readings[static_cast<std::size_t>(i)].scale / error[row];
      if (i > 0) product += now * last;
      square += now * now;
      last = now;
      count += 1.0;
    }
  }
  const double rho = square > 0.0 ? product / square : 0.0;
  return rho > 2.0 / std::sqrt(std::max(count, 1.0)) ? std::min(rho, 0.98) : 0.0;
}

double mean_square(const Solved& solved) {
  double square = 0.0, count = 0.0;
  for (const Eigen::VectorXd& r : relative_residuals(solved))
    square += r.squaredNorm(), count += static_cast<double>(r.size());
  return square / count;
}

/// Error of the readings beyond their scatter, so that the weights fit the residuals; minimised again each time.
void settle_misfit(Solved& solved) {
  for (int i = 0; i < 3; ++i) {
    double scatter = 0.0, count = 0.0;
    for (const FitPath& path : *solved.problem.paths)
      for (const FitReading& reading : path.readings) scatter += path.noise * path.noise / reading.count, count += 1.0;
    const double freedom = std::max(0.5, 1.0 - static_cast<double>(3 + 3 * solved.problem.layout.branches) / count);
    solved.problem.misfit =
        std::sqrt(std::max(least_misfit * least_misfit, mean_square(solved) / freedom - scatter / count));
    solved.minimum = detail::minimise(solved.problem, solved.minimum.parameters, 100);
  }
}

FitChoice judge(const Solved& solved) {
  Eigen::VectorXd weighted;
  solved.problem.residuals(solved.minimum.parameters, weighted);
  const double square = weighted.squaredNorm() / static_cast<double>(weighted.size());
  const double rho = neighbour_correlation(solved);
  return {solved.problem.layout.branches, 0.0, square, rho, std::sqrt(mean_square(solved))};
}

/// The models are compared with one number of independent readings: that of the model with the whitest residuals.
std::size_t least_bic(std::vector<FitChoice>& choices, const std::vector<Solved>& solved) {
  double rho = 1.0;
  for (const FitChoice& choice : choices) rho = std::min(rho, choice.correlation);
  const double count = static_cast<double>(solved.front().problem.readings()) * (1.0 - rho) / (1.0 + rho);
  std::size_t least = 0;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const auto& free = solved[i].problem.free;
    const auto parameters = static_cast<double>(std::count(free.begin(), free.end(), true));
    choices[i].bic = count * std::log(choices[i].square) + parameters * std::log(count);
    if (choices[i].bic < choices[least].bic) least = i;
  }
  return least;
}

void check_enough(const Prepared& prepared, std::size_t branches) {
  const std::size_t needed = 3 + 3 * branches + 3;
  if (prepared.readings >= needed) return;
  throw InputError("film fit: " + std::to_string(prepared.readings) +
                   " points are too few for this parameter set; expected " + std::to_string(needed) + " or more for " +
                   std::to_string(branches) + (branches == 1 ? " branch" : " branches") +
                   "; `hoopfield film from-datasheet` makes a film from a few numbers");
}

/// Tries 1, 2, ... branches; the least BIC wins. Stops once two more branches did not help.
Solved choose(const Prepared& prepared, const FitOptions& options, std::vector<FitChoice>& choices,
              Observer* observer) {
  std::vector<Solved> tried;
  std::size_t chosen = 0;
  const std::size_t first = options.branches.value_or(1), last = options.branches.value_or(most_branches_tried);
  for (std::size_t branches = first; branches <= last; ++branches) {
    if (branches > first && (prepared.readings < 6 + 3 * branches || branches > choices[chosen].branches + 2)) break;
    check_enough(prepared, branches);
    tried.push_back(solve(prepared, branches, options, observer, 0.2 * static_cast<double>(branches - first)));
    choices.push_back(judge(tried.back()));
    chosen = least_bic(choices, tried);
  }
  return std::move(tried[chosen]);
}

}  // namespace

FilmDescription assumed_film() {
  FilmDescription film;
  film.name = "fitted film";
  film.density = 920.0;
  film.neck_in = 0.2;
  film.assumed = {"density", "neck_in"};
  film.thermal.expansion = 1.8e-4;
  film.thermal.heat_capacity = 2200.0;
  return film;
}

double correlation(const FilmFit& fit, std::size_t a, std::size_t b) {
  const auto i = static_cast<Eigen::Index>(a), j = static_cast<Eigen::Index>(b);
  return fit.covariance(i, j) / std::sqrt(fit.covariance(i, i) * fit.covariance(j, j));
}

FilmFit fit_film(const std::vector<LabCurve>& curves, const FitOptions& options, Observer* observer) {
  if (options.branches && (*options.branches < 1 || *options.branches > 5))
    throw OutOfRange("--branches: out of bounds; expected 1 to 5", {}, 0, 0, "branches");
  if (options.starts < 1 || options.starts > 100)
    throw OutOfRange("--starts: out of bounds; expected 1 to 100", {}, 0, 0, "starts");
  FilmFit fit;
  const Prepared prepared = prepare(curves, options, fit.warnings);
  Solved solved = choose(prepared, options, fit.choices, observer);
  const FitMinimum before = solved.minimum;  // weighted like the other minima
  settle_misfit(solved);
  fit.misfit = solved.problem.misfit;
  fit.correlation = neighbour_correlation(solved);
  const double widening = (1.0 + fit.correlation) / (1.0 - fit.correlation);
  detail::complete_fit({solved.problem, solved.minimum.parameters, prepared.two_temperatures, widening,
                        ambiguity(solved, before, widening), solved.others},
                       curves, options, fit, observer);
  return fit;
}

}  // namespace hoopfield
