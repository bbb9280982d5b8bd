// SPDX-License-Identifier: BSD-3-Clause
#include "sim/calibrate/unknown_space.hpp"

#include "models/error.hpp"
#include "models/text.hpp"
#include "sim/base/parallel.hpp"
#include "sim/wrap/plan.hpp"

#include <algorithm>

namespace hoopfield {
namespace {

constexpr double step = 0.3;  // standard normals, for differences

bool holds(const std::vector<std::string>& list, const std::string& key) {
  return std::find(list.begin(), list.end(), key) != list.end();
}

}  // namespace

UnknownSpace::UnknownSpace(const Scenario& scenario, const std::vector<std::string>& free,
                           const std::vector<std::string>& held)
    : scenario_(scenario) {
  std::vector<std::string> known;
  const auto is_free = [&](const std::string& key) { return !holds(held, key) && (free.empty() || holds(free, key)); };
  for (Unknown& u : unknown_inputs(scenario)) {
    if (acts_in_transit_only(u.key)) continue;
    known.push_back(u.key);
    if (is_free(u.key)) inputs_.push_back(std::move(u));
  }
  if (film_is_unknown(scenario)) {
    known.emplace_back("film.file");
    if (is_free("film.file")) film_.emplace(scenario.film_description);
  }
  for (const auto* list : {&free, &held})
    for (const std::string& key : *list)
      if (!holds(known, key)) {
        const std::vector<std::string_view> keys(known.begin(), known.end());
        const std::string hint = nearest_key(key, keys);
        throw InputError(key + ": is not an uncertain input of this scenario; expected a key with a range or an error" +
                             (hint.empty() ? "" : " (did you mean " + hint + "?)"),
                         {}, 0, 0, key);
      }
  turns_ = static_cast<int>(Pattern(plan_wrap(ResolvedScenario(scenario)).pattern).turns());
}

Scenario UnknownSpace::at(const Eigen::VectorXd& z) const {
  Scenario moved = scenario_;
  const auto n = inputs_.size();
  if (film_) {
    const std::vector<double> numbers(z.data() + n, z.data() + z.size());
    moved.film_description = film_->at(numbers);
  }
  std::vector<double> values;
  for (std::size_t i = 0; i < n; ++i) values.push_back(value_at(inputs_[i], z[static_cast<Eigen::Index>(i)]));
  set_unknowns(moved, inputs_, values);
  moved.pattern.turns = turns_;
  return moved;
}

LinearReadings linearised(const Eigen::VectorXd& z, bool central, const std::vector<ObservedReading>& scales,
                          const std::function<std::vector<double>(const Eigen::VectorXd&)>& values,
                          Observer* observer) {
  const auto n = static_cast<std::size_t>(z.size());
  const auto m = static_cast<Eigen::Index>(scales.size());
  const auto scaled = [&](const Eigen::VectorXd& at) {
    const std::vector<double> plain = values(at);
    Eigen::VectorXd out(m);
    for (Eigen::Index j = 0; j < m; ++j)
      out[j] = scales[static_cast<std::size_t>(j)].scaled(plain[static_cast<std::size_t>(j)]);
    return out;
  };
  const auto try_at = [&](std::size_t i, double h) {
    Eigen::VectorXd moved = z;
    moved[static_cast<Eigen::Index>(i)] += h;
    try {
      return std::optional<Eigen::VectorXd>(scaled(moved));
    } catch (const SolverError&) {
      return std::optional<Eigen::VectorXd>();
    } catch (const InputError&) {
      return std::optional<Eigen::VectorXd>();
    }
  };
  std::vector<std::optional<Eigen::VectorXd>> up(n), down(n);
  LinearReadings out;
  run_parallel(1 + (central ? 2 * n : n), observer, 0.0, 1.0, "calibrating", [&](std::size_t job, Observer*) {
    if (job == 0) {
      out.value = scaled(z);
    } else if (job <= n) {
      up[job - 1] = try_at(job - 1, step);
    } else {
      down[job - 1 - n] = try_at(job - 1 - n, -step);
    }
  });
  out.slopes = Eigen::MatrixXd::Zero(m, static_cast<Eigen::Index>(n));
  for (std::size_t i = 0; i < n; ++i) {
    const auto column = static_cast<Eigen::Index>(i);
    if (!up[i] && !down[i]) down[i] = try_at(i, -step);
    if (up[i] && down[i])
      out.slopes.col(column) = (*up[i] - *down[i]) / (2.0 * step);
    else if (up[i])
      out.slopes.col(column) = (*up[i] - out.value) / step;
    else if (down[i])
      out.slopes.col(column) = (out.value - *down[i]) / step;
  }
  return out;
}

}  // namespace hoopfield
