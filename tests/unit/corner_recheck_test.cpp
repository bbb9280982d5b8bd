// SPDX-License-Identifier: BSD-3-Clause
// Film that slips round the corners when the load closes after lay-down: laws of film and load in full.
#include "sim/buildup/corner_recheck.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"
#include "tests/support/winding_cases.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

using namespace hoopfield;

namespace {

constexpr double right_angle = 0.5 * std::numbers::pi;
constexpr double modulus = 40e6;  // Pa, of the linear films here
constexpr std::array<std::size_t, face_count> laid_order = {front, right, back, left};

struct Wrap {
  std::shared_ptr<const FilmLaw> law;
  StackSetup setup;

  explicit Wrap(std::shared_ptr<const FilmLaw> film, double along_length = std::numeric_limits<double>::infinity(),
                double along_width = std::numeric_limits<double>::infinity())
      : law(std::move(film)) {
    setup.law = law.get();
    setup.length = 1.2;
    setup.width = 0.8;
    setup.slice_height = 0.1;
    setup.compliance = ClosingCompliance::from_stiffness(along_length, along_width, 0.0);
  }
  [[nodiscard]] FilmState film(double stretch) const {
    FilmState state;
    law->step(state, stretch, 0.0, setup.mode, test::room, test::room);
    return state;
  }
};

struct Layer {
  FilmState film;
  double weight;
};

LoadStack wind(const Wrap& wrap, const std::vector<Layer>& layers, CornerRecheck* corners = nullptr) {
  LoadStack stack(wrap.setup, {layers.size()});
  for (std::size_t p = 0; p < layers.size(); ++p) {
    stack.lay(0, laid_order[p % face_count], layers[p].film, layers[p].weight, p);
    stack.settle(test::room, 1.0);
    if (corners != nullptr) corners->slip(stack, test::room, 1.0);
  }
  return stack;
}

/// Greatest |ln(B/A)| beyond mu pi/2 over all corners and interfaces.
double excess(const LoadStack::Slice& s, const CornerFriction& friction) {
  double worst = 0.0;
  for (std::size_t corner = 0; corner < face_count; ++corner) {
    std::vector<std::pair<double, double>> pairs;
    for (std::size_t i = 0; i + 1 < s.film.size; ++i)
      if (s.face[i] == corner && s.patch[i + 1] == s.patch[i] + 1) {
        const double w = std::min(s.weight[i], s.weight[i + 1]);
        pairs.emplace_back(w * s.nominal[i], w * s.nominal[i + 1]);
      }
    for (std::size_t j = 0; j < pairs.size(); ++j) {
      double a = 0.0, b = 0.0;
      for (std::size_t k = j; k < pairs.size(); ++k) {
        a += pairs[k].first;
        b += pairs[k].second;
      }
      const double mu = j == 0 ? friction.film_on_load : friction.film_on_film;
      worst = std::max(worst, std::abs(std::log(b / a)) - right_angle * mu);
    }
  }
  return worst;
}

double unstretched_sum(const LoadStack::Slice& s) {
  double sum = 0.0;
  for (std::size_t i = 0; i < s.film.size; ++i) sum += s.weight[i] * s.reference_path[i] / s.reference_stretch[i];
  return sum;
}

/// Elastic energy of spring film, P = E ln l/l so `m E (ln l)^2/2` per section, and of the load, `k u^2/2`; J per m of
/// height.
double energy(const Wrap& wrap, const LoadStack::Slice& s) {
  double sum = 0.0;
  for (std::size_t i = 0; i < s.film.size; ++i)
    sum += s.weight[i] * s.reference_path[i] / s.reference_stretch[i] * 0.5 * modulus *
           std::pow(std::log(s.film.stretch[i]), 2);
  const ClosingCompliance& c = wrap.setup.compliance;
  if (c.length_length > 0.0) sum += 0.5 * s.closing[0] * s.closing[0] / c.length_length;
  if (c.width_width > 0.0) sum += 0.5 * s.closing[1] * s.closing[1] / c.width_width;
  return sum;
}

std::vector<Layer> random_layers(const Wrap& wrap, std::mt19937& random, std::size_t count) {
  std::uniform_real_distribution<double> u(0.0, 1.0);
  std::vector<Layer> layers;
  for (std::size_t i = 0; i < count; ++i)
    layers.push_back({wrap.film(std::exp(0.02 + 0.06 * u(random))), 1e-5 * (u(random) < 0.2 ? 0.05 + u(random) : 1.0)});
  return layers;
}

}  // namespace

TEST_CASE("corner recheck: two faces of linear film end at the root of a quadratic equation", "[corner_recheck]") {
  // P = E (b/m - 1) on either face, r = exp(mu pi/2), M = m_a + m_b: (b_b - m_b) m_a = r (b_a - m_a) m_b.
  const Wrap wrap(hoopfield::testing::elastic_law(modulus));
  const CornerFriction friction{0.2, std::numeric_limits<double>::infinity()};
  CornerRecheck corners(wrap.setup, friction);
  LoadStack stack = wind(wrap, {{wrap.film(1.05), 1e-5}, {wrap.film(1.10), 1e-5}});
  CHECK_FALSE(corners.holds(stack));
  CHECK(corners.slip(stack, test::room, 1.0) > 0.1);
  CHECK(corners.holds(stack));
  const double face_a = wrap.setup.width, face_b = wrap.setup.length, r = std::exp(friction.film_on_load * right_angle);
  const double total = face_a / 1.05 + face_b / 1.10;
  const double a = 1.0 - r, b = face_b - total + r * (face_a + total), c = -r * face_a * total;
  const double root = (-b + std::sqrt(b * b - 4.0 * a * c)) / (2.0 * a);
  const LoadStack::Slice& s = stack.slices()[0];
  CHECK(s.film.stretch[0] == Approx(face_a / root).epsilon(1e-10));
  CHECK(s.film.stretch[1] == Approx(face_b / (total - root)).epsilon(1e-10));
  CHECK(stack.hoop_tension(0, front) == Approx(1e-5 * modulus * (face_a / root - 1.0)).epsilon(1e-8));
  CHECK(stack.hoop_tension(0, right) / stack.hoop_tension(0, front) == Approx(r).epsilon(1e-8));
  CHECK(corners.tension_change(0, front) > 0.0);
  CHECK(corners.tension_change(0, right) < 0.0);
}

TEST_CASE("corner recheck: stuck corners leave everything as it was, to the last bit", "[corner_recheck]") {
  const Wrap wrap(make_film_law(test::spring_film(modulus)), 40e3, 15e3);
  std::mt19937 random(2);
  const std::vector<Layer> layers = random_layers(wrap, random, 13);
  CornerRecheck corners(wrap.setup, {});
  const LoadStack with = wind(wrap, layers, &corners), without = wind(wrap, layers);
  CHECK(with.slices()[0].nominal == without.slices()[0].nominal);
  CHECK(with.slices()[0].reference_stretch == without.slices()[0].reference_stretch);
  CHECK(with.slices()[0].closing == without.slices()[0].closing);
  CHECK(corners.slips() == 0);
}

TEST_CASE("corner recheck: without friction a strand has one tension on all faces of a load that gives",
          "[corner_recheck]") {
  const auto law = make_film_law(test::general_film());
  const Wrap wrap(law, 60e3, 15e3);
  FilmState film;
  advance_controlled(*law, film, 3.3, 2.0, wrap.setup.mode, test::room, 1e-6);
  const std::vector<Layer> layers(16, {film, 1.2e-5});
  SECTION("film slides on film") {
    CornerRecheck corners(wrap.setup, {0.0, 0.0});
    const LoadStack stack = wind(wrap, layers, &corners);
    const auto& nominal = stack.slices()[0].nominal;
    for (const double p : nominal) CHECK(p == Approx(nominal[0]).epsilon(1e-8));
    CHECK(nominal[0] < 0.9 * law->stress(film, wrap.setup.mode, test::room).nominal);  // the load has given
  }
  SECTION("film stuck to film: all layers together") {
    const CornerFriction friction{0.0, std::numeric_limits<double>::infinity()};
    CornerRecheck corners(wrap.setup, friction);
    const LoadStack stack = wind(wrap, layers, &corners);
    // The two corners passed by whole turns only: no cut end on their faces but the first and the last.
    double a[3] = {}, b[3] = {};
    const LoadStack::Slice& s = stack.slices()[0];
    for (std::size_t i = 0; i + 1 < s.film.size; ++i) {
      if (i % 4 == 3) continue;
      a[i % 4] += s.weight[i] * s.nominal[i];
      b[i % 4] += s.weight[i] * s.nominal[i + 1];
    }
    for (int c = 0; c < 3; ++c) CHECK(a[c] == Approx(b[c]).epsilon(1e-8));
    const auto [least, most] = std::minmax_element(s.nominal.begin(), s.nominal.end());
    CHECK(*least < 0.97 * *most);  // layers keep their differences
    CHECK(excess(s, {0.0, 1e9}) < 1e-8);
  }
}

TEST_CASE("corner recheck: film brings its viscous strains, mixed by unstretched length", "[corner_recheck]") {
  const auto law = make_film_law(test::r1());
  const Wrap wrap(law);
  FilmState fast, slow;
  advance_controlled(*law, fast, 1.30, 0.5, wrap.setup.mode, test::room, 1e-7);
  advance_controlled(*law, slow, 1.34, 50.0, wrap.setup.mode, test::room, 1e-7);
  const auto step = [&](FilmState& s, double l) { law->step(s, l, 0.0, wrap.setup.mode, test::room, test::room); };
  step(slow, 1.36);
  LoadStack stack = wind(wrap, {{fast, 1e-5}, {slow, 2e-5}});  // the second covers twice the height of the first
  const LoadStack::Slice before = stack.slices()[0];
  CornerRecheck corners(wrap.setup, {0.0, 0.0});
  corners.slip(stack, test::room, 1.0);
  const LoadStack::Slice& after = stack.slices()[0];
  const auto mass = [](const LoadStack::Slice& s, std::size_t i) {
    return s.reference_path[i] / s.reference_stretch[i];
  };
  const double into_first = mass(after, 0) - mass(before, 0);
  REQUIRE(std::abs(into_first) > 1e-4);
  CHECK(mass(after, 1) - mass(before, 1) == Approx(-0.5 * into_first).epsilon(1e-10));
  const std::size_t to = into_first > 0.0 ? 0 : 1, from = 1 - to;
  const double come = mass(after, to) - mass(before, to);
  for (std::size_t k = 0; k < law->branch_count(); ++k) {
    const auto viscous = [&](const LoadStack::Slice& s, std::size_t i) {
      return std::log(s.film.stretch[i]) - s.film.strain[k * s.film.stride + i];
    };
    CHECK(viscous(after, from) == Approx(viscous(before, from)).epsilon(1e-12));
    const double mixed = (mass(before, to) * viscous(before, to) + come * viscous(before, from)) / mass(after, to);
    CHECK(viscous(after, to) == Approx(mixed).epsilon(1e-12));
  }
}

TEST_CASE("corner recheck: random wraps stay inside the limits, keep their length and give up energy",
          "[corner_recheck]") {
  std::mt19937 random(77);
  std::uniform_real_distribution<double> u(0.0, 1.0);
  std::size_t slipped = 0;
  for (int i = 0; i < 150; ++i) {
    const Wrap wrap(make_film_law(test::spring_film(modulus)), 20e3 + 200e3 * u(random), 20e3 + 200e3 * u(random));
    const CornerFriction friction{0.3 * u(random), i % 2 == 0 ? 1e9 : 0.3 * u(random)};
    const std::vector<Layer> layers = random_layers(wrap, random, 2 + static_cast<std::size_t>(i % 20));
    CornerRecheck corners(wrap.setup, friction);
    LoadStack stack(wrap.setup, {layers.size()});
    for (std::size_t p = 0; p < layers.size(); ++p) {
      stack.lay(0, laid_order[p % face_count], layers[p].film, layers[p].weight, p);
      stack.settle(test::room, 1.0);
      stack.settle(test::room, 1.0);  // energies to the last digit
      const double length = unstretched_sum(stack.slices()[0]), stored = energy(wrap, stack.slices()[0]);
      const double moved = corners.slip(stack, test::room, 1.0);
      CHECK(excess(stack.slices()[0], friction) < 1.1e-5);  // what is let be: a hundredth of the tolerance
      CHECK(unstretched_sum(stack.slices()[0]) == Approx(length).epsilon(1e-12));
      if (!(moved > 1e-4)) continue;
      ++slipped;
      CHECK(excess(stack.slices()[0], friction) < 1e-8);
      CHECK(energy(wrap, stack.slices()[0]) < stored);
      // At rest nothing moves any more.
      const std::vector<double> nominal = stack.slices()[0].nominal;
      CHECK(corners.slip(stack, test::room, 1.0) == 0.0);
      CHECK(stack.slices()[0].nominal == nominal);
    }
  }
  CHECK(slipped > 500);
}

TEST_CASE("corner recheck: slack film on one face is pulled round the corner until it is taut", "[corner_recheck]") {
  const Wrap wrap(make_film_law(test::spring_film(modulus)));
  LoadStack stack = wind(wrap, {{wrap.film(1.001), 1e-5}, {wrap.film(1.08), 1e-5}});
  std::vector<LoadStack::Slice> slices = stack.slices();
  slices[0].reference_stretch[0] *= 0.98;  // two in a hundred more film than the face is long
  stack.restore(slices);
  stack.settle(test::room, 1.0);
  REQUIRE(stack.hoop_tension(0, front) == 0.0);
  CornerRecheck corners(wrap.setup, {0.2, 0.2});
  corners.slip(stack, test::room, 1.0);
  CHECK(stack.hoop_tension(0, right) / stack.hoop_tension(0, front) ==
        Approx(std::exp(0.2 * right_angle)).epsilon(1e-8));
}
