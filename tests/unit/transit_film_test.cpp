// SPDX-License-Identifier: BSD-3-Clause
#include "models/transit/slip_plane.hpp"
#include "sim/transit/transit_stack.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/transit_stacks.hpp"

#include <cmath>
#include <numbers>
#include <string>
#include <vector>

using namespace hoopfield;

namespace {

/// The load of the mesh: film above and below a plane, tension the same throughout.
struct MeshCase {
  std::string name;
  double side = 1.2, tension = 600.0, friction = 0.3, stiffness_ratio = 11.0;
  double above = 0.8, below = 0.8;
  bool top_held = false, locked = false;

  [[nodiscard]] SlipPlane plane() const {
    const double hold = 4.0 * std::numbers::sqrt2 * friction * tension;
    return SlipPlane({side, tension, stiffness_ratio * tension, above, below, hold * above + (top_held ? 1e5 : 0.0),
                      hold * below + (locked ? 1e5 : 0.0), top_held, locked});
  }
};

struct MeshPoint {
  double slip, law, mesh;  // m, N, N
};

}  // namespace

TEST_CASE("transit film: a saturating line and its panel at printed values", "[transit]") {
  // Closed forms with k0 = 23,000 N/m and F_inf = 1,600 N, evaluated by hand.
  CHECK(saturating(23000.0 * 0.01, 1600.0) == Approx(201.093).epsilon(1e-5));
  CHECK(saturating(23000.0 * 0.06, 1600.0) == Approx(740.940).epsilon(1e-5));
  CHECK(saturating(100.0, 0.0) == 0.0);
  const double greatest = 740.940, slack = 0.33 * (0.06 - greatest / 23000.0);
  CHECK(greatest * (0.04 - slack) / (0.06 - slack) == Approx(449.408).epsilon(1e-5));
  CHECK(greatest * (0.01 - slack) / (0.06 - slack) == Approx(12.111).epsilon(1e-4));
}

TEST_CASE("transit film: a panel unloads on a straight line and cannot push", "[transit]") {
  const SlipPlane plane = MeshCase{"base"}.plane();
  SlipPlane::Memory memory{};
  const double loaded = plane.force(0.06, memory);
  CHECK(loaded == Approx(plane.first_loading(0.06)).epsilon(1e-12));
  const double slack = 0.33 * (0.06 - loaded / plane.stiffness());
  for (const double slip : {0.05, 0.04, 0.02})
    CHECK(plane.force(slip, memory) == Approx(loaded * (slip - slack) / (0.06 - slack)).epsilon(1e-12));
  CHECK(plane.force(0.9 * slack, memory) == 0.0);
  CHECK(plane.force(0.06, memory) == Approx(loaded).epsilon(1e-12));
  // The panel of the other sense has seen nothing yet.
  CHECK(plane.force(-0.01, memory) == Approx(-plane.first_loading(0.01)).epsilon(1e-12));
  CHECK(memory[0] == 0.06);
  CHECK(memory[1] == 0.01);
}

TEST_CASE("transit film: unloading follows the mesh from its own force", "[transit]") {
  // An independent membrane mesh unloaded from 60 mm: 550, 478, 332, 183 N at 45, 40, 30, 20 mm, 803 N at 60 mm.
  const double force = 803.0, stiffness = MeshCase{"base"}.plane().stiffness();
  const double slack = 0.33 * (0.06 - force / stiffness);
  const std::vector<std::pair<double, double>> mesh = {{0.045, 550.0}, {0.04, 478.0}, {0.03, 332.0}, {0.02, 183.0}};
  for (const auto& [slip, read] : mesh) CHECK(force * (slip - slack) / (0.06 - slack) == Approx(read).epsilon(0.04));
}

TEST_CASE("transit film: the law against an independent membrane mesh", "[transit]") {
  // Half tube round blocks with 20 mm corners, film that cannot press, EA/N = 11, Coulomb friction everywhere, the
  // upper block pushed: 930 nodes, spread over meshes 3 %. Law and mesh in N as printed with the derivation.
  const std::vector<std::pair<MeshCase, std::vector<MeshPoint>>> cases = {
      {{"base"}, {{0.003, 66, 66}, {0.01, 201, 195}, {0.02, 358, 342}, {0.03, 484, 473}, {0.06, 745, 803}}},
      {{"film ends 0.2 m above", 1.2, 600, 0.3, 11, 0.2},
       {{0.003, 59, 61}, {0.01, 169, 180}, {0.02, 280, 302}, {0.03, 358, 395}, {0.06, 497, 560}}},
      {{"film on the pallet only", 1.2, 600, 0.3, 11, 0.8, 0.1},
       {{0.003, 51, 52}, {0.01, 142, 147}, {0.02, 227, 227}, {0.03, 285, 283}, {0.06, 381, 395}}},
      {{"half the tension", 1.2, 300}, {{0.003, 33, 33}, {0.01, 101, 99}, {0.02, 179, 174}, {0.03, 242, 238}}},
      {{"little friction", 1.2, 600, 0.15}, {{0.03, 431, 429}}},
      {{"much friction", 1.2, 600, 0.6}, {{0.03, 530, 514}}},
      {{"soft film", 1.2, 600, 0.3, 6}, {{0.003, 37, 41}, {0.01, 116, 130}, {0.02, 217, 236}, {0.03, 305, 329}}},
      {{"short side", 0.6}, {{0.01, 160, 167}, {0.02, 281, 292}, {0.03, 376, 401}}},
      {{"a side of 1 m", 1.0}, {{0.01, 190, 190}, {0.02, 337, 333}, {0.03, 454, 456}}}};
  for (const auto& [load, points] : cases) {
    INFO(load.name);
    const SlipPlane plane = load.plane();
    for (const MeshPoint& at : points) {
      INFO(at.slip);
      CHECK(plane.first_loading(at.slip) == Approx(at.law).epsilon(0.012));
      CHECK(plane.first_loading(at.slip) == Approx(at.mesh).epsilon(at.slip > 0.03 ? 0.12 : 0.15));
    }
  }
}

TEST_CASE("transit film: a locked lower edge holds more in the mesh than in the law", "[transit]") {
  // The law neglects what a held edge adds: 15 to 20 % low over 3 to 30 mm, on the safe side.
  MeshCase load{"locked"};
  load.below = 0.1, load.locked = true;
  const std::vector<std::pair<double, double>> mesh = {{0.003, 78.0}, {0.01, 240.0}, {0.02, 433.0}, {0.03, 604.0}};
  for (const auto& [slip, read] : mesh) {
    CHECK(load.plane().first_loading(slip) < read);
    CHECK(load.plane().first_loading(slip) > 0.79 * read);
  }
}

TEST_CASE("transit film: a plane's stiffness and greatest force by their formulas", "[transit]") {
  MeshCase load{"free"};
  load.above = load.below = 0.15;
  const SlipPlane plane = load.plane();
  const double sheet = std::sqrt(6600.0 * 2200.0), pi = std::numbers::pi;
  const double image = std::log(1.0 / std::tanh(std::sqrt(3.0) * pi * 0.15 / 1.2));
  const double step = 1.3 * std::log(1.0 / std::tan(pi * 0.02 / 2.4));
  CHECK(plane.stiffness() == Approx(4.0 / pi * sheet * (step - 2.0 * image)).epsilon(1e-12));
  load.top_held = true;  // a held edge takes nothing away
  CHECK(load.plane().stiffness() == Approx(4.0 / pi * sheet * (step - image)).epsilon(1e-12));
  const double hold = 4.0 * std::numbers::sqrt2 * 0.3 * 600.0 * 0.15;
  CHECK(plane.hold() == Approx(hold).epsilon(1e-12));
  CHECK(plane.greatest_force() == Approx(1.5 * std::sqrt(2.0 * 1.2 * 600.0 * hold)).epsilon(1e-12));
  CHECK(plane.first_loading(1e3) == Approx(plane.greatest_force()).epsilon(1e-3));
  CHECK(plane.clamp(300.0) == Approx(300.0 * 300.0 / (2.0 * 1.2 * 600.0)).epsilon(1e-12));
  CHECK(plane.clamp(1e6) == plane.hold());
}

TEST_CASE("transit film: nothing crosses a plane without film on both sides", "[transit]") {
  for (const SlipPlaneInput& in : {SlipPlaneInput{1.2, 0.0, 0.0, 0.8, 0.8, 1e3, 1e3}, SlipPlaneInput{},
                                   SlipPlaneInput{1.2, 600.0, 6600.0, 0.0, 0.8, 0.0, 1e3},
                                   SlipPlaneInput{1.2, 600.0, 6600.0, 0.8, -0.05, 1e3, 0.0}}) {
    const SlipPlane plane(in);
    SlipPlane::Memory memory{};
    CHECK(plane.force(0.05, memory) == 0.0);
    CHECK(plane.clamp(100.0) == 0.0);
  }
}

TEST_CASE("transit film: a rear edge that lifts is a mixed problem of friction and film", "[transit]") {
  const double stiffness = 6600.0, hold = 4.0 * std::numbers::sqrt2 * 0.3 * 600.0 * 0.8;
  const EdgeLift edge(stiffness, hold, 0.8, 1.2);
  const double greatest = 1.25 * hold / 2.0, sheet = 2.0 / 3.0 * stiffness, reach = 0.8;
  CHECK(sheet == Approx(std::sqrt(stiffness / (1.0 - 0.5 * 0.5) * stiffness / 3.0)).epsilon(1e-12));
  const double tau = 0.5 * greatest / reach;  // of one corner
  for (const double slid : {0.05, 0.2, 0.7}) {
    // u is the jump of w across the slid length, whose slope is (tau/(pi S)) arcosh(l/z) on both sides of the plane.
    const double lift = tau * slid / sheet;
    constexpr int steps = 200000;
    double jump = 0.0, handed = tau * slid;
    for (int i = 0; i < steps; ++i) {
      const double y = (i + 0.5) / steps, z = slid + (reach - slid) * y;
      jump += 2.0 * tau / (std::numbers::pi * sheet) * std::acosh(1.0 / y) * slid / steps;
      handed += tau * 2.0 / std::numbers::pi * std::asin(slid / z) * (reach - slid) / steps;
    }
    CHECK(jump == Approx(lift).epsilon(1e-4));
    CHECK(edge.force(lift) == Approx(2.0 * handed).epsilon(1e-6));
  }
  const double all = greatest / (2.0 * sheet);  // lift at which all film slides
  CHECK(edge.force(0.5 * all) ==
        Approx(greatest * 2.0 / std::numbers::pi * (std::numbers::pi / 6.0 + 0.5 * std::acosh(2.0))).epsilon(1e-12));
  CHECK(edge.force(all) == Approx(greatest).epsilon(1e-12));
  CHECK(edge.force(2.0 * all) == Approx(greatest).epsilon(1e-12));
  CHECK(edge.force(1e-320) >= 0.0);
  CHECK(edge.force(-0.01) == 0.0);
  CHECK(EdgeLift(stiffness, 0.0, 0.0, 1.2).force(0.01) == 0.0);
  // Where panels end sooner than film does, what film beyond the slid length takes ends there.
  const EdgeLift narrow(stiffness, hold, 0.8, 0.6);
  const double end = 2.0 * std::numbers::sqrt2 / std::numbers::pi * 0.6, slid = 0.2;
  CHECK(narrow.reach == Approx(end / 0.8).epsilon(1e-12));
  double handed = tau * slid;
  constexpr int steps = 200000;
  for (int i = 0; i < steps; ++i)
    handed += tau * 2.0 / std::numbers::pi * std::asin(slid / (slid + (end - slid) * (i + 0.5) / steps)) *
              (end - slid) / steps;
  CHECK(narrow.force(tau * slid / sheet) == Approx(2.0 * handed).epsilon(1e-6));
  CHECK(narrow.force(0.8 * all) == Approx(0.8 * greatest).epsilon(1e-12));  // beyond the panels nothing but friction
  CHECK(narrow.force(2.0 * all) == Approx(greatest).epsilon(1e-12));
}

TEST_CASE("transit film: a rear edge that lifts, against the mesh", "[transit]") {
  // tests/consistency/transit_mesh.py --lift, b = 1.2 m: moment about the front edge, N m.
  const double hold = 4.0 * std::numbers::sqrt2 * 0.3 * 600.0;
  const EdgeLift whole(6600.0, hold * 0.8, 0.8, 1.2), short_film(6600.0, hold * 0.2, 0.2, 1.2),
      smooth(6600.0, 0.5 * hold * 0.8, 0.8, 1.2), narrow(6600.0, hold * 0.8, 0.8, 0.6);
  const std::pair<double, double> base[] = {{0.001, 40.5},  {0.002, 66.5},  {0.004, 110.5}, {0.007, 165.7},
                                            {0.01, 213.4},  {0.015, 283.5}, {0.02, 344.1},  {0.03, 448.2},
                                            {0.045, 567.5}, {0.06, 636.2}};
  for (const auto& [lift, moment] : base) CHECK(1.2 * whole.force(lift) == Approx(moment).epsilon(0.1));
  for (const auto& [lift, moment] : {std::pair{0.01, 142.8}, {0.02, 146.8}, {0.03, 150.1}})
    CHECK(1.2 * short_film.force(lift) == Approx(moment).epsilon(0.1));
  for (const auto& [lift, moment] : {std::pair{0.001, 33.1}, {0.01, 169.9}, {0.03, 303.4}})  // mu_c 0.15
    CHECK(1.2 * smooth.force(lift) == Approx(moment).epsilon(0.1));
  for (const auto& [lift, moment] :
       {std::pair{0.001, 19.4}, {0.004, 52.4}, {0.01, 100.7}, {0.02, 163.0}, {0.03, 214.0}})
    CHECK(0.6 * narrow.force(lift) == Approx(moment).epsilon(0.12));
  const EdgeLift tall(6600.0, hold * 1.6, 1.6, 1.0);
  for (const auto& [lift, moment] :
       {std::pair{0.001, 34.2}, {0.004, 93.9}, {0.01, 184.4}, {0.02, 303.7}, {0.03, 403.2}})
    CHECK(1.0 * tall.force(lift) == Approx(moment).epsilon(0.1));
}

TEST_CASE("transit film: what holds film above and below an interface", "[transit]") {
  TransitStack stack = test::eight_tiers(1.0, 600.0, 2000.0);
  stack.top_fold_hold = 50.0;
  const auto laws = interface_laws(stack);
  const double per_height = 4.0 * std::numbers::sqrt2 * 0.3 * 600.0;
  CHECK(laws[0].film.hold() == Approx(per_height * 1.6 + 50.0).epsilon(1e-12));
  CHECK(laws[7].film.hold() == Approx(per_height * 0.2 + 50.0).epsilon(1e-12));
  stack.pallet_lock = 0.0;
  CHECK(interface_laws(stack)[0].film.hold() == Approx(per_height * 0.1).epsilon(1e-12));
  CHECK(interface_laws(stack)[1].film.hold() == Approx(per_height * 0.3).epsilon(1e-12));
}
