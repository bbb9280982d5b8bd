// SPDX-License-Identifier: BSD-3-Clause
// Check values: convex geometry of a tangent line from a point outlet, computed independently of this code
// (perimeter identity: Cauchy 1841). The table's angle grows counter-clockwise in the frame of the load; the outlet
// here runs clockwise, so the table is read mirrored in y: corner (+,-) of the table is (+,+) here.
#include "sim/winding/take_up.hpp"
#include "models/error.hpp"
#include "sim/base/faces.hpp"
#include "tests/support/catch.hpp"

#include <array>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <numbers>

using namespace hoopfield;

namespace {

constexpr double degree = std::numbers::pi / 180.0;

TakeUpPlan plan(double length, double width, double distance) {
  TakeUpPlan p;
  p.length = length;
  p.width = width;
  p.distance = distance;
  return p;
}

/// Integral of a function of the rotation over one turn, piece by piece between events.
template <typename F>
double over_turn(const TakeUp& take_up, F f) {
  using Quadrature = boost::math::quadrature::gauss_kronrod<double, 15>;
  const auto& events = take_up.events();
  double sum = 0.0;
  for (std::size_t i = 0; i < 4; ++i) {
    const double end = i < 3 ? events[i + 1].angle : events[0].angle + 2.0 * std::numbers::pi;
    sum += Quadrature::integrate(f, events[i].angle, end, 12, 1e-12);
  }
  return sum;
}

double moment(const TakeUp& take_up, int power) {
  return over_turn(take_up, [&](double a) { return std::pow(take_up.lever_arm(a), power); }) / (2.0 * std::numbers::pi);
}

double variation(const TakeUp& take_up) {
  const double mean = moment(take_up, 1);
  return std::sqrt(moment(take_up, 2) - mean * mean) / mean;
}

struct Row {
  double angle, span, arm, relative, normal;
  std::size_t corner;
};

}  // namespace

TEST_CASE("take-up of a 1.2 m x 1.0 m load follows the table", "[take_up]") {
  const TakeUp take_up(plan(1.2, 1.0, 1.5));
  const std::array<Row, 12> table = {{{0, 1.029563, 0.728464, 1.04024, 299.055, 0},
                                      {15, 1.228642, 0.779219, 1.11272, 316.297, 0},
                                      {30, 1.432185, 0.767721, 1.09630, 330.785, 0},
                                      {45, 1.627227, 0.717003, 1.02388, 343.555, 0},
                                      {60, 1.805281, 0.639470, 0.91316, 355.234, 0},
                                      {75, 0.972233, 0.694503, 0.99175, 12.581, 3},
                                      {90, 1.166190, 0.771744, 1.10205, 30.964, 3},
                                      {105, 1.370031, 0.776221, 1.10844, 46.163, 3},
                                      {120, 1.568745, 0.735889, 1.05085, 59.380, 3},
                                      {135, 1.752750, 0.665655, 0.95055, 71.345, 3},
                                      {150, 1.915423, 0.574035, 0.81972, 82.500, 3},
                                      {165, 0.856215, 0.574046, 0.81974, 97.501, 2}}};
  for (const Row& row : table) {
    INFO("angle " << row.angle);
    for (const int half : {0, 1}) {  // period 180 degrees
      const TakeUpPoint p = take_up.at((row.angle + 180.0 * half) * degree);
      CHECK(p.span == Approx(row.span).margin(6e-7));
      CHECK(p.lever_arm == Approx(row.arm).margin(6e-7));
      CHECK(p.lever_arm / (4.4 / (2.0 * std::numbers::pi)) == Approx(row.relative).margin(6e-6));
      CHECK(p.corner == (row.corner + 2 * static_cast<std::size_t>(half)) % 4);
      const double normal = -p.normal_angle / degree - 180.0 * half - row.normal;  // mirrored
      CHECK(std::abs(std::remainder(normal, 360.0)) < 6e-4);
    }
  }
}

TEST_CASE("faces are laid at the known angles and the span drops by the face", "[take_up]") {
  const TakeUp take_up(plan(1.2, 1.0, 1.5));
  const auto& events = take_up.events();
  REQUIRE(events.size() == 4);
  const std::array<double, 4> angles = {66.4218, 160.5288, 246.4218, 340.5288};
  const std::array<std::size_t, 4> faces = {Face::front, Face::right, Face::back, Face::left};
  const std::array<double, 4> before = {1.874773, 2.014214, 1.874773, 2.014214};
  const std::array<double, 4> after = {0.874773, 0.814214, 0.874773, 0.814214};
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(events[i].angle / degree == Approx(angles[i]).margin(6e-5));
    CHECK(events[i].face == faces[i]);
    CHECK(events[i].span_before == Approx(before[i]).margin(6e-7));
    CHECK(events[i].span_after == Approx(after[i]).margin(6e-7));
    CHECK(events[i].span_before - events[i].span_after == Approx(i % 2 == 0 ? 1.0 : 1.2).margin(1e-9));
    // The film line is flush: both corners of the face give the same lever arm, and the next corner's span is the new
    // one.
    const auto near = take_up.at(events[i].angle, corner_after_face(events[i].face));
    const auto far = take_up.at(events[i].angle, corner_before_face(events[i].face));
    CHECK(near.lever_arm == Approx(far.lever_arm).margin(1e-12));
    CHECK(near.span == Approx(events[i].span_after).margin(1e-12));
    CHECK(take_up.contact_corner(events[i].angle + 1e-9) == corner_after_face(events[i].face));
    CHECK(take_up.contact_corner(events[i].angle - 1e-9) == corner_before_face(events[i].face));
  }
  CHECK(events[0].angle == Approx(std::acos(0.4)).margin(1e-12));
  CHECK(events[1].angle == Approx(std::numbers::pi - std::asin(1.0 / 3.0)).margin(1e-12));
}

TEST_CASE("integrals, extremes and variation of take-up", "[take_up]") {
  const TakeUp take_up(plan(1.2, 1.0, 1.5));
  using Quadrature = boost::math::quadrature::gauss_kronrod<double, 15>;
  const auto arm = [&](double a) { return take_up.lever_arm(a); };
  const auto& e = take_up.events();
  CHECK(Quadrature::integrate(arm, e[0].angle, e[1].angle, 12, 1e-12) == Approx(1.139441).margin(6e-7));
  CHECK(Quadrature::integrate(arm, e[1].angle, e[2].angle, 12, 1e-12) == Approx(1.060559).margin(6e-7));
  CHECK((e[1].angle - e[0].angle) / degree == Approx(94.10696).margin(6e-6));
  CHECK((e[2].angle - e[1].angle) / degree == Approx(85.89304).margin(6e-6));
  CHECK(moment(take_up, 1) == Approx(0.700282).margin(6e-7));
  CHECK(moment(take_up, 2) == Approx((1.44 + 1.0) / 8.0 + 1.2 / (2.0 * std::numbers::pi)).margin(1e-10));
  CHECK(variation(take_up) == Approx(0.106779).margin(6e-7));

  double greatest = 0.0;
  for (int i = 0; i < 72000; ++i) greatest = std::max(greatest, arm(i * degree / 200.0));
  CHECK(greatest == Approx(0.781025).margin(6e-7));
  CHECK(arm(e[1].angle) == Approx(0.5).margin(1e-12));
  CHECK(greatest / moment(take_up, 1) == Approx(1.115301).margin(6e-7));
  CHECK(arm(e[1].angle) / moment(take_up, 1) == Approx(0.713998).margin(6e-7));
  CHECK(greatest / arm(e[1].angle) == Approx(1.562050).margin(6e-7));
  for (const double peak : {18.816, 98.427}) {
    CHECK(arm(peak * degree) == Approx(0.781025).margin(6e-7));
    CHECK(take_up.span_length(peak * degree) == Approx(1.280625).margin(2e-5));  // the angle is printed to 0.001 deg
  }
}

TEST_CASE("the lever arm is the rate at which film is taken up", "[take_up]") {
  TakeUpPlan p = plan(1.2, 0.8, 1.3);
  p.offset = 0.17;
  p.axis_offset = -0.06;
  for (const double radius : {0.0, 0.05, 0.3}) {
    p.corner_radius = radius;
    const TakeUp take_up(p);
    for (const FaceEvent& event : take_up.events()) {
      for (const double ahead : {0.1, 0.5, 1.0}) {
        const double a = event.angle + ahead, h = 1e-5;
        const std::size_t corner = corner_after_face(event.face);
        const auto low = take_up.at(a - h, corner), high = take_up.at(a + h, corner), mid = take_up.at(a, corner);
        CHECK(mid.wrap_rate == Approx((low.normal_angle - high.normal_angle) / (2.0 * h)).epsilon(1e-8));
        CHECK((high.span - low.span) / (2.0 * h) + radius * mid.wrap_rate == Approx(mid.lever_arm).epsilon(1e-8));
      }
    }
  }
}

TEST_CASE("no corner sticks out through the film line", "[take_up]") {
  for (const double offset : {-0.3, 0.0, 0.2}) {
    for (const double shift : {-0.2, 0.0, 0.1}) {
      TakeUpPlan p = plan(1.5, 0.5, 1.1);
      p.offset = offset;
      p.axis_offset = shift;
      const TakeUp take_up(p);
      for (int i = 0; i < 1000; ++i) {
        const TakeUpPoint at = take_up.at(i * 0.0213 - 3.0);
        for (const double sx : {-0.75, 0.75}) {
          for (const double sy : {-0.25, 0.25}) {
            const double reach = (shift + sx) * std::cos(at.normal_angle) + sy * std::sin(at.normal_angle);
            REQUIRE(reach <= at.lever_arm + 1e-12);
          }
        }
      }
    }
  }
}

TEST_CASE("film taken up in a turn is the perimeter wherever the outlet stands", "[take_up]") {
  for (const double distance : {1.0, 1.2, 2.0, 5.0}) {
    TakeUpPlan p = plan(1.2, 1.0, distance);
    CHECK(variation(TakeUp(p)) == Approx(0.106779).margin(6e-7));
    CHECK(moment(TakeUp(p), 1) * 2.0 * std::numbers::pi == Approx(4.4).margin(1e-9));
    p.offset = 0.3;
    CHECK(moment(TakeUp(p), 1) * 2.0 * std::numbers::pi == Approx(4.4).margin(1e-9));
    CHECK(variation(TakeUp(p)) == Approx(0.106779).margin(6e-7));
  }
  const TakeUp near(plan(1.2, 1.0, 1.0)), far(plan(1.2, 1.0, 5.0));
  for (const int power : {2, 3, 4, 7}) CHECK(moment(near, power) == Approx(moment(far, power)).epsilon(1e-9));
}

TEST_CASE("other plans: axis offset, square, one to three, round corners", "[take_up]") {
  const auto peak = [](const TakeUp& t) {
    double greatest = 0.0;
    for (int i = 0; i < 72000; ++i) greatest = std::max(greatest, t.lever_arm(i * degree / 200.0));
    return greatest;
  };
  SECTION("load 0.1 m off the axis") {
    TakeUpPlan p = plan(1.2, 1.0, 1.5);
    p.axis_offset = 0.1;
    const TakeUp take_up(p);
    CHECK(peak(take_up) == Approx(0.860233).margin(6e-7));
    CHECK(peak(take_up) / moment(take_up, 1) == Approx(1.228409).margin(1e-6));
    CHECK(moment(take_up, 1) * 2.0 * std::numbers::pi == Approx(4.4).margin(1e-9));
  }
  SECTION("1.2 x 0.8 and 1.219 x 1.016") {
    const TakeUp euro(plan(1.2, 0.8, 1.5)), block(plan(1.219, 1.016, 1.5));
    CHECK(moment(euro, 1) == Approx(0.636620).margin(6e-7));
    CHECK(peak(euro) / moment(euro, 1) == Approx(1.132717).margin(1e-6));
    CHECK(0.4 / moment(euro, 1) == Approx(0.628319).margin(1e-6));
    CHECK(variation(euro) == Approx(0.136071).margin(6e-7));
    CHECK(moment(block, 1) == Approx(0.711423).margin(6e-7));
    CHECK(peak(block) / moment(block, 1) == Approx(1.115293).margin(1e-6));
    CHECK(0.508 / moment(block, 1) == Approx(0.714062).margin(1e-6));
    CHECK(variation(block) == Approx(0.106764).margin(6e-7));
  }
  SECTION("any square repeats every quarter turn") {
    const TakeUp square(plan(0.9, 0.9, 1.4));
    CHECK(moment(square, 1) == Approx(2.0 / std::numbers::pi * 0.9).margin(1e-10));
    CHECK(peak(square) / moment(square, 1) == Approx(1.110721).margin(1e-6));
    CHECK(0.45 / moment(square, 1) == Approx(0.785398).margin(6e-7));
    CHECK(variation(square) == Approx(0.097721).margin(6e-7));
    for (const double a : {0.05, 0.6, 1.2}) {
      CHECK(square.lever_arm(a) == Approx(square.lever_arm(a + 0.5 * std::numbers::pi)).margin(1e-13));
    }
    for (std::size_t i = 1; i < 4; ++i) {
      CHECK(square.events()[i].angle - square.events()[i - 1].angle == Approx(0.5 * std::numbers::pi).margin(1e-12));
    }
  }
  SECTION("one to three") {
    const TakeUp slim(plan(1.5, 0.5, 0.9));
    CHECK(moment(slim, 1) * 2.0 * std::numbers::pi == Approx(4.0).margin(1e-9));
    CHECK(peak(slim) == Approx(std::hypot(0.75, 0.25)).margin(1e-6));
    CHECK(slim.events().size() == 4);
  }
  SECTION("round corners shorten the perimeter, the circle limit takes up evenly") {
    TakeUpPlan p = plan(1.2, 1.0, 1.5);
    p.corner_radius = 0.1;
    const TakeUp round(p);
    CHECK(round.perimeter() == Approx(4.4 - 0.8 + 0.2 * std::numbers::pi).margin(1e-12));
    CHECK(moment(round, 1) * 2.0 * std::numbers::pi == Approx(round.perimeter()).margin(1e-9));
    CHECK(round.events()[0].span_before - round.events()[0].span_after == Approx(0.8).margin(1e-12));
    p = plan(1.0, 1.0, 1.5);
    p.corner_radius = 0.5 - 1e-9;
    CHECK(variation(TakeUp(p)) < 1e-6);
  }
}

TEST_CASE("mean span by quadrature agrees with a fine sum", "[take_up]") {
  const TakeUp take_up(plan(1.2, 1.0, 1.5));
  double sum = 0.0;
  const int n = 360000;
  for (int i = 0; i < n; ++i) sum += take_up.span_length((i + 0.5) * 2.0 * std::numbers::pi / n);
  CHECK(take_up.mean_span() == Approx(sum / n).epsilon(2e-5));
}

TEST_CASE("an outlet inside the sweep of the load is refused and the message says by how much", "[take_up]") {
  CHECK_THROWS_AS(TakeUp(plan(1.2, 1.0, 0.7)), OutOfRange);
  CHECK_THROWS_WITH(TakeUp(plan(1.2, 1.0, 0.7)),
                    ContainsSubstring("reach 0.781 m") && ContainsSubstring("more than 0.08102 m"));
  TakeUpPlan p = plan(1.2, 1.0, 0.85);
  CHECK_NOTHROW(TakeUp(p));
  p.axis_offset = 0.1;  // the far corner now reaches 0.8602
  CHECK_THROWS_AS(TakeUp(p), OutOfRange);
  p.axis_offset = 0.7;
  CHECK_THROWS_WITH(TakeUp(p), ContainsSubstring("axis"));
  p = plan(1.2, 1.0, 1.5);
  p.corner_radius = 0.5;
  CHECK_THROWS_AS(TakeUp(p), OutOfRange);
  CHECK_THROWS_AS(TakeUp(plan(0.0, 1.0, 1.5)), OutOfRange);
  CHECK_THROWS_AS(TakeUp(plan(std::nan(""), 1.0, 1.5)), OutOfRange);
}
