// SPDX-License-Identifier: BSD-3-Clause
// Why a candidate differs from the present wrap: one factor at a time, in both orders.
#include "models/error.hpp"
#include "sim/base/parallel.hpp"
#include "sim/compare/detail.hpp"
#include "sim/compare/exchange.hpp"
#include "sim/inputs/inputs.hpp"

#include <algorithm>
#include <memory>

namespace hoopfield::compare_detail {

namespace {

struct ActingFactor {
  const Factor* factor;
  std::vector<std::string> keys;
};

std::vector<ActingFactor> acting_factors(const Scenario& present, const Scenario& candidate) {
  const std::vector<std::string> differing = differing_keys(present, candidate);
  std::vector<ActingFactor> acting;
  for (const Factor& factor : factors()) {
    ActingFactor one{&factor, {}};
    std::copy_if(differing.begin(), differing.end(), std::back_inserter(one.keys),
                 [&](const std::string& key) { return factor.owns(key); });
    if (!one.keys.empty()) acting.push_back(std::move(one));
  }
  return acting;
}

/// One step between the present wrap and a candidate: some factors moved already.
struct Step {
  std::size_t difference = 0;
  bool reverse = false;
  std::size_t moved = 0;  ///< number of factors moved
  std::vector<double> values;
  std::string message;
};

/// The present wrap with factors first .. last - 1 of the candidate.
Scenario mixed(const Scenario& present, const Scenario& candidate, const std::vector<ActingFactor>& acting,
               std::size_t first, std::size_t last) {
  Scenario s = present;
  for (std::size_t i = first; i < last; ++i) copy_inputs(candidate, s, acting[i].factor->owns);
  resolve_scenario(s);
  return s;
}

std::vector<double> explained_values(const ComparedSide& side, const std::vector<std::string>& names) {
  std::vector<double> values;
  for (const std::string& name : names) values.push_back(compare_value(side, name).value_or(0.0));
  return values;
}

/// Differences of neighbours on the way from the present wrap to the candidate.
void fill_shares(Difference& d, bool reverse, const std::vector<std::vector<double>>& way) {
  const std::size_t count = d.factors.size();
  for (std::size_t i = 0; i < count; ++i) {
    FactorShare& share = d.factors[reverse ? count - 1 - i : i];
    std::vector<double>& values = reverse ? share.reverse : share.forward;
    for (std::size_t q = 0; q < way[i].size(); ++q) values.push_back(way[i + 1][q] - way[i][q]);
  }
}

class Explainer {
 public:
  Explainer(Comparison& comparison, FilmPathCache& cache) : comparison_(comparison), cache_(cache) {}

  void run(Observer* observer, double from, double to) {
    plan();
    run_parallel(steps_.size(), observer, from, to, "one factor at a time",
                 [this](std::size_t i, Observer* watch) { take(steps_[i], watch); });
    for (std::size_t i = 0; i < comparison_.differences.size(); ++i)
      for (const bool reverse : {false, true}) finish(i, reverse);
  }

 private:
  [[nodiscard]] const ComparedSide& present() const { return comparison_.sides.front(); }

  void plan() {
    for (std::size_t c = 1; c < comparison_.sides.size(); ++c) {
      const ComparedSide& candidate = comparison_.sides[c];
      if (!candidate.result) continue;
      std::vector<ActingFactor> acting = acting_factors(*present().scenario, *candidate.scenario);
      if (acting.empty()) continue;
      Difference d;
      d.candidate = c;
      const auto before = explained_values(present(), comparison_.explained);
      const auto after = explained_values(candidate, comparison_.explained);
      for (std::size_t q = 0; q < before.size(); ++q) d.total.push_back(after[q] - before[q]);
      for (const ActingFactor& one : acting) d.factors.push_back({one.factor->name, one.keys, {}, {}});
      for (const bool reverse : {false, true})
        for (std::size_t moved = 1; moved < acting.size(); ++moved)
          steps_.push_back({comparison_.differences.size(), reverse, moved, {}, {}});
      comparison_.differences.push_back(std::move(d));
      acting_.push_back(std::move(acting));
    }
  }

  void take(Step& step, Observer* observer) {
    const Difference& d = comparison_.differences[step.difference];
    const std::vector<ActingFactor>& acting = acting_[step.difference];
    const std::size_t first = step.reverse ? acting.size() - step.moved : 0;
    const std::size_t last = step.reverse ? acting.size() : step.moved;
    try {
      ComparedSide between;
      between.result = predict(
          mixed(*present().scenario, *comparison_.sides[d.candidate].scenario, acting, first, last), observer, &cache_);
      step.values = explained_values(between, comparison_.explained);
    } catch (const Error& error) {
      for (std::size_t i = first; i < last; ++i)
        step.message += std::string(step.message.empty() ? "with the candidate's " : " and ") + acting[i].factor->name;
      step.message += std::string(": ") + error.what();
    }
  }

  void finish(std::size_t index, bool reverse) {
    Difference& d = comparison_.differences[index];
    std::vector<std::vector<double>> way = {explained_values(present(), comparison_.explained)};
    for (const Step& step : steps_) {
      if (step.difference != index || step.reverse != reverse) continue;
      if (!step.message.empty()) {
        (reverse ? d.reverse_message : d.forward_message) = step.message;
        return;
      }
      way.push_back(step.values);
    }
    way.push_back(explained_values(comparison_.sides[d.candidate], comparison_.explained));
    fill_shares(d, reverse, way);
  }

  Comparison& comparison_;
  FilmPathCache& cache_;
  std::vector<Step> steps_;
  std::vector<std::vector<ActingFactor>> acting_;
};

}  // namespace

void explain_differences(Comparison& comparison, Observer* observer, double from, double to, FilmPathCache& cache) {
  for (const char* moment : {"end", "after_storage"})
    for (const char* station : {"top", "middle", "bottom", "least_station"})
      comparison.explained.push_back(std::string("containment.") + moment + "." + station + ".hoop_tension");
  comparison.explained.emplace_back("film.mass");
  if (comparison.sides.front().result) Explainer(comparison, cache).run(observer, from, to);
}

}  // namespace hoopfield::compare_detail
