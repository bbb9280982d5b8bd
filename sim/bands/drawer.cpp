// SPDX-License-Identifier: BSD-3-Clause
#include "sim/bands/detail/drawer.hpp"
#include "models/error.hpp"
#include "sim/outputs/economics.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/wrap/predict.hpp"

#include <algorithm>
#include <limits>

namespace hoopfield::bands_detail {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

/// Amounts of the economic chain that a band is drawn of.
constexpr const char* cost_names[] = {"cost.per_load",   "cost.year.film_mass", "cost.year.rolls",
                                      "cost.year.total", "cost.year.co2e_low",  "cost.year.co2e_high"};

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
    list.insert(list.end(), std::begin(cost_names), std::end(cost_names));
    return list;
  }();
  return names;
}

std::vector<double> drawn_numbers(const Scenario& s, const Result& r) {
  std::vector<double> numbers = summary_numbers(r);
  const std::size_t first = numbers.size();
  numbers.resize(first + std::size(cost_names), nan);
  if (!economics_asked(s.film, s.cost)) return numbers;
  visit_outputs(economics(s, r), [&](const OutputValue& output) {
    for (std::size_t i = 0; i < std::size(cost_names); ++i)
      if (output.declaration->key == cost_names[i] && !output.numbers.empty())
        numbers[first + i] = output.numbers.front();
  });
  return numbers;
}

Drawer::Drawer(const Scenario& scenario, const BandOptions& options, std::size_t points, std::size_t sets)
    : scenario_(scenario),
      film_block_(options.film_block),
      set_size_(dimension_count(options.film_blocks)),
      points_(points, sets * set_size_, options.seed) {
  for (Unknown& u : unknown_inputs(scenario))
    if (!is_held(options, u.key)) unknowns_.push_back(std::move(u));
  if (film_is_unknown(scenario) && !is_held(options, "film.file")) film_.emplace(scenario.film_description);
}

std::string Drawer::group_key(std::size_t group) const {
  return group < unknowns_.size() ? unknowns_[group].key : std::string("film.file");
}

std::vector<double> Drawer::normals(std::size_t point, std::size_t set) const {
  std::vector<double> z;
  for (const Unknown& u : unknowns_)
    z.push_back(points_.normal(point, set * set_size_ + dimension_of(u.key, film_block_)));
  for (std::size_t i = 0; i < film_size(); ++i)
    z.push_back(points_.normal(point, set * set_size_ + film_dimension(i, film_block_)));
  return z;
}

std::pair<std::size_t, std::size_t> Drawer::place(std::size_t group) const {
  if (group < unknowns_.size()) return {group, group + 1};
  return {unknowns_.size(), unknowns_.size() + film_size()};
}

Draw Drawer::draw(const std::vector<double>& normals, Observer* observer) const {
  Draw d;
  for (std::size_t i = 0; i < unknowns_.size(); ++i) d.inputs.push_back(value_at(unknowns_[i], normals[i]));
  try {
    Scenario moved = scenario_;
    if (film_)
      moved.film_description =
          film_->at({normals.begin() + static_cast<std::ptrdiff_t>(unknowns_.size()), normals.end()});
    set_unknowns(moved, unknowns_, d.inputs);
    d.numbers = drawn_numbers(moved, predict(moved, observer));
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
