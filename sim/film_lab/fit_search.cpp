// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_search.hpp"

#include "models/error.hpp"
#include "sim/base/number_text.hpp"
#include "sim/film_lab/fit_starts.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace hoopfield::detail {

namespace {

constexpr double same_temperature = 2.0;  // K
constexpr double most_correlation = 0.7;  // of neighbours, when numbers of branches are compared; own choice
constexpr double least_misfit = 2e-4;
constexpr int first_steps = 30, better_steps = 80, polish_steps = 300, settle_steps = 100;  // of one minimisation

FitProblem make_problem(const PreparedCurves& prepared, std::size_t branches) {
  FitProblem problem;
  problem.paths = &prepared.paths;
  problem.reference_temperature = prepared.reference_temperature;
  problem.layout = FitLayout(branches);
  problem.prior = fit_prior(problem.layout, prepared.greatest_invariant);
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
      sorted[layout.activation(k)] = assumed_activation(sorted[layout.rate(k)], problem.reference_temperature);
  }
  return sorted;
}

void centre_activation(FitProblem& problem, const Eigen::VectorXd& p) {
  for (std::size_t k = 0; k < problem.layout.branches; ++k)
    problem.prior.centre[problem.layout.activation(k)] =
        assumed_activation(p[problem.layout.rate(k)], problem.reference_temperature);
}

class Search {
 public:
  Search(const PreparedCurves& prepared, const FitOptions& options, Observer* observer)
      : prepared_(prepared), options_(options), observer_(observer), grid_(make_problem(prepared, 1), observer) {}

  /// The best minimum with so many branches; `smaller`, when there is one, has one branch less.
  [[nodiscard]] FoundLaw with(std::size_t branches, const FoundLaw* smaller) {
    FoundLaw found{make_problem(prepared_, branches), {}, {}};
    std::vector<Eigen::VectorXd> starts = grid_.starts(found.problem, static_cast<std::size_t>(options_.starts));
    if (smaller != nullptr)
      starts.push_back(grid_.grown(found.problem, smaller->problem.layout, smaller->minimum.parameters));
    bool any = false;
    for (const Eigen::VectorXd& start : starts) {
      if (observer_ != nullptr && !observer_->progress(share(branches), "fitting")) throw Interrupted();
      centre_activation(found.problem, start);
      const FitMinimum minimum = minimise(found.problem, start, first_steps);
      if (!std::isfinite(minimum.cost)) continue;
      found.others.push_back(
          {sorted_branches(found.problem, minimum.parameters, prepared_.two_temperatures), minimum.cost});
      if (any && minimum.cost >= found.minimum.cost) continue;
      found.minimum = minimum;
      any = true;
    }
    if (!any)
      throw SolverError("no starting point of the fit leads to a film law",
                        "check the curves: units, thickness, sign of the force");
    polish(found, better_steps);
    return found;
  }

  void polish(FoundLaw& found, int steps) const {
    const bool warm = prepared_.two_temperatures;
    found.minimum.parameters = sorted_branches(found.problem, found.minimum.parameters, warm);
    centre_activation(found.problem, found.minimum.parameters);
    found.minimum = minimise(found.problem, found.minimum.parameters, steps);
    found.minimum.parameters = sorted_branches(found.problem, found.minimum.parameters, warm);
  }

 private:
  [[nodiscard]] static double share(std::size_t branches) {
    return 0.8 * static_cast<double>(branches) / static_cast<double>(most_branches_tried);
  }

  const PreparedCurves& prepared_;
  const FitOptions& options_;
  Observer* observer_;
  FitGrid grid_;
};

double mean_square(const FoundLaw& found) {
  const Eigen::VectorXd residuals = found.problem.relative_residuals(found.minimum.parameters);
  return residuals.squaredNorm() / static_cast<double>(residuals.size());
}

/// Correlation of neighbouring weighted residuals within the curves; 0 when chance explains it.
double neighbour_correlation(const std::vector<FitPath>& paths, const Eigen::VectorXd& weighted) {
  double product = 0.0;
  Eigen::Index row = 0;
  for (const FitPath& path : paths)
    for (std::size_t i = 0; i < path.readings.size(); ++i, ++row)
      if (i > 0) product += weighted[row] * weighted[row - 1];
  const double square = weighted.squaredNorm();
  const double rho = square > 0.0 ? product / square : 0.0;
  const double chance = 2.0 / std::sqrt(std::max(static_cast<double>(weighted.size()), 1.0));
  return rho > chance ? std::min(rho, 0.98) : 0.0;
}

FitChoice judge(const FoundLaw& found) {
  Eigen::VectorXd weighted;
  found.problem.residuals(found.minimum.parameters, weighted);
  const double square = weighted.squaredNorm() / static_cast<double>(weighted.size());
  const double rho = neighbour_correlation(*found.problem.paths, weighted);
  return {found.problem.layout.branches, 0.0, square, rho, std::sqrt(mean_square(found))};
}

/// The models are compared with one number of independent readings: that of the model with the whitest residuals.
std::size_t least_bic(std::vector<FitChoice>& choices, const std::vector<FoundLaw>& found) {
  double rho = most_correlation;  // a law that meets no curve well still improves with branches
  for (const FitChoice& choice : choices) rho = std::min(rho, choice.correlation);
  const double count = static_cast<double>(found.front().problem.readings()) * (1.0 - rho) / (1.0 + rho);
  std::size_t least = 0;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const auto& free = found[i].problem.free;
    const auto parameters = static_cast<double>(std::count(free.begin(), free.end(), true));
    choices[i].bic = count * std::log(choices[i].square) + parameters * std::log(count);
    if (choices[i].bic < choices[least].bic) least = i;
  }
  return least;
}

void check_enough(const PreparedCurves& prepared, std::size_t branches) {
  const std::size_t needed = 3 + 3 * branches + 3;
  if (prepared.readings >= needed) return;
  throw InputError("film fit: " + std::to_string(prepared.readings) +
                   " points are too few for this parameter set; expected " + std::to_string(needed) + " or more for " +
                   std::to_string(branches) + (branches == 1 ? " branch" : " branches") +
                   "; `hoopfield film from-datasheet` makes a film from a few numbers");
}

}  // namespace

void settle_misfit(FoundLaw& found) {
  for (int i = 0; i < 3; ++i) {
    double scatter = 0.0, count = 0.0;
    for (const FitPath& path : *found.problem.paths)
      for (const FitReading& reading : path.readings) scatter += path.noise * path.noise / reading.count, count += 1.0;
    const double freedom = std::max(0.5, 1.0 - static_cast<double>(3 + 3 * found.problem.layout.branches) / count);
    found.problem.misfit =
        std::sqrt(std::max(least_misfit * least_misfit, mean_square(found) / freedom - scatter / count));
    found.minimum = minimise(found.problem, found.minimum.parameters, settle_steps);
  }
}

PreparedCurves prepare_curves(const std::vector<LabCurve>& curves, const FilmDescription& base,
                              std::vector<std::string>& warnings) {
  if (curves.empty()) throw InputError("film fit: no curves; expected at least one CSV file");
  PreparedCurves prepared;
  std::map<double, std::size_t> count;
  bool assumed = false;
  for (const LabCurve& curve : curves) {
    prepared.paths.push_back(make_fit_path(curve));
    FitPath& path = prepared.paths.back();
    if (!curve.temperature_given) {
      path.temperature = base.reference_temperature;
      assumed = true;
    }
    for (const std::string& warning : curve.warnings) warnings.push_back(curve.name + ": " + warning);
    count[path.temperature] += path.readings.size();
    prepared.readings += path.readings.size();
    for (const FitStep& step : path.steps)
      prepared.greatest_invariant = std::max(prepared.greatest_invariant, path.mode.invariant(step.stretch) - 3.0);
  }
  if (assumed)
    warnings.push_back("some curves give no temperature: " + fixed(base.reference_temperature - 273.15, 0) +
                       " degC was assumed (a line \"# temperature: 23 degC\" states it)");
  prepared.reference_temperature = std::max_element(count.begin(), count.end(), [](const auto& a, const auto& b) {
                                     return a.second < b.second;
                                   })->first;
  prepared.two_temperatures = count.rbegin()->first - count.begin()->first > same_temperature;
  return prepared;
}

double neighbour_correlation(const FoundLaw& found) {
  Eigen::VectorXd weighted;
  found.problem.residuals(found.minimum.parameters, weighted);
  return neighbour_correlation(*found.problem.paths, weighted);
}

std::vector<Eigen::VectorXd> as_good(const FoundLaw& found, const FitMinimum& best, double widening) {
  std::vector<Eigen::VectorXd> list;
  const double reading = best.cost / static_cast<double>(found.problem.readings());
  for (const FitMinimum& other : found.others)
    if (other.cost - best.cost <= 4.0 * widening * reading) list.push_back(other.parameters);
  return list;
}

FoundLaw search_law(const PreparedCurves& prepared, const FitOptions& options, std::vector<FitChoice>& choices,
                    Observer* observer) {
  const std::size_t last = options.branches.value_or(most_branches_tried);
  check_enough(prepared, options.branches.value_or(1));
  Search search(prepared, options, observer);
  std::vector<FoundLaw> tried;
  std::size_t chosen = 0;
  for (std::size_t branches = 1; branches <= last; ++branches) {
    const bool helped = branches <= 3 || branches <= choices[chosen].branches + 2;
    if (branches > 1 && !options.branches && (prepared.readings < 6 + 3 * branches || !helped)) break;
    tried.push_back(search.with(branches, tried.empty() ? nullptr : &tried.back()));
    choices.push_back(judge(tried.back()));
    chosen = least_bic(choices, tried);
  }
  if (options.branches) {
    chosen = tried.size() - 1;
    choices.erase(choices.begin(), choices.end() - 1);
  }
  search.polish(tried[chosen], polish_steps);
  return std::move(tried[chosen]);
}

}  // namespace hoopfield::detail
