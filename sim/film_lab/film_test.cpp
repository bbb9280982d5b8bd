// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/film_test.hpp"

#include "models/error.hpp"
#include "sim/base/number_text.hpp"
#include "sim/film_lab/film_numbers.hpp"
#include "sim/film_lab/strip.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace hoopfield {

namespace {

constexpr int stretch_steps = 400;
constexpr int hold_steps_per_decade = 8;
constexpr double first_hold = 0.01;  // s
constexpr std::array<const char*, 5> kind_names = {"tensile", "relaxation", "recovery", "cycle", "creep"};

/// Strains of the recorded points: 1 % first (the initial modulus is read there), then fine steps at the start, where
/// the curve bends, and coarser ones later.
std::vector<double> strains(double end) {
  std::vector<double> list;
  if (end > 0.01) list.push_back(0.01);
  for (int i = 1; i <= stretch_steps; ++i) {
    const double share = static_cast<double>(i) / stretch_steps;
    list.push_back(end * share * share);
  }
  std::sort(list.begin(), list.end());
  list.erase(std::unique(list.begin(), list.end(), [](double a, double b) { return b - a < 1e-9; }), list.end());
  return list;
}

/// Log-spaced, with the round times of the page among them.
std::vector<double> hold_times(double hold) {
  std::vector<double> times = round_hold_times(hold);
  for (int i = 0;; ++i) {
    const double next = first_hold * std::pow(10.0, static_cast<double>(i) / hold_steps_per_decade);
    if (next >= hold) break;
    times.push_back(next);
  }
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end(), [](double a, double b) { return b < a * (1.0 + 1e-6); }),
              times.end());
  return times;
}

/// One test under way: moves the strip and writes the curve.
class Run {
 public:
  Run(const FilmDescription& film, const FilmTest& test, Observer* observer)
      : test_(test), strip_(film, test, observer) {
    if (test.kind != FilmTestKind::creep && !(1.0 + test.stretch < strip_.limit()))
      throw SolverError("the film cannot be stretched by " + fixed(test.stretch * 100.0, 0) +
                            " %: its network ends at " + fixed((strip_.limit() - 1.0) * 100.0, 0) + " %",
                        "choose less stretch");
    curve_.points.push_back({0.0, 1.0, 0.0, FilmPhase::stretching, test.temperature});
  }

  FilmCurve finish() {
    if (test_.kind == FilmTestKind::creep) {
      load_to_stress();
      curve_.loaded = curve_.points.size() - 1;
      creep_on();
    } else {
      stretch(curve_.points.back().stretch);
      curve_.loaded = curve_.points.size() - 1;
      if (test_.kind == FilmTestKind::relaxation) hold(test_.hold);
      if (test_.kind == FilmTestKind::recovery) recover();
      if (test_.kind == FilmTestKind::cycle) cycle();
    }
    read_film_numbers(test_, curve_);
    return std::move(curve_);
  }

 private:
  void add(double duration, double stress, FilmPhase phase) {
    const double time = curve_.points.back().time + duration;
    curve_.points.push_back({time, strip_.stretch(), stress, phase, strip_.temperature()});
  }

  /// From a stretch up to the one asked for.
  void stretch(double from) {
    for (const double strain : strains(1.0 + test_.stretch - from)) {
      const double target = from + strain;
      const double duration = (target - strip_.stretch()) / test_.rate;
      const double stress = strip_.move(target, duration);
      add(duration, stress, FilmPhase::stretching);
    }
  }

  void hold(double duration) {
    double held = 0.0;
    for (const double next : hold_times(duration)) {
      const double stress = strip_.move(strip_.stretch(), next - held);
      add(next - held, stress, FilmPhase::holding);
      held = next;
    }
  }

  /// Back at the speed of the grips until the force is gone; the last step is halved until it meets zero.
  void release() {
    const double top = strip_.stretch();
    double length = std::min(1e-3 * top, 1e-2);
    while (true) {
      const Strip::State before = strip_.state();
      const double next = strip_.stretch() - length;
      const double stress = next > 0.1 ? strip_.move(next, length / test_.rate) : -1.0;
      const double resolution = 1e-7 * curve_.points[curve_.loaded].stress;
      if (stress < -resolution) {
        strip_.set_state(before);
        length *= 0.5;
        if (length < 1e-12) return;
        continue;
      }
      add(length / test_.rate, stress <= resolution ? 0.0 : stress, FilmPhase::releasing);
      if (stress <= resolution) return;
    }
  }

  void recover() {
    if (test_.release_hold > 0.0) hold(test_.release_hold);
    release();
    double waited = 0.0;
    for (const double next : hold_times(test_.wait)) {
      strip_.creep(0.0, next - waited);
      add(next - waited, 0.0, FilmPhase::free);
      waited = next;
    }
  }

  void cycle() {
    for (int i = 0; i < test_.cycles; ++i) {
      if (i > 0) stretch(strip_.stretch());
      release();
    }
  }

  /// Steps of the tensile test until the stress is there; the last step is cut to meet it.
  void load_to_stress() {
    double length = 1e-4;
    while (true) {
      const Strip::State before = strip_.state();
      const double next = strip_.stretch() + length;
      if (!(next < strip_.limit()))
        throw SolverError("the film cannot carry a nominal stress of " + fixed(test_.creep_stress * 1e-6, 2) + " MPa",
                          "choose less stress");
      const double stress = strip_.move(next, length / test_.rate);
      if (stress > test_.creep_stress * (1.0 + 1e-7)) {
        strip_.set_state(before);
        length *= 0.5;
        if (length < 1e-13) return;
        continue;
      }
      add(length / test_.rate, stress, FilmPhase::stretching);
      if (stress >= test_.creep_stress * (1.0 - 1e-7)) return;
      length = std::min(length * 1.1, 5e-3 * next);
    }
  }

  void creep_on() {
    double held = 0.0;
    for (const double next : hold_times(test_.hold)) {
      strip_.creep(test_.creep_stress, next - held);
      add(next - held, test_.creep_stress, FilmPhase::holding);
      held = next;
    }
  }

  const FilmTest& test_;
  Strip strip_;
  FilmCurve curve_;
};

}  // namespace

const char* film_test_name(FilmTestKind kind) { return kind_names[static_cast<std::size_t>(kind)]; }

std::optional<FilmTestKind> film_test_kind(const std::string& name) {
  for (std::size_t i = 0; i < kind_names.size(); ++i)
    if (name == kind_names[i]) return static_cast<FilmTestKind>(i);
  return std::nullopt;
}

std::vector<double> round_hold_times(double hold) {
  std::vector<double> times;
  for (const double t : {0.1, 1.0, 10.0, 60.0, 600.0, 3600.0, 36000.0, 86400.0, 604800.0, 2592000.0})
    if (t < hold) times.push_back(t);
  times.push_back(hold);
  return times;
}

void check_film_test(const FilmTest& test) {
  const auto need = [](bool good, const char* option, const char* bounds) {
    if (!good) throw OutOfRange(std::string("--") + option + ": out of bounds; expected " + bounds, {}, 0, 0, option);
  };
  need(std::isfinite(test.rate) && test.rate > 0.0, "rate", "more than 0 1/s");
  need(std::isfinite(test.stretch) && test.stretch >= 1e-3, "stretch", "0.1 % or more");
  need(test.temperature > 0.0 && test.temperature < 500.0, "temperature", "above absolute zero and below 226 degC");
  need(std::isfinite(test.hold) && test.hold > 0.0, "hold", "more than 0 s");
  need(std::isfinite(test.release_hold) && test.release_hold >= 0.0, "release-hold", "0 s or more");
  need(std::isfinite(test.wait) && test.wait > 0.0, "wait", "more than 0 s");
  need(test.cycles >= 1 && test.cycles <= 100, "cycles", "1 to 100");
  need(test.width_exponent >= 0.0 && test.width_exponent <= 0.5, "width-exponent", "0 to 0.5");
  need(!test.thickness || *test.thickness > 0.0, "thickness", "more than 0 um");
  if (test.kind == FilmTestKind::creep)
    need(std::isfinite(test.creep_stress) && test.creep_stress > 0.0, "stress", "more than 0 MPa");
}

FilmCurve run_film_test(const FilmDescription& film, const FilmTest& test, Observer* observer) {
  return Run(film, test, observer).finish();
}

}  // namespace hoopfield
