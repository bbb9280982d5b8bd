// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/derived_numbers.hpp"

#include "models/film/film_law.hpp"
#include "sim/film_lab/film_test.hpp"
#include "sim/film_lab/strip.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace hoopfield {

namespace {

constexpr double release_hold = 60.0;      // s, before unloading and recovery
constexpr double recovery_time = 86400.0;  // s
constexpr double unloading_step = 0.01;    // of the starting length

FilmTest base_test(const FilmDescription& film, const DerivedSettings& settings) {
  FilmTest test;
  test.rate = settings.rate;
  test.stretch = settings.stretch;
  test.width_exponent = settings.width_exponent;
  test.temperature = settings.temperature.value_or(film.reference_temperature);
  return test;
}

double share_after(const FilmCurve& curve, double time) {
  const double start = curve.points[curve.loaded].time;
  const auto found = std::min_element(
      curve.points.begin() + static_cast<std::ptrdiff_t>(curve.loaded), curve.points.end(),
      [&](const auto& a, const auto& b) { return std::abs(a.time - start - time) < std::abs(b.time - start - time); });
  return found->stress / curve.points[curve.loaded].stress;
}

void read_tensile(const FilmCurve& curve, DerivedNumbers& numbers) {
  numbers.secant_modulus = curve.numbers.secant_modulus;
  numbers.knee_stress = knee_of(curve);
  numbers.stress_at_100 = stress_at_stretch(curve, 2.0);
  numbers.stress_at_200 = stress_at_stretch(curve, 3.0);
  numbers.stress_at_250 = stress_at_stretch(curve, 3.5);
  numbers.stress_at_300 = stress_at_stretch(curve, 4.0);
  if (!numbers.stress_at_300) return;
  const auto g = [](double l) { return l * l - 1.0 / l; };
  numbers.hardening_slope = (4.0 * *numbers.stress_at_300 - 3.0 * *numbers.stress_at_200) / (g(4.0) - g(3.0));
}

/// Stretch, hold for a minute, let back by 1 %.
void read_unloading(const FilmDescription& film, const FilmTest& test, const FilmCurve& held, DerivedNumbers& numbers,
                    Observer* observer) {
  Strip strip(film, test, observer);
  for (std::size_t i = 1; i <= held.loaded; ++i)
    strip.move(held.points[i].stretch, held.points[i].time - held.points[i - 1].time);
  const double stretch = strip.stretch();
  const double before = strip.move(stretch, release_hold);
  const double after = strip.move(stretch - unloading_step, unloading_step / test.rate);
  numbers.unloading_stiffness = (before - after) / unloading_step;
  if (before > 0.0) numbers.held_stiffness_over_force = *numbers.unloading_stiffness * stretch / before;
}

}  // namespace

std::optional<double> stress_at_stretch(const FilmCurve& curve, double stretch) {
  for (std::size_t i = 1; i <= curve.loaded; ++i) {
    const FilmCurvePoint &a = curve.points[i - 1], &b = curve.points[i];
    if (b.stretch < stretch - 1e-12) continue;
    return a.stress + (b.stress - a.stress) * std::min(1.0, (stretch - a.stretch) / (b.stretch - a.stretch));
  }
  return std::nullopt;
}

std::optional<double> knee_of(const FilmCurve& curve) {
  constexpr double offset = 0.02;
  if (!curve.numbers.secant_modulus) return std::nullopt;
  const double slope = *curve.numbers.secant_modulus;
  double before = slope * offset;
  for (std::size_t i = 1; i <= curve.loaded; ++i) {
    const FilmCurvePoint &a = curve.points[i - 1], &b = curve.points[i];
    const double above = b.stress - slope * (b.stretch - 1.0 - offset);  // curve over the moved line
    if (above <= 0.0) return a.stress + (b.stress - a.stress) * before / (before - above);
    before = above;
  }
  return std::nullopt;
}

double work_of(const FilmCurve& curve, double stretch) {
  double work = 0.0;
  for (std::size_t i = 1; i <= curve.loaded && curve.points[i].stretch <= stretch + 1e-12; ++i)
    work += 0.5 * (curve.points[i - 1].stress + curve.points[i].stress) *
            (curve.points[i].stretch - curve.points[i - 1].stretch);
  return work;
}

const std::vector<DerivedField>& derived_fields() {
  static const std::vector<DerivedField> fields = [] {
    std::vector<DerivedField> list;
    const auto add = [&](const char* name, std::optional<double> DerivedNumbers::*value) {
      list.push_back({find_parameter(ParameterRoom::film_number, "film_numbers." + std::string(name)), value});
    };
    add("secant_modulus", &DerivedNumbers::secant_modulus);
    add("knee_stress", &DerivedNumbers::knee_stress);
    add("stress_at_100", &DerivedNumbers::stress_at_100);
    add("stress_at_200", &DerivedNumbers::stress_at_200);
    add("stress_at_250", &DerivedNumbers::stress_at_250);
    add("stress_at_300", &DerivedNumbers::stress_at_300);
    add("hardening_slope", &DerivedNumbers::hardening_slope);
    add("work_to_draw", &DerivedNumbers::work_to_draw);
    add("unloading_stiffness", &DerivedNumbers::unloading_stiffness);
    add("held_stiffness_over_force", &DerivedNumbers::held_stiffness_over_force);
    add("kept_1_min", &DerivedNumbers::kept_1_min);
    add("kept_1_h", &DerivedNumbers::kept_1_h);
    add("kept_24_h", &DerivedNumbers::kept_24_h);
    add("kept_30_d", &DerivedNumbers::kept_30_d);
    add("permanent_set", &DerivedNumbers::permanent_set);
    add("break_stretch", &DerivedNumbers::break_stretch);
    return list;
  }();
  return fields;
}

DerivedNumbers derive_numbers(const FilmDescription& film, const DerivedSettings& settings, Observer* observer) {
  FilmTest test = base_test(film, settings);
  check_film_test(test);
  DerivedNumbers numbers;
  if (film.breaking) numbers.break_stretch = film.breaking->stretch;
  const double limit = make_film_law(film)->stretch_limit(WidthMode::power(settings.width_exponent)) - 1.0;
  FilmTest pull = test;
  pull.stretch = std::min(3.0, 0.98 * limit);
  read_tensile(run_film_test(film, pull, observer), numbers);
  if (!(test.stretch < limit)) return numbers;
  test.kind = FilmTestKind::relaxation;
  test.hold = 2592000.0;
  const FilmCurve held = run_film_test(film, test, observer);
  numbers.work_to_draw = work_of(held, 1.0 + settings.stretch);
  numbers.kept_1_min = share_after(held, 60.0);
  numbers.kept_1_h = share_after(held, 3600.0);
  numbers.kept_24_h = share_after(held, 86400.0);
  numbers.kept_30_d = share_after(held, 2592000.0);
  read_unloading(film, test, held, numbers, observer);
  test.kind = FilmTestKind::recovery;
  test.release_hold = release_hold;
  test.wait = recovery_time;
  numbers.permanent_set = run_film_test(film, test, observer).numbers.permanent_set;
  return numbers;
}

}  // namespace hoopfield
