// SPDX-License-Identifier: BSD-3-Clause
#include "sim/buildup/build_up.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/base/observer.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <utility>

namespace hoopfield {
namespace {

enum class StopKind { lay, turn_end, output };

struct Stop {
  double time;
  StopKind kind;
  std::size_t index;
};

/// All stops in time order; at equal times film is laid before a turn ends before output is kept.
std::vector<Stop> all_stops(const BuildUpInput& input) {
  std::vector<Stop> stops;
  for (std::size_t i = 0; i < input.output_times.size(); ++i)
    stops.push_back({input.output_times[i], StopKind::output, i});
  if (input.resume_at != nullptr) return stops;
  for (std::size_t i = 0; i < input.patches.size(); ++i) stops.push_back({input.patches[i].time, StopKind::lay, i});
  for (std::size_t i = 0; i < input.turn_end_times.size(); ++i)
    stops.push_back({input.turn_end_times[i], StopKind::turn_end, i});
  std::stable_sort(stops.begin(), stops.end(),
                   [](const Stop& a, const Stop& b) { return a.time != b.time ? a.time < b.time : a.kind < b.kind; });
  return stops;
}

/// One group of slices marched through the schedule.
class March {
 public:
  March(const BuildUpInput& input, const std::vector<Stop>& stops, const std::vector<std::vector<double>>& fraction,
        std::size_t first_slice, LoadStack& stack, BuildUpResult& result)
      : input_(input),
        stops_(stops),
        fraction_(fraction),
        first_(first_slice),
        stack_(stack),
        corners_(input.setup, input.corners),
        result_(result),
        work_before_(input.work_before + result.counters.work()) {
    corners_.limit_work(input.most_work - work_before_);
  }

  void run() {
    time_ = stops_.front().time;
    if (input_.resume_at != nullptr) resume(*input_.resume_at);
    for (const Stop& stop : stops_) {
      if (stop.kind == StopKind::lay) {
        if (!touches(stop.index)) continue;
        advance_to(stop.time);
        lay(stop.index);
      } else if (stop.kind == StopKind::turn_end && stop.time > time_ && !stack_.empty()) {
        turns_ahead_.push_back(stop.index);  // met on the way to the next stop: the end of a turn cuts no step
      } else {
        advance_to(stop.time);
        stop.kind == StopKind::turn_end ? keep_turn(stop.index) : keep_output(stop.index);
      }
    }
    result_.residual = std::max(result_.residual, stack_.residual());
    result_.counters.steps += stack_.counters.steps;
    result_.counters.iterations += stack_.counters.iterations;
    result_.counters.branch_updates += stack_.counters.branch_updates;
    result_.counters.corner_slips += corners_.slips();
    result_.counters.slip_updates += static_cast<std::size_t>(corners_.work());
    result_.unsettled_slips += corners_.failures();
    for (std::size_t s = 0; s < stack_.slice_count(); ++s)
      for (std::size_t f = 0; f < face_count; ++f)
        result_.slip_tension.at(f, first_ + s) = corners_.tension_change(s, f);
  }

 private:
  /// Takes up the slices of this group as they were in storage.
  void resume(const StackMoment& from) {
    const auto begin = from.slices.begin() + static_cast<std::ptrdiff_t>(first_);
    stack_.restore({begin, begin + static_cast<std::ptrdiff_t>(stack_.slice_count())});
    time_ = from.time;
    settled_ = true;
    for (std::size_t i = 0; i < input_.patches.size(); ++i)
      if (touches(i)) laid_at_ = input_.patches[i].time;
    for (const LoadStack::Slice& slice : stack_.slices())
      for (const double tension : slice.tension) greatest_laid_ = std::max(greatest_laid_, tension);
  }

  [[nodiscard]] bool touches(std::size_t patch) const {
    const auto begin = fraction_[patch].begin() + static_cast<std::ptrdiff_t>(first_);
    return std::any_of(begin, begin + static_cast<std::ptrdiff_t>(stack_.slice_count()),
                       [](double f) { return f > 0.0; });
  }

  [[nodiscard]] double factor_at(double temperature) const {
    return path_factor(input_.load_expansion, input_.film_expansion, temperature - input_.history.at(0.0),
                       settled_ ? input_.settling : 0.0);
  }

  [[nodiscard]] Surroundings surroundings(double from, double to) const {
    const double middle = input_.history.at(0.5 * (from + to));
    const double end = input_.history.at(to);
    return {middle, end, factor_at(middle), factor_at(end)};
  }

  void lay(std::size_t index) {
    const LaidPatch& p = input_.patches[index];
    for (std::size_t s = 0; s < stack_.slice_count(); ++s) {
      const double share = fraction_[index][first_ + s];
      if (share > 0.0) stack_.lay(s, p.patch.face, p.state, share * p.section_per_width, index);
    }
    const double temperature = input_.history.at(time_);
    stack_.settle(temperature, factor_at(temperature));
    for (std::size_t s = 0; s < stack_.slice_count(); ++s)
      greatest_laid_ = std::max(greatest_laid_, stack_.hoop_tension(s, p.patch.face));
    recheck_corners();
    laid_at_ = time_;
  }

  /// Film that slips at every touch, or steps cut ever shorter, end here instead of going on for hours.
  void require_progress() const {
    if (work_before_ + stack_.counters.work() + corners_.work() <= input_.most_work) return;
    throw SolverError("winding, build-up and storage take more than " + short_number(input_.most_work) +
                          " updates of the film law, a hundred times the work of a usual wrap",
                      "allow a larger numerics.tolerance; film that nearly loses its force and slips round corners is "
                      "slowest: more force, or friction.film_on_film = \"stuck\"",
                      time_, 0, (static_cast<double>(first_) + 0.5) * input_.setup.slice_height);
  }

  /// Film slips where laying, closing, creep or storage has moved the faces further apart than corner friction holds.
  /// Returns the share of tension moved.
  double recheck_corners() {
    if (corners_.holds(stack_)) return 0.0;
    const double temperature = input_.history.at(time_);
    const double moved = corners_.slip(stack_, temperature, factor_at(temperature));
    require_progress();
    return moved;
  }

  /// Greatest difference of the strand tension sums to those given, relative to the greatest sum of the group (or next
  /// to nothing of what was once laid: film may have slipped until all of it is slack).
  [[nodiscard]] double difference_to(const std::vector<std::array<double, face_count>>& tension) const {
    double worst = 0.0, scale = 1e-6 * greatest_laid_;
    for (std::size_t s = 0; s < tension.size(); ++s)
      for (std::size_t f = 0; f < face_count; ++f) {
        worst = std::max(worst, std::abs(tension[s][f] - stack_.hoop_tension(s, f)));
        scale = std::max(scale, std::abs(stack_.hoop_tension(s, f)));
      }
    return worst / scale;
  }

  /// Growth of ln(age of the newest film) over a step; film just laid counts as a tenth of a second old.
  [[nodiscard]] double log_age(double from, double h) const { return std::log1p(h / age(from)); }
  [[nodiscard]] double age(double time) const { return time - laid_at_ + 0.1; }

  /// One step of the stack; returns its error (infinite when there is no equilibrium); a step that is not good enough
  /// leaves the stack as it was. Where the closing and the temperature hardly move no check is needed: the error is
  /// less than a tenth of the tension the closing took.
  [[nodiscard]] double try_step(double h, double tolerance) {
    constexpr double failed = std::numeric_limits<double>::infinity();
    const Surroundings whole_step = surroundings(time_, time_ + h);
    if (!stack_.attempt(h, whole_step, log_age(time_, h))) return failed;
    const double before = time_ < 0.0 ? input_.history.at(time_) : input_.history.in_storage(time_);
    const bool steady =
        whole_step.temperature_mid == before && whole_step.temperature_mid == whole_step.temperature_end;
    if (steady && 0.1 * stack_.path_change() <= tolerance) {
      const double error = 0.1 * stack_.path_change();
      stack_.commit();
      keep_turns_within(time_, h);
      return error;
    }
    start_ = stack_.slices();
    stack_.commit();
    whole_.clear();
    for (const LoadStack::Slice& slice : stack_.slices()) whole_.push_back(slice.tension);
    stack_.restore(start_);
    const double middle = time_ + 0.5 * h;
    const auto half_step = [&](double from) {
      if (!stack_.step(0.5 * h, surroundings(from, from + 0.5 * h), log_age(from, 0.5 * h))) return false;
      keep_turns_within(from, 0.5 * h);
      return true;
    };
    const bool found = half_step(time_) && half_step(middle);
    const double error = found ? difference_to(whole_) / 3.0 : failed;  // second order
    if (!(error <= tolerance)) stack_.restore(start_);
    return error;
  }

  /// Turns that end within the step just committed. A step that is not accepted after all is followed by others over
  /// the same time, which keep them anew.
  void keep_turns_within(double from, double h) {
    const double rounding = 1e-9 * std::max(h, 0.01);  // a turn may end with the step
    for (const std::size_t turn : turns_ahead_) {
      const double time = input_.turn_end_times[turn];
      if (!(time > from && time <= from + h + rounding)) continue;
      if (time >= from + h - rounding) {
        keep_turn(turn);
        continue;
      }
      const double share = log_age(from, time - from) / log_age(from, h);
      for (std::size_t s = 0; s < stack_.slice_count(); ++s) {
        const auto tension = stack_.tension_within_step(s, time - from, share);
        for (std::size_t f = 0; f < face_count; ++f) result_.hoop_tension_buildup.at(turn, f, first_ + s) = tension[f];
      }
    }
  }

  /// Factor for the next step of a second-order method, between 0.3 and 4; `room` = tolerance over error, infinite at
  /// rest.
  static double step_growth(double room) {
    constexpr double least = 0.3, most = 4.0, safety = 0.9;
    return room > 90.0 ? most : std::clamp(safety * std::cbrt(room), least, most);  // 0.9 cbrt(90) > 4
  }

  void advance_to(double target) {
    if (stack_.empty()) {
      time_ = target;
      return;
    }
    const double tolerance = 0.1 * input_.setup.tolerance;
    while (target - time_ > 1e-12 * std::max(1.0, std::abs(target))) {
      double h = std::min(next_step_, target - time_);
      if (target - time_ - h < 0.1 * h) h = target - time_;
      const double error = try_step(h, tolerance);
      require_progress();
      if (!(error <= tolerance)) {
        ++result_.counters.rejected;
        next_step_ = h * (std::isfinite(error) ? std::clamp(0.9 * std::cbrt(tolerance / error), 0.1, 0.7) : 0.2);
        if (next_step_ < 1e-9) fail();
        continue;
      }
      time_ += h;
      const double slipped = recheck_corners();
      const double growth = step_growth(tolerance / error);
      // A step cut short by a stop says nothing against the longer step that was due.
      next_step_ = std::max(h * growth, h < next_step_ ? next_step_ : 0.0);
      // Film slips at the end of a step for the whole of it: no more of that than some tolerances a step, or than in a
      // part of the newest film's age, for nearly slack film slips at every touch.
      if (slipped > most_slip * tolerance)
        next_step_ = std::min(
            next_step_, std::max(h * std::max(most_slip * tolerance / slipped, 0.2), slip_age(tolerance) * age(time_)));
    }
    time_ = target;
    turns_ahead_.clear();
  }

  [[noreturn]] void fail() const {
    throw SolverError("no equilibrium of film and load at " + short_number(time_) + " s",
                      "a stiffer load, less force, or a larger numerics.tolerance", time_, 0,
                      (static_cast<double>(first_) + 0.5) * input_.setup.slice_height);
  }

  void keep_turn(std::size_t turn) {
    for (std::size_t s = 0; s < stack_.slice_count(); ++s)
      for (std::size_t f = 0; f < face_count; ++f)
        result_.hoop_tension_buildup.at(turn, f, first_ + s) = stack_.hoop_tension(s, f);
  }

  void keep_output(std::size_t index) {
    for (std::size_t s = 0; s < stack_.slice_count(); ++s) {
      for (std::size_t f = 0; f < face_count; ++f)
        result_.hoop_tension.at(index, f, first_ + s) = stack_.hoop_tension(s, f);
      result_.closing_along_length.at(index, first_ + s) = stack_.closing(s, 0);
      result_.closing_along_width.at(index, first_ + s) = stack_.closing(s, 1);
    }
    const auto kept = std::lower_bound(input_.keep_at.begin(), input_.keep_at.end(), time_);
    if (kept != input_.keep_at.end() && *kept == time_)
      keep_moment(result_.kept[static_cast<std::size_t>(kept - input_.keep_at.begin())], input_.history.at(time_));
    if (index == 0 && input_.resume_at == nullptr) keep_end_of_wrapping();
    if (index + 1 == input_.output_times.size()) {
      result_.path_factor_storage = factor_at(input_.history.at(time_));
      keep_slices(result_.after_storage, result_.slack_elements_storage);
    }
  }

  void keep_moment(StackMoment& into, double temperature) {
    into.time = time_;
    into.path_factor = factor_at(temperature);
    into.slices.resize(input_.slice_count);
    for (std::size_t s = 0; s < stack_.slice_count(); ++s) into.slices[first_ + s] = stack_.slices()[s];
  }

  void keep_slices(std::vector<LoadStack::Slice>& into, std::size_t& slack) {
    for (std::size_t s = 0; s < stack_.slice_count(); ++s) {
      into[first_ + s] = stack_.slices()[s];
      for (std::size_t i = 0; i < stack_.slices()[s].film.size; ++i) slack += stack_.slices()[s].nominal[i] <= 0.0;
    }
  }

  void keep_end_of_wrapping() {
    result_.path_factor_end = factor_at(input_.history.at(0.0));
    keep_slices(result_.at_end, result_.slack_elements_end);
    for (std::size_t s = 0; s < stack_.slice_count(); ++s) {
      const LoadStack::Slice& slice = stack_.slices()[s];
      result_.elements += slice.film.size;
      std::array<std::size_t, face_count> next{};
      for (std::size_t i = 0; i < slice.film.size; ++i) {
        const std::size_t f = slice.face[i];
        result_.layer_tension.at(next[f]++, f, first_ + s) = slice.weight[i] * slice.nominal[i];
      }
    }
    const double stored_at = input_.history.in_storage(0.0);
    const bool is_moved = input_.settling > 0.0 || stored_at != input_.history.at(0.0);
    if (!is_moved || input_.output_times.size() < 2) return;
    settled_ = true;  // the load settles, and film and load jump to the temperature of the store
    stack_.settle(stored_at, factor_at(stored_at));
    if (!corners_.holds(stack_)) (void)corners_.slip(stack_, stored_at, factor_at(stored_at));
    keep_moment(result_.stored, stored_at);
  }

  static constexpr double most_slip = 100.0;  // tolerances of a step
  /// Part of the age, a tenth at the usual tolerance.
  [[nodiscard]] static double slip_age(double tolerance) { return std::min(0.1, 1e3 * tolerance); }
  const BuildUpInput& input_;
  const std::vector<Stop>& stops_;
  const std::vector<std::vector<double>>& fraction_;
  std::size_t first_;
  LoadStack& stack_;
  CornerRecheck corners_;
  BuildUpResult& result_;
  std::vector<LoadStack::Slice> start_;
  std::vector<std::array<double, face_count>> whole_;  // tensions after the step in one
  std::vector<std::size_t> turns_ahead_;               // ends of turns since the last stop
  double time_ = 0.0;
  double laid_at_ = 0.0;
  double greatest_laid_ = 1e-300;  // greatest hoop tension just after laying, N/m
  // Film at rest is exact over any time, so the first try is the whole way to the next stop.
  double next_step_ = std::numeric_limits<double>::max();
  bool settled_ = false;
  double work_before_;  // of the slices marched before
};

/// Per patch and slice; 0 for slices that are not marched.
std::vector<std::vector<double>> covered_fractions(const BuildUpInput& input, std::size_t begin, std::size_t end) {
  std::vector<std::vector<double>> fraction(input.patches.size(), std::vector<double>(input.slice_count));
  for (std::size_t p = 0; p < input.patches.size(); ++p)
    for (std::size_t s = begin; s < end; ++s)
      fraction[p][s] = covered_fraction(input.patches[p].patch, static_cast<double>(s) * input.setup.slice_height,
                                        static_cast<double>(s + 1) * input.setup.slice_height);
  return fraction;
}

std::vector<std::size_t> capacities(const std::vector<std::vector<double>>& fraction, std::size_t first,
                                    std::size_t count) {
  std::vector<std::size_t> out(count, 0);
  for (const auto& row : fraction)
    for (std::size_t s = 0; s < count; ++s) out[s] += row[first + s] > 0.0 ? 1 : 0;
  return out;
}

void allocate(const BuildUpInput& input, const std::vector<std::vector<double>>& fraction, BuildUpResult& result) {
  const std::size_t n = input.slice_count;
  result.film_layers.resize({face_count, n}, 0.0);
  result.slip_tension.resize({face_count, n}, 0.0);
  std::vector<std::array<std::size_t, face_count>> layers(n);
  std::size_t most = 1;
  for (std::size_t p = 0; p < fraction.size(); ++p)
    for (std::size_t s = 0; s < n; ++s) {
      if (!(fraction[p][s] > 0.0)) continue;
      const std::size_t f = input.patches[p].patch.face;
      result.film_layers.at(f, s) += fraction[p][s];
      most = std::max(most, ++layers[s][f]);
    }
  const std::size_t times = input.output_times.size();
  result.hoop_tension.resize({times, face_count, n}, 0.0);
  result.hoop_tension_buildup.resize({input.turn_end_times.size(), face_count, n}, 0.0);
  result.layer_tension.resize({most, face_count, n}, std::numeric_limits<double>::quiet_NaN());
  result.closing_along_length.resize({times, n}, 0.0);
  result.closing_along_width.resize({times, n}, 0.0);
  result.at_end.resize(n);
  result.after_storage.resize(n);
  result.kept.resize(input.keep_at.size());
}

}  // namespace

double path_factor(double load_expansion, double film_expansion, double temperature_rise, double settling) {
  return (1.0 + load_expansion * temperature_rise) / (1.0 + film_expansion * temperature_rise) * (1.0 - settling);
}

BuildUpResult build_up(const BuildUpInput& input) {
  BuildUpResult result;
  const bool coupled = input.setup.shear_stiffness > 0.0;
  const std::size_t group = coupled ? input.slice_count : 1;
  const std::size_t begin = coupled ? 0 : input.first_slice;
  const std::size_t end = coupled ? input.slice_count : std::min(input.last_slice, input.slice_count);
  const std::vector<std::vector<double>> fraction = covered_fractions(input, begin, end);
  allocate(input, fraction, result);
  const std::vector<Stop> stops = all_stops(input);
  LoadStack stack(input.setup, {});
  for (std::size_t first = begin; first < end; first += group) {
    stack.start_anew(capacities(fraction, first, group));
    March(input, stops, fraction, first, stack, result).run();
    if (input.keep_going &&
        !input.keep_going(static_cast<double>(first + group - begin) / static_cast<double>(end - begin)))
      throw Interrupted();
  }
  return result;
}

}  // namespace hoopfield
