// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/film_test.hpp"

#include "bindings/cli/progress.hpp"
#include "models/error.hpp"
#include "models/film/description.hpp"
#include "models/film/film_law.hpp"
#include "sim/io/number_text.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::cli {

namespace {

constexpr double tolerance = 1e-5;  // of the step control, relative to the flow stress of each branch
constexpr int stretch_steps = 400;
constexpr int hold_steps_per_decade = 8;
constexpr double first_hold = 0.01;  // s

/// The strip in the grips: one state moved along.
class Strip {
 public:
  Strip(const FilmDescription& film, const FilmTest& test)
      : law_(make_film_law(film)), mode_(WidthMode::power(test.width_exponent)), temperature_(test.temperature) {}
  double move(double stretch, double duration) {
    stop_if_interrupted();
    return advance_controlled(*law_, state_, stretch, duration, mode_, temperature_, tolerance).nominal;
  }
  [[nodiscard]] double limit() const { return law_->stretch_limit(mode_); }

 private:
  std::shared_ptr<const FilmLaw> law_;
  WidthMode mode_;
  double temperature_;
  FilmState state_;
};

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

void stretch_strip(Strip& strip, const FilmTest& test, FilmCurve& curve) {
  curve.points.push_back({});
  for (const double strain : strains(test.stretch)) {
    const FilmCurvePoint& last = curve.points.back();
    const double duration = (1.0 + strain - last.stretch) / test.rate;
    const double time = last.time + duration;
    curve.points.push_back({time, 1.0 + strain, strip.move(1.0 + strain, duration)});
  }
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

void hold_strip(Strip& strip, const FilmTest& test, FilmCurve& curve) {
  const FilmCurvePoint start = curve.points.back();
  double held = 0.0;
  for (const double next : hold_times(test.hold)) {
    curve.points.push_back({start.time + next, start.stretch, strip.move(start.stretch, next - held)});
    held = next;
  }
}

void read_stretching(const std::vector<FilmCurvePoint>& points, std::size_t end, FilmNumbers& numbers) {
  const std::size_t first =
      static_cast<std::size_t>(std::find_if(points.begin() + 1, points.begin() + static_cast<std::ptrdiff_t>(end),
                                            [](const auto& p) { return p.stretch >= 1.01 - 1e-9; }) -
                               points.begin());
  const FilmCurvePoint& early = points[std::min(first, end)];
  numbers.initial_modulus = early.stress / (early.stretch - 1.0);
  for (std::size_t i = 1; i < end; ++i) {
    if (points[i].stress > points[i - 1].stress && points[i].stress > points[i + 1].stress) {
      numbers.yield_stress = points[i].stress;
      numbers.yield_strain = points[i].stretch - 1.0;
      break;
    }
  }
  numbers.end_stress = points[end].stress;
  numbers.end_stiffness =
      std::log(points[end].stress / points[end - 1].stress) / std::log(points[end].stretch / points[end - 1].stretch);
}

void read_hold(const std::vector<FilmCurvePoint>& points, std::size_t end, FilmNumbers& numbers) {
  const double held = points.back().time - points[end].time;
  numbers.kept = points.back().stress / numbers.end_stress;
  if (held < 20.0 * first_hold) return;
  // The recorded point nearest to a tenth of the hold; the loss is scaled to a full decade.
  const auto earlier = std::find_if(points.begin() + static_cast<std::ptrdiff_t>(end) + 1, points.end(),
                                    [&](const auto& p) { return p.time - points[end].time >= 0.1 * held; });
  const double decades = std::log10(held / (earlier->time - points[end].time));
  if (decades > 0.5) numbers.loss_per_decade = (earlier->stress - points.back().stress) / numbers.end_stress / decades;
}

}  // namespace

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
  need(test.width_exponent >= 0.0 && test.width_exponent <= 0.5, "width-exponent", "0 to 0.5");
  need(!test.thickness || *test.thickness > 0.0, "thickness", "more than 0 um");
}

FilmCurve run_film_test(const FilmDescription& film, const FilmTest& test) {
  Strip strip(film, test);
  if (!(1.0 + test.stretch < strip.limit()))
    throw SolverError("the film cannot be stretched by " + percent(test.stretch) + ": its network ends at " +
                          percent(strip.limit() - 1.0),
                      "ask for less with --stretch");
  FilmCurve curve;
  stretch_strip(strip, test, curve);
  const std::size_t end = curve.points.size() - 1;
  read_stretching(curve.points, end, curve.numbers);
  if (test.kind == FilmTestKind::relaxation) {
    hold_strip(strip, test, curve);
    read_hold(curve.points, end, curve.numbers);
  }
  return curve;
}

}  // namespace hoopfield::cli
