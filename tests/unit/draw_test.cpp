// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_path/draw.hpp"
#include "models/error.hpp"
#include "sim/film_path/film_path.hpp"
#include "sim/film_path/monotone_root.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <cmath>
#include <utility>

using namespace hoopfield;

namespace {

DrawInput input_for(const FilmLaw& law) {
  DrawInput in;
  in.law = &law;
  in.ratio = 3.5;
  in.gap = 0.05;
  in.roller_speed_1 = 0.28;
  in.width_exponent = 0.2;
  return in;
}

/// A law that counts how often its differential equations are asked for: the work of a film path.
class CountingLaw final : public FilmLaw {
 public:
  explicit CountingLaw(const FilmLaw& law) : law_(law) {}
  std::size_t take_count() const { return std::exchange(count_, 0); }

  std::size_t branch_count() const override { return law_.branch_count(); }
  FilmStress stress(const FilmState& s, const WidthMode& m, double t) const override { return law_.stress(s, m, t); }
  FilmStress step(FilmState& s, double to, double dt, const WidthMode& m, double t, double t_end) const override {
    return law_.step(s, to, dt, m, t, t_end);
  }
  void step_block(const FilmBlock& a, FilmBlock& b, const double* to, double dt, const WidthMode& m, double t,
                  double t_end, BlockStress& s) const override {
    law_.step_block(a, b, to, dt, m, t, t_end, s);
  }
  FilmRates rates(const FilmState& s, const WidthMode& m, double t) const override {
    ++count_;
    return law_.rates(s, m, t);
  }
  double strain_scale(std::size_t k) const override { return law_.strain_scale(k); }
  double stretch_limit(const WidthMode& m) const override { return law_.stretch_limit(m); }
  int step_order() const override { return law_.step_order(); }
  double curvature_bound(double dt) const override { return law_.curvature_bound(dt); }

 private:
  const FilmLaw& law_;
  mutable std::size_t count_ = 0;
};

}  // namespace

TEST_CASE("draw: Newtonian film follows v1 ratio^(x/d)", "[film-path]") {
  // A Maxwell branch whose spring is so stiff that it only flows: tension stress = m E tau (d ln l/dt), uniform d ln
  // l/dx in the limit; the elastic part vanishes as the stress over E.
  FilmDescription film;
  film.law = "maxwell";
  film.density = 920;
  film.branches = {test::maxwell_branch(1e14, 1e-8)};  // viscosity E tau = 1e6 Pa s
  const auto law = make_film_law(film);
  DrawInput in = input_for(*law);
  in.ratio = 3.0;
  const DrawResult result = draw(in);
  for (const DrawPoint& p : result.profile)
    CHECK(p.stretch == Approx(std::pow(3.0, p.position / in.gap)).epsilon(1e-5));
  // Force: P l = m eta d(ln l)/dt and d ln l/dt = v d ln l/dx = v1 l ln(ratio)/d, so P = m eta v1 ln(ratio)/d.
  const double m = WidthMode::power(0.2).m;
  CHECK(result.nominal_stress == Approx(m * 1e6 * in.roller_speed_1 * std::log(3.0) / in.gap).epsilon(1e-6));
}

TEST_CASE("draw: the exit stretch is the ratio, the force is constant along the gap, the work is P1 (ratio - 1)",
          "[film-path]") {
  for (const bool heat : {false, true}) {
    const auto law = make_film_law(test::general_film());
    DrawInput in = input_for(*law);
    if (heat) in.volumetric_heat = 920.0 * 2200.0;
    const DrawResult result = draw(in);
    CHECK(result.profile.back().stretch == Approx(3.5).epsilon(1e-12));
    CHECK(result.profile.back().position == Approx(in.gap).epsilon(1e-7));
    CHECK(result.roller_speed_1 == Approx(in.roller_speed_1).epsilon(1e-7));
    const WidthMode mode = WidthMode::power(0.2);
    // The state carried by the differentiated equation still obeys P(l, e, T) = P1 at the far end.
    CHECK(law->stress(result.exit, mode, result.exit_temperature).nominal ==
          Approx(result.nominal_stress).epsilon(1e-6));
    CHECK(result.work == Approx(result.nominal_stress * 2.5).epsilon(1e-12));
    if (heat) {
      // Energy: work = heat + what the springs hold; entropic network (theta = 1) stores nothing.
      double stored = 0.0;
      for (std::size_t k = 0; k < 3; ++k) {
        const double modulus = law->rates(result.exit, mode, result.exit_temperature).modulus[k];
        stored += 0.5 * mode.m * modulus * result.exit.strain[k] * result.exit.strain[k];
      }
      const double warmed = in.volumetric_heat * (result.exit_temperature - in.temperature);
      CHECK(warmed + stored == Approx(result.work).epsilon(0.03));  // softening springs release a little more
      CHECK(result.exit_temperature - in.temperature > 9.0);
      CHECK(result.exit_temperature - in.temperature < 15.0);
    } else {
      CHECK(result.exit_temperature == in.temperature);
    }
  }
}

TEST_CASE("draw: ten times the speed costs the flow stress of a decade, at a stretch inside the gap", "[film-path]") {
  const auto law = make_film_law(test::r1());
  DrawInput in = input_for(*law);
  const DrawResult slow = draw(in);
  in.roller_speed_1 *= 10.0;
  const DrawResult fast = draw(in);
  const WidthMode mode = WidthMode::power(0.2);
  // True flow stress rises by (m/c) ln 10 sum(s_i); as nominal stress that is this over the stretch where the draw is
  // slowest.
  const double decade = mode.m / mode.c * std::log(10.0) * 0.60e6;
  CHECK(fast.nominal_stress - slow.nominal_stress > decade / 3.5);
  CHECK(fast.nominal_stress - slow.nominal_stress < decade);
}

TEST_CASE("draw: refuses what has no solution, by name", "[film-path]") {
  const auto law = make_film_law(test::general_film());
  DrawInput in = input_for(*law);
  in.ratio = 6.5;
  CHECK_THROWS_WITH(draw(in), ContainsSubstring("beyond the film"));
  in.ratio = 0.9;
  CHECK_THROWS_AS(draw(in), SolverError);
}

TEST_CASE("film path: speeds, dwell, residence, width and thickness agree with each other", "[film-path]") {
  const auto law = make_film_law(test::general_film());
  FilmPathInput in;
  in.law = law.get();
  in.roll_width = 0.5;
  in.roll_thickness = 23e-6;
  in.density = 920;
  in.heat_capacity = 2200;
  in.draw_ratio = 3.5;
  in.mean_span = 1.35;
  in.span_force = 70;
  in.take_up_speed = 0.88;
  in.width_exponent = 0.2;
  const FilmPath path = solve_film_path(in);
  const FilmPathResult& r = path.result;
  CHECK(r.roller_speed_1 * r.stretch_on_load == Approx(in.take_up_speed).epsilon(1e-7));
  CHECK(r.roller_speed_2 == Approx(3.5 * r.roller_speed_1).epsilon(1e-12));
  CHECK(r.dwell_time == Approx(0.1 / r.roller_speed_2).epsilon(1e-12));
  // A point of the film passes at v1 l: it has gone path and span after the residence time.
  FilmState film = path.entry;
  double passed = 0.0, last = 0.0;
  for (int i = 0; i <= 4000; ++i) {
    const double step = i == 0 ? 0.0 : r.residence_time / 4000.0;
    creep(*law, film, in.span_force / (0.5 * 23e-6), step, path.mode, in.temperature);
    if (i > 0) passed += 0.5 * step * r.roller_speed_1 * (last + film.stretch);
    last = film.stretch;
  }
  CHECK(passed == Approx(0.5 + 1.35).epsilon(1e-5));
  CHECK(film.stretch == Approx(r.stretch_on_load).epsilon(1e-6));
  CHECK(r.laid_width * r.laid_thickness * r.stretch_on_load == Approx(0.5 * 23e-6).epsilon(1e-12));
  CHECK(r.prestretch_power == Approx(r.prestretch_force * (r.roller_speed_2 - r.roller_speed_1)).epsilon(1e-12));
  // the film in the span carries the span force
  CHECK(law->stress(path.laid, path.mode, in.temperature).nominal * 0.5 * 23e-6 == Approx(70.0).epsilon(1e-9));

  SECTION("a measured width on the load gives back the exponent, in a few paths") {
    const CountingLaw counting(*law);
    in.law = &counting;
    (void)solve_film_path(in);
    const double one_path = static_cast<double>(counting.take_count());
    in.width_on_load = r.laid_width;
    CHECK(solve_film_path(in).width_exponent == Approx(0.2).margin(1e-7));
    CHECK(static_cast<double>(counting.take_count()) < 7.0 * one_path);
    for (const double exponent : {0.0, 0.003, 0.11, 0.497, 0.5}) {
      in.width_on_load.reset();
      in.width_exponent = exponent;
      in.width_on_load = solve_film_path(in).result.laid_width;
      (void)counting.take_count();
      INFO(exponent);
      CHECK(solve_film_path(in).width_exponent == Approx(exponent).margin(1e-7));
      CHECK(static_cast<double>(counting.take_count()) < 7.0 * one_path);
    }
    in.width_on_load = 0.6;
    CHECK_THROWS_WITH(solve_film_path(in), ContainsSubstring("width_on_load"));
  }
  SECTION("without residence film at low force comes out longer than with it") {
    in.span_force = 20;
    const double with = solve_film_path(in).result.stretch_on_load;
    in.internal_path = 0.0;
    in.mean_span = 1e-6;
    in.roller_arc = 1e-9;
    CHECK(solve_film_path(in).result.stretch_on_load > with);
  }
  SECTION("more force leaves more stretch on the load; no pre-stretch leaves only what the span does") {
    in.span_force = 90;
    CHECK(solve_film_path(in).result.stretch_on_load > r.stretch_on_load);
    in.draw_ratio = 1.0;
    in.span_force = 20;
    const FilmPathResult undrawn = solve_film_path(in).result;
    CHECK(undrawn.stretch_on_load < 1.05);
    CHECK(undrawn.prestretch_force == 0.0);
    in.span_force = 2000;
    CHECK_THROWS_WITH(solve_film_path(in), ContainsSubstring("cannot carry") || ContainsSubstring("runs away"));
  }
}

TEST_CASE("draw: small pre-stretch, where the low side of the search is stiff", "[draw]") {
  const auto law = make_film_law(test::general_film());
  for (const double share : {1e-5, 1e-3, 0.01, 0.05, 0.2}) {
    DrawInput in;
    in.law = law.get();
    in.ratio = 1.0 + share;
    in.roller_speed_1 = 0.88 / in.ratio;
    in.width_exponent = 0.2;
    const DrawResult r = draw(in);
    CHECK(r.roller_speed_1 == Approx(in.roller_speed_1).epsilon(1e-5));
    CHECK(r.nominal_stress < elastic_draw(in).nominal_stress);  // some of the elastic stress flows off in the gap
    CHECK(r.nominal_stress > 0.5 * elastic_draw(in).nominal_stress * (share < 0.01 ? 1.0 : 0.2));
    CHECK(r.profile.back().position == Approx(in.gap).epsilon(1e-9));
  }
}

TEST_CASE("film path: film whose dashpots do not move in the gap is drawn elastically", "[film-path]") {
  FilmDescription film = test::general_film();
  film.branches = {test::eyring_branch(2e6, 1e-300, 1e6)};
  const auto law = make_film_law(film);
  FilmPathInput in;
  in.law = law.get();
  in.roll_width = 0.5;
  in.roll_thickness = 23e-6;
  in.draw_ratio = 3.0;
  in.span_force = 20.0;
  in.take_up_speed = 0.9;
  in.width_exponent = 0.2;
  const FilmPath path = solve_film_path(in);
  FilmState jump;
  const double stress = law->step(jump, 3.0, 0.0, WidthMode::power(0.2), test::room, test::room).nominal;
  CHECK(path.result.prestretch_force == Approx(stress * 0.5 * 23e-6).epsilon(1e-12));
  CHECK(path.result.roller_speed_1 * path.result.stretch_on_load == Approx(0.9).epsilon(1e-9));
  in.roller_gap = 0.0;
  CHECK_THROWS_AS(solve_film_path(in), OutOfRange);
}

TEST_CASE("film path: elastic film reaches the ratio at once and unloads along its curve", "[film-path]") {
  FilmDescription film;
  film.law = "elastic-curve";
  film.density = 920;
  film.curve = {{1.0, 0.0}, {1.1, 6e6}, {2.0, 7e6}, {3.5, 9e6}, {4.5, 13e6}};
  const auto law = make_film_law(film);
  FilmPathInput in;
  in.law = law.get();
  in.roll_width = 0.5;
  in.roll_thickness = 20e-6;
  in.draw_ratio = 3.0;
  in.span_force = 70;
  in.take_up_speed = 0.9;
  const FilmPath path = solve_film_path(in);
  CHECK(law->stress(path.laid, path.mode, test::room).nominal * 0.5 * 20e-6 == Approx(70.0).epsilon(1e-9));
  CHECK(path.result.roller_speed_1 * path.result.stretch_on_load == Approx(0.9).epsilon(1e-9));
}

TEST_CASE("draw: the force is within the tolerance asked for, whatever the film", "[film-path]") {
  for (const FilmDescription& film : {test::general_film(), test::r1()}) {
    const auto law = make_film_law(film);
    DrawInput in = input_for(*law);
    in.volumetric_heat = 920.0 * 2200.0;
    DrawInput fine = in;
    fine.tolerance = 1e-12;
    const double exact = draw(fine).nominal_stress;
    for (const double tolerance : {1e-6, 1e-7, 1e-8}) {
      in.tolerance = tolerance;
      INFO(film.name << " tolerance " << tolerance);
      CHECK(std::abs(draw(in).nominal_stress / exact - 1.0) < tolerance);
    }
  }
}

TEST_CASE("film path: creep at the tolerance used in the span leaves the stretch within a millionth", "[film-path]") {
  for (const FilmDescription& film : {test::general_film(), test::r1()}) {
    const auto law = make_film_law(film);
    const WidthMode mode = WidthMode::free(1.05);
    DrawInput in = input_for(*law);
    const FilmState drawn = draw(in).exit;
    const double nominal = 0.5 * law->stress(drawn, mode, 296.15).nominal;
    for (const double time : {0.3, 3.0, 30.0}) {
      FilmState usual = drawn, fine = drawn;
      creep(*law, usual, nominal, time, mode, 296.15, 1e-5);
      creep(*law, fine, nominal, time, mode, 296.15, 1e-9);
      CHECK(std::abs(usual.stretch / fine.stretch - 1.0) < 1e-6);
    }
  }
}

TEST_CASE("root of a rising function: never by fewer than three evaluations, from either side, past infinities",
          "[film-path]") {
  for (const double guess : {1.0, 1.0 + 1e-7, 1.05, 0.3, 9.0}) {
    int count = 0;
    const auto f = [&](double x) {
      ++count;
      return x < 0.5 ? -INFINITY : x > 4.0 ? INFINITY : std::log(x - 0.2) - std::log(0.85);  // root 1.05
    };
    CHECK(increasing_root(f, guess, 1e-9, "the test", 1.0) == Approx(1.05).epsilon(1e-8));
    if (guess != 1.05) CHECK(count >= 3);
  }
}
