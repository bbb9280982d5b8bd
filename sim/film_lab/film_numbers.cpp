// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/film_numbers.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {

namespace {

using Points = std::vector<FilmCurvePoint>;

/// From 0 to 1 % strain, between the points beside it; absent when the curve does not come so far.
std::optional<double> secant_modulus(const Points& points, std::size_t end) {
  constexpr double strain = 0.01;
  std::size_t i = 1;
  while (i <= end && points[i].stretch < 1.0 + strain - 1e-9) ++i;
  if (i > end) return std::nullopt;
  const FilmCurvePoint &a = points[i - 1], &b = points[i];
  const double share = std::min(1.0, (1.0 + strain - a.stretch) / (b.stretch - a.stretch));
  return (a.stress + (b.stress - a.stress) * share) / strain;
}

void read_stretching(const Points& points, std::size_t end, FilmNumbers& numbers) {
  if (end == 0) return;  // the load was there before the first step
  numbers.secant_modulus = secant_modulus(points, end);
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

/// Last point of the hold that begins after `start`.
std::size_t end_of_hold(const Points& points, std::size_t start) {
  std::size_t i = start;
  while (i + 1 < points.size() && points[i + 1].phase == FilmPhase::holding) ++i;
  return i;
}

void read_hold(const Points& points, std::size_t start, FilmNumbers& numbers) {
  const std::size_t last = end_of_hold(points, start);
  if (last == start) return;
  const double held = points[last].time - points[start].time;
  numbers.kept = points[last].stress / *numbers.end_stress;
  if (held < 0.2) return;
  // The recorded point nearest to a tenth of the hold; the loss is scaled to a full decade.
  std::size_t i = start + 1;
  while (i < last && points[i].time - points[start].time < 0.1 * held) ++i;
  const double decades = std::log10(held / (points[i].time - points[start].time));
  if (decades > 0.5) numbers.loss_per_decade = (points[i].stress - points[last].stress) / *numbers.end_stress / decades;
}

void read_recovery(const Points& points, double strain, FilmNumbers& numbers) {
  for (std::size_t i = 1; i < points.size(); ++i)
    if (points[i].phase == FilmPhase::free && points[i - 1].phase == FilmPhase::releasing)
      numbers.release_stretch = points[i - 1].stretch - 1.0;
  numbers.permanent_set = points.back().stretch - 1.0;
  numbers.permanent_share = *numbers.permanent_set / strain;
  numbers.elastic_recovery = 1.0 - *numbers.permanent_share;
}

void read_cycles(const Points& points, FilmNumbers& numbers) {
  double done = 0.0, back = 0.0, first_peak = 0.0, last_peak = 0.0;
  const auto close_cycle = [&] {
    if (!(done > 0.0)) return;
    const double lost = 1.0 - back / done;
    if (!numbers.work_lost_first) numbers.work_lost_first = lost;
    numbers.work_lost_last = lost;
    done = back = 0.0;
  };
  for (std::size_t i = 1; i < points.size(); ++i) {
    const FilmCurvePoint &a = points[i - 1], &b = points[i];
    const double work = 0.5 * (a.stress + b.stress) * (b.stretch - a.stretch);
    if (b.phase == FilmPhase::stretching) {
      if (a.phase == FilmPhase::releasing) {
        if (!numbers.release_stretch) numbers.release_stretch = a.stretch - 1.0;
        close_cycle();
      }
      done += work;
      if (i + 1 == points.size() || points[i + 1].phase == FilmPhase::releasing) {
        last_peak = b.stress;
        if (first_peak == 0.0) first_peak = b.stress;
      }
    } else {
      back -= work;
    }
  }
  if (!numbers.release_stretch) numbers.release_stretch = points.back().stretch - 1.0;
  close_cycle();
  if (first_peak > 0.0) numbers.peak_kept = last_peak / first_peak;
}

}  // namespace

void read_film_numbers(const FilmTest& test, FilmCurve& curve) {
  FilmNumbers& numbers = curve.numbers;
  read_stretching(curve.points, curve.loaded, numbers);
  if (test.kind == FilmTestKind::relaxation || test.kind == FilmTestKind::recovery)
    read_hold(curve.points, curve.loaded, numbers);
  if (test.kind == FilmTestKind::recovery) read_recovery(curve.points, test.stretch, numbers);
  if (test.kind == FilmTestKind::cycle) read_cycles(curve.points, numbers);
  if (test.kind == FilmTestKind::creep) {
    numbers.creep_start = curve.points[curve.loaded].stretch - 1.0;
    numbers.creep_strain = curve.points.back().stretch - curve.points[curve.loaded].stretch;
  }
}

}  // namespace hoopfield
