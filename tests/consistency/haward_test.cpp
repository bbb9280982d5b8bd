// SPDX-License-Identifier: BSD-3-Clause
// The spring and dashpot in parallel of Haward and Thackray as a limit of the film law: network nearly Gaussian, one
// branch whose flow stress no longer depends on the rate. Sources: the line s = Y + G (l^2 - 1/l) stands in the
// abstract of Haward 1993, Macromolecules 26, 5860-5869 (read); that necking follows from dP/dl is said in the abstract
// of Haward 2007, J. Polym. Sci. B 45, 1090-1099 (read; dP/dl itself is arithmetic). Film held in width: the same with
// von Mises flow, derived. No measured hardening modulus of polyethylene could be read (validation/SOURCES.md).
#include "sim/film_lab/derived_numbers.hpp"
#include "sim/film_lab/film_test.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <cmath>

using namespace hoopfield;

namespace {

constexpr double rate = 1.0;  // 1/s
constexpr double held = 0.0, free_width = 0.5;

/// Flow stress Y at any rate, to ln(rate)/`saturation`: the branch flows at Y (1 + ln(rate)/saturation), rate in 1/s.
FilmDescription haward_film(double flow, double modulus, double saturation) {
  FilmDescription film;
  film.name = "illustrative";
  film.density = 920.0;
  film.network = {modulus, 1e7};
  film.branches = {
      {{"modulus", 1e5 * flow}, {"reference_rate", rate / std::sinh(saturation)}, {"flow_stress", flow / saturation}}};
  return film;
}

FilmCurve pull(const FilmDescription& film, double width_exponent, double stretch = 3.0) {
  FilmTest test;
  test.rate = rate;
  test.stretch = stretch;
  test.width_exponent = width_exponent;
  return run_film_test(film, test);
}

struct Line {
  double slope = 0.0, intercept = 0.0;
};

/// True stress over l^2 - 1/l, straight line by least squares through 26 points from l = 1.5 to 4.
Line haward_plot(const FilmCurve& curve) {
  double n = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
  for (int i = 0; i <= 25; ++i) {
    const double l = 1.5 + 0.1 * i, g = l * l - 1.0 / l, s = *stress_at_stretch(curve, l) * l;
    n += 1.0, x += g, y += s, xx += g * g, xy += g * s;
  }
  const double slope = (n * xy - x * y) / (n * xx - x * x);
  return {slope, (y - slope * x) / n};
}

/// Stretch at which the nominal stress is least behind the knee: top of the parabola through the lowest three points.
double least_stress_stretch(const FilmCurve& curve) {
  std::size_t low = 0;
  for (std::size_t i = 1; i + 1 < curve.points.size(); ++i)
    if (curve.points[i].stretch > 1.05 && (low == 0 || curve.points[i].stress < curve.points[low].stress)) low = i;
  const auto &a = curve.points[low - 1], &b = curve.points[low], &c = curve.points[low + 1];
  const double left = (b.stress - a.stress) / (b.stretch - a.stretch),
               right = (c.stress - b.stress) / (c.stretch - b.stretch);
  const double bend = (right - left) / (0.5 * (c.stretch - a.stretch));
  return 0.5 * (a.stretch + b.stretch) - left / bend;
}

bool necks(double flow_over_modulus, double width_exponent) {
  const FilmCurve curve = pull(haward_film(flow_over_modulus * 1e6, 1e6, 600.0), width_exponent, 1.0);
  double before = 0.0;
  for (const FilmCurvePoint& p : curve.points) {
    if (p.stretch < 1.01) continue;  // elastic up to here at most
    if (p.stress < before * (1.0 - 1e-10)) return true;
    before = p.stress;
  }
  return false;
}

}  // namespace

TEST_CASE("Haward plot of a virtual tensile test: slope and intercept go to the network modulus and the flow stress",
          "[film][film_lab]") {
  const double flow = 8e6, modulus = 1.2e6;
  double before = 1.0;
  for (const double saturation : {20.0, 80.0, 320.0}) {
    const Line line = haward_plot(pull(haward_film(flow, modulus, saturation), free_width));
    const double miss = std::abs(line.slope / modulus - 1.0);
    INFO("saturation " << saturation << ": slope " << line.slope << ", intercept " << line.intercept);
    CHECK(miss < 0.3 * before);  // the miss falls with 1/saturation
    before = miss;
  }
  const Line line = haward_plot(pull(haward_film(flow, modulus, 600.0), free_width));
  CHECK(line.slope == Approx(modulus).epsilon(2e-3));
  CHECK(line.intercept == Approx(flow).epsilon(2e-3));
  // The glossary's hardening_slope is the same line through two points.
  DerivedSettings settings;
  settings.rate = rate;
  CHECK(*derive_numbers(haward_film(flow, modulus, 600.0), settings).hardening_slope == Approx(modulus).epsilon(2e-3));
}

TEST_CASE("Haward-Thackray: nominal stress of free and of held film, and where it is least", "[film][film_lab]") {
  const FilmDescription film = haward_film(8e6, 1.2e6, 600.0);
  const double stretches[] = {2.0, 2.5, 3.0, 3.5, 4.0};
  // Y/l + G (l - 1/l^2), and 2/sqrt(3) Y/l + G (l - 1/l^3), in MPa.
  const double free_stress[] = {6.1, 6.008, 6.133333, 6.387755, 6.725};
  const double held_stress[] = {6.868802, 6.618242, 6.634757, 6.811327, 7.090651};
  const FilmCurve free_curve = pull(film, free_width, 3.01), held_curve = pull(film, held, 3.01);
  for (std::size_t i = 0; i < 5; ++i) {
    INFO(stretches[i]);
    CHECK(*stress_at_stretch(free_curve, stretches[i]) * 1e-6 == Approx(free_stress[i]).epsilon(2e-3));
    CHECK(*stress_at_stretch(held_curve, stretches[i]) * 1e-6 == Approx(held_stress[i]).epsilon(2e-3));
  }
  CHECK(least_stress_stretch(free_curve) == Approx(2.416400).epsilon(2e-3));
  CHECK(least_stress_stretch(held_curve) == Approx(2.699309).epsilon(2e-3));
}

TEST_CASE("Haward-Thackray: film draws without a neck up to Y = 3 G, free or held in width", "[film][film_lab]") {
  for (const double width_exponent : {free_width, held}) {
    double stable = 2.0, unstable = 4.0;
    REQUIRE_FALSE(necks(stable, width_exponent));
    REQUIRE(necks(unstable, width_exponent));
    while (unstable - stable > 1e-3) {
      const double middle = 0.5 * (stable + unstable);
      (necks(middle, width_exponent) ? unstable : stable) = middle;
    }
    INFO("width exponent " << width_exponent);
    CHECK(stable == Approx(3.0).margin(0.02));
  }
}
