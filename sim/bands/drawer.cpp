// SPDX-License-Identifier: BSD-3-Clause
#include "sim/bands/detail/drawer.hpp"
#include "models/error.hpp"
#include "sim/inputs/correlation.hpp"
#include "sim/outputs/economics.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/transit/answer.hpp"
#include "sim/transit/transit_numbers.hpp"
#include "sim/transit/transit_target.hpp"
#include "sim/wrap/predict.hpp"

#include <algorithm>
#include <limits>
#include <utility>

namespace hoopfield::bands_detail {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

void fail(Draw& d, DrawStatus status, const Error& error) {
  d.status = status;
  d.message = error.what();
}

bool is_held(const BandOptions& options, const std::string& key) {
  return std::find(options.held.begin(), options.held.end(), key) != options.held.end();
}

}  // namespace

const std::vector<std::string>& drawn_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> list(summary_outputs().size());
    for (const SummaryOutput& output : summary_outputs()) list[output.place] = output.name;
    list.insert(list.end(), drawn_amount_names().begin(), drawn_amount_names().end());
    return list;
  }();
  return names;
}

std::vector<std::string> drawn_transit_names(const Scenario& scenario) {
  std::vector<std::string> names;
  if (!missing_for_transit(scenario).empty()) return names;
  for (std::size_t d = 0; d < load_direction_names.size(); ++d)
    for (std::size_t leaf = 0; leaf < transit_leaves().size(); ++leaf)
      names.push_back(transit_name(weakest_moment, d, leaf));
  const std::size_t moment = transit_target_moment(scenario), margin = transit_leaves().size() - 1;
  if (moment != weakest_moment)
    for (std::size_t d = 0; d < load_direction_names.size(); ++d) names.push_back(transit_name(moment, d, margin));
  return names;
}

namespace {

/// Under drawn_transit_names(). A margin that is the target's also counts its pulses.
std::vector<double> drawn_in_transit(const Scenario& s, const Result& r) {
  const std::vector<std::string> names = drawn_transit_names(s);
  std::vector<double> numbers = weakest_transit_numbers(s, r);
  numbers.resize(names.size(), nan);
  for (const TargetResult& target : r.targets) {
    const auto found = std::find(names.begin(), names.end(), drawn_name_of(target));
    if (found != names.end()) numbers[static_cast<std::size_t>(found - names.begin())] = target.predicted;
  }
  return numbers;
}

}  // namespace

std::vector<double> drawn_numbers(const Scenario& s, const Result& r) {
  std::vector<double> numbers = summary_numbers(r);
  std::vector<double> amounts(drawn_amount_names().size(), nan);
  if (economics_asked(s.film, s.cost)) amounts = drawn_amounts(economics(s, r));
  numbers.insert(numbers.end(), amounts.begin(), amounts.end());
  const std::vector<double> in_transit = drawn_in_transit(s, r);
  numbers.insert(numbers.end(), in_transit.begin(), in_transit.end());
  return numbers;
}

Drawer::Drawer(const Scenario& scenario, const BandOptions& options, std::size_t points, std::size_t sets)
    : scenario_(scenario),
      set_size_(dimension_count(1)),
      points_(std::make_shared<const DrawPoints>(points, sets * set_size_, options.seed)) {
  collect_unknowns(options);
}

Drawer::Drawer(const SharedSide& side, const BandOptions& options, std::shared_ptr<const DrawPoints> points)
    : scenario_(*side.scenario), film_block_(side.film_block), points_(std::move(points)) {
  collect_unknowns(options);
}

void Drawer::collect_unknowns(const BandOptions& options) {
  pulses_ = options.pulses && missing_for_transit(scenario_).empty();
  for (Unknown& u : unknown_inputs(scenario_))
    if (!is_held(options, u.key)) unknowns_.push_back(std::move(u));
  if (film_is_unknown(scenario_) && !is_held(options, "film.file")) film_.emplace(scenario_.film_description);
  if (scenario_.calibration) collect_fitted(*scenario_.calibration);
}

void Drawer::collect_fitted(const CalibrationInput& calibration) {
  std::vector<std::size_t> rows;  // of the calibration, for what is drawn here
  for (std::size_t i = 0; i < calibration.keys.size(); ++i)
    for (std::size_t k = 0; k < unknowns_.size(); ++k)
      if (unknowns_[k].key == calibration.keys[i]) fitted_.push_back(k), rows.push_back(i);
  if (film_)
    for (std::size_t i = 0; i < calibration.film_mean.size(); ++i)
      fitted_.push_back(unknowns_.size() + i), rows.push_back(calibration.keys.size() + i);
  const std::size_t all = calibration.keys.size() + calibration.film_mean.size();
  std::vector<double> correlation;
  for (const std::size_t row : rows)
    for (const std::size_t column : rows) correlation.push_back(calibration.correlation[row * all + column]);
  root_ = symmetric_root(correlation, rows.size());
}

void Drawer::correlate(std::vector<double>& normals) const {
  std::vector<double> own;
  for (const std::size_t place : fitted_) own.push_back(normals[place]);
  for (std::size_t i = 0; i < fitted_.size(); ++i) {
    normals[fitted_[i]] = 0.0;
    for (std::size_t j = 0; j < fitted_.size(); ++j) normals[fitted_[i]] += root_[i * fitted_.size() + j] * own[j];
  }
}

std::vector<std::string> Drawer::names() const {
  std::vector<std::string> list = drawn_names();
  for (std::string& name : drawn_transit_names(scenario_)) list.push_back(std::move(name));
  if (pulses_) list.insert(list.end(), pulse_names().begin(), pulse_names().end());
  return list;
}

std::string Drawer::group_key(std::size_t group) const {
  return group < unknowns_.size() ? unknowns_[group].key : std::string("film.file");
}

std::vector<double> Drawer::normals(std::size_t point, std::size_t set) const {
  std::vector<double> z;
  for (const Unknown& u : unknowns_)
    z.push_back(points_->normal(point, set * set_size_ + dimension_of(u.key, film_block_)));
  for (std::size_t i = 0; i < film_size(); ++i)
    z.push_back(points_->normal(point, set * set_size_ + film_dimension(i, film_block_)));
  correlate(z);
  return z;
}

std::pair<std::size_t, std::size_t> Drawer::place(std::size_t group) const {
  if (group < unknowns_.size()) return {group, group + 1};
  return {unknowns_.size(), unknowns_.size() + film_size()};
}

std::vector<double> Drawer::film_normals(const std::vector<double>& normals) const {
  std::vector<double> film(normals.begin() + static_cast<std::ptrdiff_t>(unknowns_.size()), normals.end());
  if (!scenario_.calibration || scenario_.calibration->film_mean.empty()) return film;
  const CalibrationInput& fitted = *scenario_.calibration;
  for (std::size_t i = 0; i < film.size(); ++i) film[i] = fitted.film_mean[i] + fitted.film_deviation[i] * film[i];
  return film;
}

Draw Drawer::draw(const std::vector<double>& normals, Observer* observer) const {
  Draw d;
  for (std::size_t i = 0; i < unknowns_.size(); ++i) d.inputs.push_back(value_at(unknowns_[i], normals[i]));
  try {
    Scenario moved = scenario_;
    if (film_) moved.film_description = film_->at(film_normals(normals));
    set_unknowns(moved, unknowns_, d.inputs);
    const Result result = predict(moved, observer);
    d.numbers = drawn_numbers(moved, result);
    const std::vector<double> pulses = pulses_ ? pulse_numbers(moved, result) : std::vector<double>{};
    d.numbers.insert(d.numbers.end(), pulses.begin(), pulses.end());
  } catch (const InputError& error) {
    fail(d, DrawStatus::left_bound, error);
  } catch (const FilmLimitError& error) {
    fail(d, DrawStatus::film_fails, error);
  } catch (const SolverError& error) {
    fail(d, DrawStatus::no_solution, error);
  }
  if (film_) d.inputs.push_back(nan);
  return d;
}

}  // namespace hoopfield::bands_detail
