// SPDX-License-Identifier: BSD-3-Clause
#include "sim/calibrate/next_reading.hpp"

#include "sim/inputs/resolved_scenario.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace calibrate_detail {
namespace {

/// What is asked for: the first target, else the hoop tension after storage at the bottom.
std::pair<std::string, Reading> asked(const Scenario& s) {
  const auto heights = ResolvedScenario(s).station_heights();
  std::size_t station = 2;
  bool hoop = true, at_end = false;
  if (s.target) {
    const std::optional<double> wanted[] = {s.target->top, s.target->middle, s.target->bottom};
    station = static_cast<std::size_t>(
        std::find_if(std::begin(wanted), std::end(wanted), [](const auto& w) { return w.has_value(); }) - wanted);
    station = std::min<std::size_t>(station, 2);
    hoop = s.target->quantity != TargetQuantity::pull_force;
    at_end = s.target->at == TargetTime::end;
  }
  Reading reading;
  reading.quantity = hoop ? "band_tension" : "pull_force";
  reading.height = heights[station];
  reading.time = at_end ? 0.0 : s.storage.duration;
  reading.value = 1.0;
  return {std::string("containment.") + (at_end ? "end." : "after_storage.") + station_names[station] +
              (hoop ? ".hoop_tension" : ".pull_force"),
          reading};
}

double variance(const ObservedReading& candidate, double load_scatter) {
  const ReadingQuantity& q = *candidate.place.quantity;
  const auto square = [](double x) { return x * x; };
  double sum = square(candidate.deviation) + square(q.common_error / normal_95);
  if (q.is_of_wrap) sum += square(model_error / normal_95) + square(load_scatter);
  return sum;
}

/// Deviation of `g z` after a candidate is read over that before.
double left_after(const Outlook& outlook, std::size_t candidate, const Eigen::MatrixXd& covariance, double load_scatter,
                  const Eigen::VectorXd& g) {
  const Eigen::VectorXd a = outlook.at.slopes.row(static_cast<Eigen::Index>(candidate)).transpose();
  const double whole = g.dot(covariance * g), cross = g.dot(covariance * a);
  const double own = a.dot(covariance * a) + variance(outlook.candidates[candidate], load_scatter);
  return whole > 0.0 ? std::sqrt(std::max(0.0, 1.0 - cross * cross / (own * whole))) : 1.0;
}

}  // namespace

std::vector<Reading> readable_on(const Scenario& s) {
  const auto heights = ResolvedScenario(s).station_heights();
  std::vector<Reading> list;
  const auto add = [&](const ReadingQuantity& q, std::optional<double> height, double time) {
    Reading reading;
    reading.quantity = q.name;
    reading.height = height;
    reading.time = time;
    reading.value = 1.0;
    reading.load_id = "next";
    list.push_back(std::move(reading));
  };
  for (const ReadingQuantity& q : reading_quantities()) {
    if (q.name == "turns" || q.name == "girth_before") continue;
    const bool closing = q.name == "closing_along_length" || q.name == "closing_along_width" || q.name == "girth_after";
    if (q.is_of_wrap) {
      for (const double height : heights)
        for (const double time : {usual_reading_time, std::max(s.storage.duration, usual_reading_time)})
          add(q, height, time);
    } else {
      add(q, closing ? std::optional<double>(heights[1]) : std::nullopt, usual_reading_time);
    }
  }
  return list;
}

Outlook outlook(const Scenario& scenario, const UnknownSpace& space, const Eigen::VectorXd& z, Observer* observer) {
  Outlook out;
  std::vector<Reading> list = readable_on(scenario);
  auto [measure, reading] = asked(scenario);
  list.push_back(std::move(reading));
  out.measure = std::move(measure);
  out.candidates = reading_errors(scenario, list).readings;
  std::vector<ReadingPlace> places;
  for (const ObservedReading& candidate : out.candidates) places.push_back(candidate.place);
  FilmPathCache cache;
  out.at = linearised(
      z, true, out.candidates,
      [&](const Eigen::VectorXd& at) { return predicted_readings(space.at(at), places, &cache); }, observer);
  return out;
}

std::vector<NextReading> ranked_readings(const Outlook& outlook, const Eigen::MatrixXd& covariance,
                                         double load_scatter) {
  std::vector<NextReading> next;
  const std::size_t last = outlook.candidates.size() - 1;
  const Eigen::VectorXd g = outlook.at.slopes.row(static_cast<Eigen::Index>(last)).transpose();
  for (std::size_t j = 0; j < last; ++j) {
    NextReading reading;
    reading.place = outlook.candidates[j].place;
    reading.share = left_after(outlook, j, covariance, load_scatter, g);
    reading.per_minute = (1.0 - reading.share) / reading.place.quantity->minutes;
    next.push_back(reading);
  }
  std::stable_sort(next.begin(), next.end(),
                   [](const NextReading& a, const NextReading& b) { return a.share < b.share; });
  return next;
}

std::pair<std::string, double> best_for(const Outlook& outlook, const Eigen::MatrixXd& covariance, double load_scatter,
                                        std::size_t unknown) {
  const Eigen::VectorXd itself = Eigen::VectorXd::Unit(covariance.rows(), static_cast<Eigen::Index>(unknown));
  std::string best;
  double least = 1.0;
  for (std::size_t j = 0; j + 1 < outlook.candidates.size(); ++j) {
    const double left = left_after(outlook, j, covariance, load_scatter, itself);
    if (left < least) least = left, best = outlook.candidates[j].place.quantity->name;
  }
  return {best, least};
}

}  // namespace calibrate_detail

std::vector<NextReading> next_readings(const Scenario& scenario, Observer* observer) {
  const UnknownSpace space(scenario, {}, {});
  const auto n = static_cast<Eigen::Index>(space.size());
  const calibrate_detail::Outlook seen = calibrate_detail::outlook(scenario, space, Eigen::VectorXd::Zero(n), observer);
  return calibrate_detail::ranked_readings(seen, Eigen::MatrixXd::Identity(n, n), load_scatter_prior);
}

}  // namespace hoopfield
