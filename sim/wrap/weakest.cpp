// SPDX-License-Identifier: BSD-3-Clause
#include "sim/wrap/weakest.hpp"

#include "sim/stations/band_film.hpp"
#include "sim/stations/least_band.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>
#include <utility>

namespace hoopfield {
namespace {

class WeakestSearch {
 public:
  WeakestSearch(const ResolvedScenario& scenario, const WeakestInput& known)
      : scenario_(scenario), known_(known), input_(*known.input), built_(*known.built) {}

  [[nodiscard]] StationResult station(std::size_t which) const {
    const std::vector<double>& times = input_.output_times;
    const StationResult &first = known_.end->stations[which], &last = known_.after_storage->stations[which];
    StationResult least = last.hoop_tension < first.hoop_tension ? last : first;
    if (times.size() < 2) return least;
    if (!built_.stored.slices.empty()) {
      const StationMoment jump = moment(built_.stored, input_.history.in_storage(0.0));
      if (mean_tension(jump, least.height) < least.hoop_tension) least = station_at(scenario_, jump, which);
    }
    // Output times are told apart by what slices keep: film edges within a slice shift all of them alike.
    const double slices_over_band = first.hoop_tension > 0.0 ? kept_tension(0, least.height) / first.hoop_tension : 1.0;
    std::size_t at = least.time > 0.0 ? times.size() - 1 : 0;
    double tension = least.hoop_tension * slices_over_band;
    for (std::size_t i = 1; i + 1 < times.size(); ++i)
      if (const double here = kept_tension(i, least.height); here < tension) tension = here, at = i;
    const bool inside = at + 1 < times.size() && (at > 0 || least.hoop_tension < first.hoop_tension);
    return inside ? refined(which, at, least) : least;
  }

  /// Least over heights, faces and output times.
  void least_of_all(ContainmentResult& result) const {
    const ContainmentResult &end = *known_.end, &after = *known_.after_storage;
    const ContainmentResult& first = after.least_hoop_tension < end.least_hoop_tension ? after : end;
    LeastBand least{first.least_hoop_tension, first.least_height, first.least_face};
    const double band = scenario_.inputs.stations.band_height;
    if (!built_.stored.slices.empty()) {
      const LeastBand jump = LeastBandSearch(with_film(built_.stored.slices), band).least();
      if (jump.hoop_tension < least.hoop_tension) least = jump;
    }
    if (input_.output_times.size() > 2) least = least_between(least, band);
    result.least_hoop_tension = least.hoop_tension;
    result.least_height = least.height;
    result.least_face = least.face;
  }

 private:
  /// Film alone, for readings that ask for nothing else.
  [[nodiscard]] StationMoment with_film(const std::vector<LoadStack::Slice>& slices) const {
    StationMoment m;
    m.setup = &input_.setup, m.slices = &slices, m.film_layers = &built_.film_layers;
    m.film_edges = known_.film_edges, m.patches = &input_.patches;
    return m;
  }
  [[nodiscard]] StationMoment moment(const StackMoment& at, double temperature) const {
    StationMoment m = with_film(at.slices);
    m.path_factor = at.path_factor, m.time = at.time, m.temperature = temperature;
    return m;
  }

  /// Least of the output times within storage, of which the tensions of the slices are kept. How much of its slice's
  /// tension film holds is taken from both ends of storage, between which it lies, and the larger counts: so a time is
  /// not found weaker than both ends for that alone.
  [[nodiscard]] LeastBand least_between(LeastBand least, double band) const {
    std::optional<LeastBandSearch> first, last;
    std::vector<double> tension(input_.slice_count);
    for (std::size_t i = 1; i + 1 < input_.output_times.size(); ++i) {
      if (holds_what_is_left(i)) continue;
      if (!last) {
        first.emplace(with_film(built_.at_end), band);
        last.emplace(with_film(built_.after_storage), band);
      }
      for (std::size_t f = 0; f < face_count; ++f) {
        for (std::size_t s = 0; s < tension.size(); ++s) tension[s] = built_.hoop_tension.at(i, f, s);
        const auto late = last->below(least.hoop_tension, f, tension);
        const auto early = late ? first->below(least.hoop_tension, f, tension) : std::nullopt;
        if (early) least = early->hoop_tension > late->hoop_tension ? *early : *late;
      }
    }
    return least;
  }

  /// Whether no slice holds less at an output time than after storage.
  [[nodiscard]] bool holds_what_is_left(std::size_t time) const {
    const std::size_t last = input_.output_times.size() - 1;
    for (std::size_t f = 0; f < face_count; ++f)
      for (std::size_t s = 0; s < input_.slice_count; ++s)
        if (built_.hoop_tension.at(time, f, s) < built_.hoop_tension.at(last, f, s)) return false;
    return true;
  }

  [[nodiscard]] double mean_tension(const StationMoment& m, double height) const {
    return band_tension(m, height, scenario_.inputs.stations.band_height).mean_of_faces();
  }
  [[nodiscard]] double kept_tension(std::size_t time, double height) const {
    double mean = 0.0;
    std::vector<double> values(input_.slice_count);
    for (std::size_t f = 0; f < face_count; ++f) {
      for (std::size_t s = 0; s < values.size(); ++s) values[s] = built_.hoop_tension.at(time, f, s);
      mean += band_mean(values, input_.setup.slice_height, height, scenario_.inputs.stations.band_height) /
              static_cast<double>(face_count);
    }
    return mean;
  }

  /// The last slices kept before a time; null when the end of wrapping is all there is.
  [[nodiscard]] const StackMoment* kept_before(double time) const {
    const StackMoment* kept = built_.stored.slices.empty() ? nullptr : &built_.stored;
    for (const StackMoment& other : built_.kept)
      if (other.time <= time) kept = &other;
    return kept;
  }

  /// Parts of the intervals on both sides of an output time, s.
  [[nodiscard]] std::vector<double> parts_round(std::size_t at) const {
    const std::vector<double>& times = input_.output_times;
    std::vector<double> parts;
    for (std::size_t i = std::max<std::size_t>(at, 1) - 1; i < std::min(at + 1, times.size() - 1); ++i)
      for (int part = 1; part <= weakest_parts; ++part)
        parts.push_back(part == weakest_parts ? times[i + 1]
                                              : times[i] + (times[i + 1] - times[i]) * part / weakest_parts);
    return parts;
  }

  /// The slices that reach into [low, high], stored from `start` on and kept at `times`.
  [[nodiscard]] std::vector<StackMoment> stored_again(const StackMoment& start, std::vector<double> times, double low,
                                                      double high) const {
    BuildUpInput again = input_;
    again.resume_at = &start;
    again.output_times = again.keep_at = std::move(times);
    const double height = input_.setup.slice_height, most = static_cast<double>(input_.slice_count) - 1.0;
    constexpr double touch = 1e-9;  // of a slice
    again.first_slice = static_cast<std::size_t>(std::clamp(std::floor(low / height - touch), 0.0, most));
    again.last_slice = 1 + static_cast<std::size_t>(std::clamp(std::floor(high / height + touch), 0.0, most));
    if (input_.keep_going) again.keep_going = [this](double) { return input_.keep_going(1.0); };
    again.work_before = input_.work_before + known_.counters->work();
    BuildUpResult stored = build_up(again);
    *known_.counters += stored.counters;
    return std::move(stored.kept);
  }

  /// Time at which the slice at a height holds least within the intervals on both sides of an output time.
  [[nodiscard]] double least_time(const StackMoment& start, std::size_t at, double height) const {
    const double middle = height + 1e-6 * input_.setup.slice_height;  // one slice, also where two meet
    const auto slice = static_cast<std::size_t>(
        std::clamp(middle / input_.setup.slice_height, 0.0, static_cast<double>(input_.slice_count) - 1.0));
    double least = std::numeric_limits<double>::infinity(), time = input_.output_times[at];
    for (const StackMoment& kept : stored_again(start, parts_round(at), middle, middle)) {
      const auto& tension = kept.slices[slice].tension;
      const double sum = std::accumulate(tension.begin(), tension.end(), 0.0);
      if (sum < least) least = sum, time = kept.time;
    }
    return time;
  }

  /// The station where it is least round an output time, or `bound` when that is no less.
  [[nodiscard]] StationResult refined(std::size_t which, std::size_t at, const StationResult& bound) const {
    const StackMoment* const before = kept_before(input_.output_times[std::max<std::size_t>(at, 1) - 1]);
    StackMoment wrapped;
    if (before == nullptr) wrapped = {0.0, built_.path_factor_end, built_.at_end};
    const StackMoment& start = before != nullptr ? *before : wrapped;
    const double time = least_time(start, at, bound.height);
    std::vector<StackMoment> again;
    const auto known = std::find_if(built_.kept.begin(), built_.kept.end(),
                                    [time](const StackMoment& kept) { return kept.time == time; });
    if (known == built_.kept.end()) {
      const auto [low, high] = station_reach(scenario_, which);
      again = stored_again(start, {time}, low, high);
    }
    const StationMoment there = moment(again.empty() ? *known : again.front(), input_.history.at(time));
    return mean_tension(there, bound.height) < bound.hoop_tension ? station_at(scenario_, there, which) : bound;
  }

  const ResolvedScenario& scenario_;
  const WeakestInput& known_;
  const BuildUpInput& input_;
  const BuildUpResult& built_;
};

}  // namespace

ContainmentResult weakest_containment(const ResolvedScenario& scenario, const WeakestInput& known) {
  const WeakestSearch search(scenario, known);
  ContainmentResult result;
  for (std::size_t i = 0; i < result.stations.size(); ++i) result.stations[i] = search.station(i);
  search.least_of_all(result);
  return result;
}

}  // namespace hoopfield
